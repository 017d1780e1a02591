"""The daybook: what happened on each day, and what it leaves for the next."""
