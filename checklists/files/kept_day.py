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
from checklists.files.last_good import TOO_FRESH_NS, Stamp, shape_of
from checklists.files.safely import NotSaved, make_folder, replace_file

CACHE_FILE = "cache/closed-day.msgpack"


class _Kept(Struct, frozen=True):
    shape: int
    stamp: Stamp
    record: msgspec.Raw


def stamp_of_day(path: Path) -> Stamp | None:
    """How a day's file looks now; None where it cannot be looked at. To be taken before it is read."""
    try:
        state = path.stat()
    except OSError:
        return None
    return Stamp(path.name, state.st_size, state.st_mtime_ns)


def read_kept_day(folder: Path, stamp: Stamp) -> DayRecord | None:
    """The day as it was read from the file that looked so; None where another one is kept. Never raises."""
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
    content = msgspec.msgpack.encode(
        _Kept(shape_of(entries, state), stamp, msgspec.Raw(msgspec.msgpack.encode(record)))
    )
    with suppress(NotSaved):
        make_folder((folder / CACHE_FILE).parent)
        replace_file(folder / CACHE_FILE, content, keep_before=False)


def _kept(folder: Path) -> _Kept | None:
    path = folder / CACHE_FILE
    try:
        written_ns = path.stat().st_mtime_ns
        kept = msgspec.msgpack.decode(path.read_bytes(), type=_Kept)
    except (OSError, msgspec.DecodeError, RecursionError):
        return None
    return kept if written_ns - kept.stamp.mtime_ns > TOO_FRESH_NS else None
