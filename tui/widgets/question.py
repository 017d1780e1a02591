"""The band on top of a screen: what it is about, and what it asks."""

from __future__ import annotations

from tui.widgets.band import Band


class Question(Band):
    """One or a few rows above a list."""

    DEFAULT_CSS = "Question { padding: 0 1; background: $board; }"
