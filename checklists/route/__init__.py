"""The route: which containers ride when, where she stops at the store, and what is left ahead at a room."""
