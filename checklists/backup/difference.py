"""What putting a backup back would change, as a record."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from msgspec import Struct

from checklists.backup.about import About, days_in


class Difference(Struct, frozen=True):
    """``goes``: files that are here and not in the backup; ``comes``: the other way round; ``other``: not alike."""

    school_here: str
    """Empty where there is none, or where it does not read."""
    days_here: int
    newest_here: date | None
    goes: tuple[str, ...]
    comes: tuple[str, ...]
    other: tuple[str, ...]
    days_that_go: tuple[date, ...]
    """Days told of here of which the backup knows nothing."""
    days_other: tuple[date, ...]
    """Days that the backup tells otherwise."""

    @property
    def is_none(self) -> bool:
        return not (self.goes or self.comes or self.other)


def difference_of(here: Mapping[str, bytes], kept: Mapping[str, bytes], school_here: str) -> Difference:
    """What is different between the files here and those of a backup."""
    days_here, days_kept = days_in(here), days_in(kept)
    other = {name for name in here.keys() & kept.keys() if here[name] != kept[name]}
    days_other = days_in(dict.fromkeys(other | (here.keys() ^ kept.keys()), b"")) & days_here & days_kept
    return Difference(
        school_here,
        len(days_here),
        max(days_here, default=None),
        goes=tuple(sorted(here.keys() - kept.keys())),
        comes=tuple(sorted(kept.keys() - here.keys())),
        other=tuple(sorted(other)),
        days_that_go=tuple(sorted(days_here - days_kept)),
        days_other=tuple(sorted(days_other)),
    )


class Found(Struct, frozen=True):
    """A backup that was looked for and found. ``said`` is why it cannot be used; empty: it can, as far as is known."""

    path: str
    place: str
    about: About | None = None
    said: str = ""
