"""The newest closed day, kept ready beside its file: every start needs its closing, and reading it as text takes long.

It is a cache like the last good plan: nothing is lost with it, and it counts only for the very file it was made from.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import msgspec
from msgspec import Struct

from checklists.daybook import entries, state
from checklists.daybook.state import DayRecord
from checklists.files.last_good import Stamp, shape_of, stamp_of
from checklists.files.safely import NotSaved, make_folder, replace_file

CACHE_FILE = "cache/closed-day.msgpack"


class _Kept(Struct, frozen=True):
    shape: int
    stamp: Stamp
    record: msgspec.Raw


def stamp_of_day(path: Path) -> Stamp | None:
    """What is in a day's file now; None where there is none. To be taken before it is read."""
    return stamp_of(path, path.name)


def read_kept_day(folder: Path, stamp: Stamp) -> DayRecord | None:
    """The day as it was read from a file with this in it; None where another one is kept. Never raises."""
    kept = _kept(folder)
    if kept is None or kept.stamp != stamp or kept.shape != shape_of(entries, state):
        return None
    try:
        return msgspec.msgpack.decode(kept.record, type=DayRecord)
    except (msgspec.DecodeError, RecursionError):
        return None


def keep_day(folder: Path, stamp: Stamp, record: DayRecord) -> None:
    """Keep a closed day that read without a problem, unless a later one is kept. What cannot be written is left so."""
    kept = _kept(folder)
    if kept is not None and kept.stamp.name > stamp.name and (folder / "daybook" / kept.stamp.name).exists():
        return
    if stamp_of_day(folder / "daybook" / stamp.name) != stamp:  # changed while it was read
        return
    content = msgspec.msgpack.encode(
        _Kept(shape_of(entries, state), stamp, msgspec.Raw(msgspec.msgpack.encode(record)))
    )
    with suppress(NotSaved):
        make_folder((folder / CACHE_FILE).parent)
        replace_file(folder / CACHE_FILE, content, keep_before=False)


def _kept(folder: Path) -> _Kept | None:
    try:
        return msgspec.msgpack.decode((folder / CACHE_FILE).read_bytes(), type=_Kept)
    except (OSError, msgspec.DecodeError, RecursionError):
        return None
