"""The plan: what she teaches, to whom, when, with what."""
