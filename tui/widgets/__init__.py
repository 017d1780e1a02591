"""One widget a file; each draws what it is given and says upward what was done to it."""
