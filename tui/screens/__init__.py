"""One screen a file; each answers one question."""
