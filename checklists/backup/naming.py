"""What a backup is called: the same on every computer, and to be told from others by its name alone."""

from __future__ import annotations

import re
import unicodedata
from datetime import date

LONGEST = 40
BEGINS = "trundle-"


def backup_name(school: str, day: date, number: int = 1) -> str:
    """ "trundle-applewick-elementary-2026-10-05", the second one of a day with "-2" behind it. Without an ending.

    Only small letters, digits and hyphens, so that any disk takes it.
    """
    plain = unicodedata.normalize("NFKD", school).encode("ascii", "ignore").decode().casefold()
    words = re.sub(r"[^a-z0-9]+", "-", plain)[:LONGEST].strip("-") or "school"
    return f"{BEGINS}{words}-{day.isoformat()}" + (f"-{number}" if number > 1 else "")
