"""Second versions of a day on the disk: read where they can be, told in words where not, never deleted."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from checklists.daybook.entries import Packed
from checklists.daybook.state import DayRecord
from checklists.files import daybook_folder as daybook
from checklists.files.copied_days import copies_of, days_with_copies
from checklists.files.second_versions import Version, keep_unmerged, read_versions, set_merged_aside
from tests.days import at
from tests.schools import MONDAY

TUESDAY = date(2026, 10, 6)


def packed(minute: int, count: int = 1) -> Packed:
    return Packed(at=at(f"7:{minute}"), line=f"box-3/{minute}", count=count)


def a_version(folder: Path, *said: Packed, name: str = "2026-10-05 (conflicted copy).toml", on: date = MONDAY) -> Path:
    (folder / "daybook").mkdir(exist_ok=True)
    path = folder / "daybook" / name
    path.write_bytes(daybook.as_toml(DayRecord(format=1, date=on, entries=said)))
    return path


def the_one(folder: Path, own: DayRecord | None = None) -> Version:
    [version] = read_versions(folder, own or daybook.load(folder, MONDAY).record)
    return version


@pytest.mark.parametrize(
    "name",
    [
        "2026-10-05 (conflicted copy).toml",
        "2026-10-05 (1).toml",
        "2026-10-05.sync-conflict-20261005-1.journal",
        "2026-10-05-LAPTOP.toml",
        "2026-10-05 copy.journal",
    ],
)
def test_whatever_a_sync_program_calls_it_it_is_a_second_version(name: str, tmp_path: Path) -> None:
    (tmp_path / "daybook").mkdir()
    (tmp_path / "daybook" / name).write_bytes(b"")
    assert copies_of(tmp_path, MONDAY) == (name,)
    assert days_with_copies(tmp_path) == (MONDAY,)


@pytest.mark.parametrize(
    "name",
    [
        "2026-10-05.toml",
        "2026-10-05.journal",
        "2026-10-05.toml.before",
        "2026-10-05.damaged-1.toml",
        "2026-10-05 (1).toml.merged-1",
        "2026-10-05.toml.before-merge-1",
        "2026-99-05 (1).toml",
        "notes 2026-10-05.toml",
    ],
)
def test_what_is_the_days_own_or_set_aside_is_none(name: str, tmp_path: Path) -> None:
    (tmp_path / "daybook").mkdir()
    (tmp_path / "daybook" / name).write_bytes(b"")
    assert days_with_copies(tmp_path) == ()


def test_a_day_file_is_read_with_what_it_says(tmp_path: Path) -> None:
    a_version(tmp_path, packed(41), packed(42))
    version = the_one(tmp_path)
    assert version.record is not None
    assert version.record.entries == (packed(41), packed(42))
    assert version.problems == ()


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-40])


def make_garbage(path: Path) -> None:
    path.write_bytes(b"\x00\x01 what is this\n[[")


def make_newer(path: Path) -> None:
    path.write_bytes(path.read_bytes().replace(b"format = 1", b"format = 2"))


def make_huge(path: Path) -> None:
    path.write_bytes(path.read_bytes() + b"# more\n" * 400_000)


def of_another_date(path: Path) -> None:
    path.write_bytes(daybook.as_toml(DayRecord(format=1, date=TUESDAY, entries=(packed(41),))))


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (cut_short, "Its end is missing"),
        (make_garbage, "It is not a text file."),
        (make_newer, "A newer version of Trundle wrote"),
        (make_huge, "larger than 2 MB"),
        (of_another_date, "It says that it is the record of 2026-10-06."),
    ],
)
def test_what_cannot_be_merged_says_why(spoil: Callable[[Path], None], said: str, tmp_path: Path) -> None:
    path = a_version(tmp_path, packed(41))
    spoil(path)
    version = the_one(tmp_path)
    assert version.record is None
    assert said in " ".join(str(each) for each in version.problems)
    assert all(each.level == "note" or each.to_do for each in version.problems)


def a_journal(folder: Path, *said: Packed, name: str = "2026-10-05 (conflicted copy).journal") -> Path:
    """What another computer would have left: a journal of its own, written there and copied here."""
    elsewhere = folder / "elsewhere"
    daybook.append(elsewhere, MONDAY, *said)
    (folder / "daybook").mkdir(exist_ok=True)
    return (elsewhere / "daybook" / "2026-10-05.journal").rename(folder / "daybook" / name)


def test_a_journal_alone_stands_on_what_the_day_had_when_it_was_begun(tmp_path: Path) -> None:
    daybook.append(tmp_path, MONDAY, packed(30))
    daybook.append(tmp_path, MONDAY, packed(50))
    a_journal(tmp_path, packed(41))
    version = the_one(tmp_path)
    assert version.record is not None
    assert version.record.entries == (packed(30), packed(41))


def test_a_journal_with_its_file_counts_what_the_file_holds_only_once(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    daybook.append(elsewhere, MONDAY, packed(41))
    journal = (elsewhere / "daybook" / "2026-10-05.journal").read_bytes()
    daybook.fold(elsewhere, MONDAY, daybook.load(elsewhere, MONDAY).record)
    (tmp_path / "daybook").mkdir()
    for name, content in (
        ("2026-10-05 (1).journal", journal),
        ("2026-10-05 (1).toml", (elsewhere / "daybook" / "2026-10-05.toml").read_bytes()),
    ):
        (tmp_path / "daybook" / name).write_bytes(content)
    version = the_one(tmp_path)
    assert version.record is not None
    assert version.record.entries == (packed(41),)
    assert version.names == ("2026-10-05 (1).toml", "2026-10-05 (1).journal")


def test_a_cut_off_line_of_a_journal_is_told_and_the_rest_is_read(tmp_path: Path) -> None:
    path = a_journal(tmp_path, packed(41), packed(42))
    path.write_bytes(path.read_bytes()[:-5])
    version = the_one(tmp_path)
    assert version.record is not None
    assert version.record.entries == (packed(41),)
    assert "1 line of it cannot be read and is not merged." in str(version.problems[0])


def test_a_journal_of_a_newer_version_or_of_nothing_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "daybook" / "2026-10-05 (1).journal"
    path.parent.mkdir()
    path.write_bytes(b"garbage\n")
    assert the_one(tmp_path).record is None


def test_what_is_set_aside_is_renamed_and_never_overwrites(tmp_path: Path) -> None:
    for count, ending in ((1, "merged-1"), (2, "merged-2")):
        path = a_version(tmp_path, packed(41, count))
        content = path.read_bytes()
        assert set_merged_aside(tmp_path, the_one(tmp_path)) == (f"{path.name}.{ending}",)
        assert path.with_name(f"{path.name}.{ending}").read_bytes() == content
    assert days_with_copies(tmp_path) == ()


def test_the_day_as_it_was_is_kept_once(tmp_path: Path) -> None:
    (tmp_path / "daybook").mkdir()
    own = DayRecord(format=1, date=MONDAY, entries=(packed(41),))
    assert keep_unmerged(tmp_path, own) == keep_unmerged(tmp_path, own) == "2026-10-05.toml.before-merge-1"
    other = DayRecord(format=1, date=MONDAY, entries=(packed(42),))
    assert keep_unmerged(tmp_path, other) == "2026-10-05.toml.before-merge-2"
