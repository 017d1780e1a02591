"""A time of day as people type it: "8:05", "805", "8.05", "8", "1:15 pm"."""

from __future__ import annotations

import re

_TIME = re.compile(r"(\d{1,2})(?:[:.h ]?([0-5]\d))?\s*([ap])?\.?(?:m\.?)?", re.IGNORECASE)
EARLIEST = 6 * 60
"""Nobody is at school before six in the morning; common practice, no source."""


def minute_typed(text: str, earliest: int = EARLIEST) -> int | None:
    """Minutes since midnight; None where that is no time of day.

    An hour before ``earliest`` is one of the afternoon, unless a or p behind it, or a zero before it, says otherwise.
    """
    found = _TIME.fullmatch(text.strip())
    if found is None:
        return None
    hour, minute, half = int(found[1]), int(found[2] or 0), (found[3] or "").casefold()
    if half and 1 <= hour <= 12:
        hour = hour % 12 + (12 if half == "p" else 0)
    elif hour > 23 or (half == "a" and hour > 12):
        return None
    elif not half and hour * 60 + minute < earliest and not found[1].startswith("0"):
        hour += 12
    return hour * 60 + minute
