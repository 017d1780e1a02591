"""The newest closed day kept ready: the same day as in its file, and never instead of another file."""

from __future__ import annotations

import os
from datetime import date, datetime
from pathlib import Path

import pytest

from checklists.daybook.entries import Packed
from checklists.daybook.state import DayRecord, Progress, State
from checklists.files.daybook_folder import load, write_record
from checklists.files.kept_day import CACHE_FILE, read_kept_day, stamp_of_day

THURSDAY, FRIDAY = date(2026, 10, 8), date(2026, 10, 9)


def close(folder: Path, day: date, sheets: int = 18, *, hours_ago: int = 1) -> DayRecord:
    """A closed day whose file was written some time ago."""
    at = datetime(day.year, day.month, day.day, 15, 20)
    opening = State(on_hand={"white-12x18": 400}, progress={"3-B": Progress("paper-hills", 1)})
    closing = State(
        on_hand={"white-12x18": sheets}, progress={"3-B": Progress("paper-hills", 2)}, lost_days=(THURSDAY,)
    )
    packed = Packed(at=at, line="box-3/white-12x18", count=sheets)
    record = DayRecord(1, day, (packed,), closed_at=at, opening=opening, closing=closing)
    write_record(folder, record)
    path = folder / "daybook" / f"{day}.toml"
    then = path.stat().st_mtime - 3600 * hours_ago
    os.utime(path, (then, then))
    return record


def is_kept(folder: Path, day: date) -> bool:
    stamp = stamp_of_day(folder / "daybook" / f"{day}.toml")
    return stamp is not None and read_kept_day(folder, stamp) is not None


def test_a_kept_day_is_the_day_in_the_file(tmp_path: Path) -> None:
    written = close(tmp_path, FRIDAY)
    assert load(tmp_path, FRIDAY).record == written
    assert is_kept(tmp_path, FRIDAY)
    assert load(tmp_path, FRIDAY).record == written


def test_a_file_changed_by_hand_is_read_anew(tmp_path: Path) -> None:
    close(tmp_path, FRIDAY)
    load(tmp_path, FRIDAY)
    path = tmp_path / "daybook" / f"{FRIDAY}.toml"
    path.write_text(path.read_text().replace("white-12x18 = 18", "white-12x18 = 71"))
    closing = load(tmp_path, FRIDAY).record.closing
    assert closing is not None
    assert closing.on_hand == {"white-12x18": 71}


def test_a_file_changed_within_one_step_of_the_disks_clock_is_read_anew(tmp_path: Path) -> None:
    """It has the same size and the same time then."""
    close(tmp_path, FRIDAY)
    load(tmp_path, FRIDAY)
    path = tmp_path / "daybook" / f"{FRIDAY}.toml"
    state = path.stat()
    path.write_text(path.read_text().replace("white-12x18 = 18", "white-12x18 = 71"))
    os.utime(path, ns=(state.st_atime_ns, state.st_mtime_ns))
    assert not is_kept(tmp_path, FRIDAY)
    closing = load(tmp_path, FRIDAY).record.closing
    assert closing is not None
    assert closing.on_hand == {"white-12x18": 71}


def test_entries_made_after_the_closing_count(tmp_path: Path) -> None:
    from checklists.files.daybook_folder import append

    written = close(tmp_path, FRIDAY)
    load(tmp_path, FRIDAY)
    later = Packed(at=datetime(2026, 10, 9, 16, 0), line="box-3/yarn-ball", count=54)
    append(tmp_path, FRIDAY, later)
    assert is_kept(tmp_path, FRIDAY)
    assert load(tmp_path, FRIDAY).record.entries == (*written.entries, later)


def test_looking_back_at_an_earlier_day_leaves_the_newest_kept(tmp_path: Path) -> None:
    close(tmp_path, THURSDAY)
    close(tmp_path, FRIDAY)
    load(tmp_path, FRIDAY)
    load(tmp_path, THURSDAY)
    assert is_kept(tmp_path, FRIDAY)


def test_a_day_whose_file_is_gone_makes_room(tmp_path: Path) -> None:
    close(tmp_path, THURSDAY)
    close(tmp_path, FRIDAY)
    load(tmp_path, FRIDAY)
    (tmp_path / "daybook" / f"{FRIDAY}.toml").unlink()
    load(tmp_path, THURSDAY)
    assert is_kept(tmp_path, THURSDAY)


def test_an_open_day_is_not_kept(tmp_path: Path) -> None:
    packed = Packed(at=datetime(2026, 10, 9, 7, 40), line="box-3/yarn-ball", count=54)
    write_record(tmp_path, DayRecord(1, FRIDAY, (packed,)))
    load(tmp_path, FRIDAY)
    assert not (tmp_path / CACHE_FILE).exists()


@pytest.mark.parametrize("content", [b"", b"\x00", b"not a cache", b"\x81" * 40])
def test_a_damaged_cache_is_as_good_as_none(tmp_path: Path, content: bytes) -> None:
    written = close(tmp_path, FRIDAY)
    load(tmp_path, FRIDAY)
    (tmp_path / CACHE_FILE).write_bytes(content)
    assert load(tmp_path, FRIDAY).record == written
    assert is_kept(tmp_path, FRIDAY)
