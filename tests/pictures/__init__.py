"""Pictures of the screens, for the README and for people to look at."""
