"""Short forms the screens share."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from checklists.lines.records import Visit


def minute_of_day(moment: datetime) -> int:
    """Minutes since midnight."""
    return moment.hour * 60 + moment.minute


def visits_text(visits: Iterable[Visit]) -> str:
    """ "V1 V3-V5": runs of three and more are drawn together."""
    numbers = sorted(visit.number for visit in visits)
    said: list[str] = []
    while numbers:
        run = 1
        while run < len(numbers) and numbers[run] == numbers[0] + run:
            run += 1
        said.extend([f"V{numbers[0]}-V{numbers[run - 1]}"] if run >= 3 else [f"V{number}" for number in numbers[:run]])
        numbers = numbers[run:]
    return " ".join(said)


def sentence(words: str) -> str:
    """With a capital in front and a full stop behind."""
    return f"{words[:1].upper()}{words[1:]}."
