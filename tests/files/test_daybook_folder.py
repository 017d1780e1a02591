"""The daybook through a day, through crashes, and through what happens to files in synced folders."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from contextlib import suppress
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any
from zlib import crc32

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checklists.daybook.entries import AnyEntry, Changed, CountedSharps, LeftStore, NotNeeded, Packed, Reported, Ticked
from checklists.daybook.state import Carried, Case, DayRecord, Owed, Place, Progress, State, Unfinished, Unsure
from checklists.files import daybook_folder as daybook
from checklists.files.safely import NotSaved
from checklists.words import clean

MONDAY = date(2026, 10, 5)


def at(minute: int) -> datetime:
    return datetime(2026, 10, 5, 7, 30) + timedelta(minutes=minute)


def packed(minute: int, count: int = 1) -> Packed:
    return Packed(at=at(minute), line="box-3/yarn-ball", count=count)


def entries(folder: Path) -> tuple[AnyEntry, ...]:
    return daybook.load(folder, MONDAY).record.entries


def day_file(folder: Path) -> Path:
    return folder / "daybook" / "2026-10-05.toml"


def journal(folder: Path) -> Path:
    return folder / "daybook" / "2026-10-05.journal"


def a_day_with(folder: Path, *done: Packed) -> None:
    """A day whose file holds what was done, and no journal."""
    daybook.write_record(folder, DayRecord(format=1, date=MONDAY, entries=done))


# ------------------------------------------------------------------------------------------------- an ordinary day


def test_a_day_nobody_wrote_in_is_empty(tmp_path: Path) -> None:
    read = daybook.load(tmp_path, MONDAY)
    assert read.record == DayRecord(format=1, date=MONDAY)
    assert read.problems == ()
    assert daybook.dates(tmp_path) == ()


def test_what_was_ticked_is_there_after_a_restart(tmp_path: Path) -> None:
    done = (packed(0), Ticked(at=at(1), matter="load kiln"), NotNeeded(at=at(2), line="cart/ink"))
    for each in done:
        daybook.append(tmp_path, MONDAY, each)
    assert entries(tmp_path) == done
    assert daybook.dates(tmp_path) == (MONDAY,)


def test_undo_takes_back_the_newest_entry_that_is_left_across_folds_and_restarts(tmp_path: Path) -> None:
    for minute in range(3):
        daybook.append(tmp_path, MONDAY, packed(minute))
    daybook.append_undo(tmp_path, MONDAY, at(4))
    assert entries(tmp_path) == (packed(0), packed(1))
    daybook.fold(tmp_path, MONDAY, daybook.load(tmp_path, MONDAY).record)
    daybook.append_undo(tmp_path, MONDAY, at(5))
    assert entries(tmp_path) == (packed(0),)
    daybook.append_undo(tmp_path, MONDAY, at(6))
    daybook.append_undo(tmp_path, MONDAY, at(7))
    assert daybook.load(tmp_path, MONDAY).undo_depth == 0


def test_folding_moves_the_journal_into_a_file_that_a_person_can_read(tmp_path: Path) -> None:
    daybook.append(tmp_path, MONDAY, packed(0, 54))
    daybook.fold(tmp_path, MONDAY, daybook.load(tmp_path, MONDAY).record)
    text = day_file(tmp_path).read_text(encoding="utf-8")
    assert text.startswith("# Mon 5 Oct 2026: what was done on this day.")
    assert "count = 54" in text
    assert "2026-10-05 07:30:00" in text
    assert not journal(tmp_path).exists()
    assert entries(tmp_path) == (packed(0, 54),)


def test_folding_a_day_without_a_journal_writes_nothing(tmp_path: Path) -> None:
    daybook.fold(tmp_path, MONDAY, DayRecord(format=1, date=MONDAY))
    assert not day_file(tmp_path).exists()


def test_terminal_codes_in_an_entry_never_reach_the_disk(tmp_path: Path) -> None:
    daybook.append(tmp_path, MONDAY, Ticked(at=at(0), matter="a\x1b[2J\ud800"))
    assert entries(tmp_path) == (Ticked(at=at(0), matter="a\ufffd[2J\ufffd"),)


# ----------------------------------------------------------------------------------------------- any record at all

NAMES = st.text(max_size=12).map(clean)
COUNTS = st.integers(0, 1_000_000)
DAYS = st.dates(date(2026, 8, 1), date(2027, 7, 31))
TIMES = st.datetimes(datetime(2026, 8, 1), datetime(2027, 7, 31))
ENTRIES = st.one_of(
    st.builds(Packed, at=TIMES, line=NAMES, count=COUNTS),
    st.builds(Ticked, at=TIMES, matter=NAMES),
    st.builds(
        Reported,
        at=TIMES,
        visit=NAMES,
        outcome=st.sampled_from(["done", "done except", "not taught", "went further"]),
        reached_part=st.none() | st.integers(1, 40),
        absent=st.lists(st.integers(1, 400), max_size=4).map(tuple),
        students=st.none() | COUNTS,
    ),
    st.builds(CountedSharps, at=TIMES, visit=NAMES, supply=NAMES, out=COUNTS, back=COUNTS),
    st.builds(LeftStore, at=TIMES, open_lines=st.lists(NAMES, max_size=4).map(tuple)),
    st.builds(
        Changed,
        at=TIMES,
        no_school=st.none() | st.booleans(),
        bells=st.none() | NAMES,
        away=st.none() | st.lists(NAMES, max_size=3).map(tuple),
    ),
)
PARTS = st.integers(1, 9)
STATES = st.builds(
    State,
    contents=st.dictionaries(NAMES, st.dictionaries(NAMES, COUNTS, max_size=3), max_size=3),
    places=st.dictionaries(NAMES, st.builds(Place, where=NAMES, since=DAYS), max_size=2),
    progress=st.dictionaries(
        NAMES, st.builds(Progress, lesson=NAMES, part=PARTS, taught_on=st.none() | DAYS), max_size=3
    ),
    unsure=st.dictionaries(
        NAMES,
        st.lists(st.builds(Unsure, date=DAYS, visit=NAMES, lesson=NAMES, part=PARTS), max_size=2).map(tuple),
        max_size=2,
    ),
    owed=st.dictionaries(
        NAMES,
        st.lists(
            st.builds(Owed, lesson=NAMES, part=PARTS, since=DAYS, numbers=st.just((3, 17)), unknown=st.booleans()),
            max_size=2,
        ).map(tuple),
        max_size=2,
    ),
    unfinished=st.dictionaries(
        NAMES,
        st.lists(st.builds(Unfinished, lesson=NAMES, part=PARTS, count=COUNTS, since=DAYS), max_size=2).map(tuple),
        max_size=2,
    ),
    counted=st.dictionaries(NAMES, DAYS, max_size=2),
    levels=st.dictionaries(NAMES, st.sampled_from(["plenty", "low", "out"]), max_size=2),
    carried=st.lists(
        st.builds(Carried, key=NAMES, kind=st.just("short"), what=NAMES, since=DAYS, not_before=st.none() | DAYS),
        max_size=2,
    ).map(tuple),
    cases=st.lists(
        st.builds(
            Case,
            key=NAMES,
            supply=NAMES,
            count=COUNTS,
            date=DAYS,
            room=NAMES,
            period=NAMES,
            school_class=NAMES,
            out=COUNTS,
            back=COUNTS,
        ),
        max_size=2,
    ).map(tuple),
    lost_days=st.lists(DAYS, max_size=2).map(tuple),
    announced=st.dictionaries(NAMES, NAMES, max_size=2),
)
RECORDS = st.builds(
    DayRecord,
    format=st.just(1),
    date=st.just(MONDAY),
    entries=st.lists(ENTRIES, max_size=6).map(tuple),
    closed_at=st.none() | TIMES,
    opening=st.none() | STATES,
    closing=st.none() | STATES,
)
ANY_FOLDER = settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow], deadline=None)


@settings(ANY_FOLDER, max_examples=40)
@given(record=RECORDS)
def test_any_record_comes_back_as_it_was_written(tmp_path: Path, record: DayRecord) -> None:
    daybook.write_record(tmp_path, record)
    read = daybook.load(tmp_path, MONDAY)
    assert read.record == record
    assert read.problems == ()


@ANY_FOLDER
@given(done=st.lists(ENTRIES | st.none(), max_size=12), folds=st.sets(st.integers(0, 12)))
def test_any_day_of_entries_undos_and_folds_is_what_was_done(
    tmp_path_factory: pytest.TempPathFactory, done: list[AnyEntry | None], folds: set[int]
) -> None:
    folder = tmp_path_factory.mktemp("day")
    left: list[AnyEntry] = []
    for number, each in enumerate(done):
        if each is None:
            daybook.append_undo(folder, MONDAY, at(number))
            del left[-1:]
        else:
            daybook.append(folder, MONDAY, each)
            left.append(each)
        if number in folds:
            daybook.fold(folder, MONDAY, daybook.load(folder, MONDAY).record)
        assert entries(folder) == tuple(left)


@ANY_FOLDER
@given(file=st.binary(max_size=80), lines=st.binary(max_size=80))
def test_no_noise_in_either_file_ever_raises(tmp_path: Path, file: bytes, lines: bytes) -> None:
    (tmp_path / "daybook").mkdir(exist_ok=True)
    day_file(tmp_path).write_bytes(file)
    journal(tmp_path).write_bytes(lines)
    assert daybook.load(tmp_path, MONDAY).record.date == MONDAY


# ------------------------------------------------------------------------------------------------------- crashes


def test_a_journal_cut_off_at_any_byte_keeps_every_whole_line_and_says_so(tmp_path: Path) -> None:
    done = tuple(packed(minute, minute) for minute in range(4))
    for each in done:
        daybook.append(tmp_path, MONDAY, each)
    whole = journal(tmp_path).read_bytes()
    ends = [number + 1 for number, sign in enumerate(whole) if sign == ord("\n")]  # the first is of the journal's mark
    for end in range(len(whole) + 1):
        journal(tmp_path).write_bytes(whole[:end])
        # A line is whole once its checksum is there; the line break behind it may be missing.
        kept = sum(1 for each in ends[1:] if end >= each - 1)
        read = daybook.load(tmp_path, MONDAY)
        assert read.record.entries == done[:kept]
        is_cut = end not in {0, *ends, *(each - 1 for each in ends)}
        assert [each.level for each in read.problems] == (["note"] if is_cut else [])
        daybook.append(tmp_path, MONDAY, packed(99))
        assert entries(tmp_path) == (*done[:kept], packed(99))


def test_a_line_altered_in_the_middle_is_left_out_and_the_others_stay(tmp_path: Path) -> None:
    for minute in range(3):
        daybook.append(tmp_path, MONDAY, packed(minute, 5))
    lines = journal(tmp_path).read_bytes().splitlines(keepends=True)
    lines[2] = lines[2].replace(b'"count":5', b'"count":6')
    journal(tmp_path).write_bytes(b"".join(lines))
    read = daybook.load(tmp_path, MONDAY)
    assert read.record.entries == (packed(0, 5), packed(2, 5))
    assert len(read.problems) == 1


class Killed(BaseException):
    """The computer stops here."""


def kill_at(monkeypatch: pytest.MonkeyPatch, count: int, *, before: bool) -> Callable[[], bool]:
    """Let the computer stop at the ``count``-th thing that is asked of the disk, before or after it was done."""
    left = [count]

    def stopping(original: Any) -> Any:
        def step(*given: Any, **named: Any) -> Any:
            left[0] -= 1
            if left[0] < 0 or (left[0] == 0 and before):
                raise Killed
            done = original(*given, **named)
            if left[0] == 0:
                raise Killed
            return done

        return step

    for name in ("write", "fsync", "link"):
        monkeypatch.setattr(os, name, stopping(getattr(os, name)))
    for name in ("replace", "unlink", "rename"):
        monkeypatch.setattr(Path, name, stopping(getattr(Path, name)))
    return lambda: left[0] <= 0


@pytest.mark.parametrize("before", [True, False])
def test_a_crash_at_any_step_of_a_fold_counts_nothing_twice_and_loses_nothing(tmp_path: Path, before: bool) -> None:
    for count in range(1, 100):
        folder = tmp_path / f"{count}"
        a_day_with(folder, packed(0))
        daybook.append(folder, MONDAY, packed(1))
        daybook.append_undo(folder, MONDAY, at(2))
        daybook.append(folder, MONDAY, packed(3))
        record = daybook.load(folder, MONDAY).record
        assert record.entries == (packed(0), packed(3))
        with pytest.MonkeyPatch.context() as patch:
            was_killed = kill_at(patch, count, before=before)
            with suppress(Killed):
                daybook.fold(folder, MONDAY, record)
            is_over = not was_killed()
        assert entries(folder) == (packed(0), packed(3))
        # What is done after the restart counts once as well, before and after the next fold.
        daybook.append_undo(folder, MONDAY, at(4))
        daybook.append(folder, MONDAY, packed(5))
        assert entries(folder) == (packed(0), packed(5))
        daybook.fold(folder, MONDAY, daybook.load(folder, MONDAY).record)
        assert entries(folder) == (packed(0), packed(5))
        if is_over:
            assert count > 5
            return
    pytest.fail("a fold asks a hundred things of the disk")


def test_a_journal_that_comes_back_after_it_was_folded_is_not_counted_again(tmp_path: Path) -> None:
    daybook.append(tmp_path, MONDAY, packed(0))
    old = journal(tmp_path).read_bytes()
    daybook.fold(tmp_path, MONDAY, daybook.load(tmp_path, MONDAY).record)
    journal(tmp_path).write_bytes(old)
    assert entries(tmp_path) == (packed(0),)


def test_a_full_disk_while_folding_leaves_file_and_journal_as_they_were(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    a_day_with(tmp_path, packed(0))
    daybook.append(tmp_path, MONDAY, packed(1))
    record = daybook.load(tmp_path, MONDAY).record

    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(NotSaved, match="the disk is full"):
        daybook.fold(tmp_path, MONDAY, record)
    with pytest.raises(NotSaved, match="the disk is full"):
        daybook.append(tmp_path, MONDAY, packed(2))
    assert entries(tmp_path) == (packed(0), packed(1))


# ------------------------------------------------------------------------------------------------- damaged files


def test_a_damaged_day_opens_with_the_version_before_and_keeps_the_damaged_one(tmp_path: Path) -> None:
    a_day_with(tmp_path, packed(0))
    a_day_with(tmp_path, packed(0), packed(1))
    day_file(tmp_path).write_bytes(b"entries = [ torn")
    read = daybook.load(tmp_path, MONDAY)
    assert read.record.entries == (packed(0),)
    assert str(read.problems[0]).startswith(
        "daybook/2026-10-05.toml: The day's file is damaged; the version before it is used."
    )
    assert read.problems[1].line == 1
    daybook.write_record(tmp_path, read.record)
    assert (tmp_path / "daybook" / "2026-10-05.damaged-1.toml").read_bytes() == b"entries = [ torn"
    assert daybook.load(tmp_path, MONDAY).problems == ()
    assert daybook.dates(tmp_path) == (MONDAY,)


def test_a_damaged_day_without_an_earlier_version_still_has_its_journal(tmp_path: Path) -> None:
    daybook.append(tmp_path, MONDAY, packed(0))
    day_file(tmp_path).write_bytes(b"\x00")
    read = daybook.load(tmp_path, MONDAY)
    assert read.record.entries == (packed(0),)
    assert "there is no earlier version" in read.problems[0].what


def test_a_day_file_that_lost_its_end_says_so(tmp_path: Path) -> None:
    a_day_with(tmp_path, packed(0), packed(1))
    text = day_file(tmp_path).read_bytes()
    day_file(tmp_path).write_bytes(text[: text.index(b"entries")])
    assert [each.what for each in daybook.load(tmp_path, MONDAY).problems] == ["The end of the file is missing."]


def test_a_day_corrected_by_hand_is_read_as_it_stands(tmp_path: Path) -> None:
    a_day_with(tmp_path, packed(0, 54))
    text = day_file(tmp_path).read_text(encoding="utf-8")
    day_file(tmp_path).write_text(text.replace("count = 54", "count = 53"), encoding="utf-8")
    assert entries(tmp_path) == (packed(0, 53),)
    daybook.append(tmp_path, MONDAY, packed(1))
    daybook.fold(tmp_path, MONDAY, daybook.load(tmp_path, MONDAY).record)
    assert entries(tmp_path) == (packed(0, 53), packed(1))
    assert not list((tmp_path / "daybook").glob("*damaged*"))


def test_a_day_under_a_wrong_name_is_not_taken_for_another_day(tmp_path: Path) -> None:
    a_day_with(tmp_path, packed(0))
    day_file(tmp_path).rename(day_file(tmp_path).with_name("2026-10-06.toml"))
    read = daybook.load(tmp_path, date(2026, 10, 6))
    assert read.record.entries == ()
    assert any("It says that it is the record of 2026-10-05." in each.what for each in read.problems)


def test_a_day_of_a_newer_format_can_be_looked_at_and_is_never_overwritten(tmp_path: Path) -> None:
    a_day_with(tmp_path, packed(0))
    text = day_file(tmp_path).read_text(encoding="utf-8").replace("format = 1", 'format = 2\nmood = "good"')
    day_file(tmp_path).write_text(text, encoding="utf-8")
    read = daybook.load(tmp_path, MONDAY)
    assert read.newer_format
    assert read.record.entries == (packed(0),)
    assert {each.level for each in read.problems} == {"note"}
    with pytest.raises(NotSaved, match="newer version"):
        daybook.write_record(tmp_path, read.record)
    assert day_file(tmp_path).read_text(encoding="utf-8") == text


def test_a_line_from_a_newer_version_is_told_and_kept_aside(tmp_path: Path) -> None:
    daybook.append(tmp_path, MONDAY, packed(0))
    line = b'{"did":"sang","at":"2026-10-05T08:00:00"}'
    with journal(tmp_path).open("ab") as file:
        file.write(line + b" #%08x\n" % crc32(line))
    read = daybook.load(tmp_path, MONDAY)
    assert read.record.entries == (packed(0),)
    assert read.problems[0].what == "1 line is from another version of Trundle and was left out."
    daybook.fold(tmp_path, MONDAY, read.record)
    assert line in (tmp_path / "daybook" / "2026-10-05.damaged-1.journal").read_bytes()


def test_a_second_version_of_a_day_from_a_synced_folder_is_noted_and_not_used(tmp_path: Path) -> None:
    a_day_with(tmp_path, packed(0))
    day_file(tmp_path).with_name("2026-10-05 (conflicted copy).toml").write_bytes(day_file(tmp_path).read_bytes())
    (tmp_path / "daybook" / "notes.toml").write_bytes(b"")
    (tmp_path / "daybook" / "2026-99-99.toml").write_bytes(b"")
    read = daybook.load(tmp_path, MONDAY)
    assert read.record.entries == (packed(0),)
    assert [(each.file, each.level) for each in read.problems] == [
        ("daybook/2026-10-05 (conflicted copy).toml", "note")
    ]
    assert daybook.dates(tmp_path) == (MONDAY,)


def test_bookkeeping_of_the_journal_is_never_given_out(tmp_path: Path) -> None:
    daybook.append(tmp_path, MONDAY, packed(0))
    daybook.fold(tmp_path, MONDAY, daybook.load(tmp_path, MONDAY).record)
    assert b"[folded]" in day_file(tmp_path).read_bytes()
    assert daybook.load(tmp_path, MONDAY).record.folded is None
    assert msgspec.structs.asdict(daybook.load(tmp_path, MONDAY).record)["entries"] == (packed(0),)


def test_an_emptied_day_file_never_takes_the_place_of_the_version_before(tmp_path: Path) -> None:
    a_day_with(tmp_path, packed(0))
    a_day_with(tmp_path, packed(0), packed(1))
    day_file(tmp_path).write_bytes(b"")
    read = daybook.load(tmp_path, MONDAY)
    assert read.record.entries == (packed(0),)
    daybook.write_record(tmp_path, read.record)
    assert entries(tmp_path) == (packed(0),)
    assert (tmp_path / "daybook" / "2026-10-05.toml.before").read_bytes()


def test_a_journal_that_the_disk_does_not_give_is_told_and_never_written_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    a_day_with(tmp_path, packed(0))
    daybook.append(tmp_path, MONDAY, packed(1))
    original = Path.read_bytes

    def refuse(path: Path) -> bytes:
        if path.suffix == ".journal":
            raise OSError(errno.EIO, "Input/output error")
        return original(path)

    monkeypatch.setattr(Path, "read_bytes", refuse)
    read = daybook.load(tmp_path, MONDAY)
    assert read.record.entries == (packed(0),)
    assert [each.level for each in read.problems] == ["grave"]
    with pytest.raises(NotSaved):
        daybook.fold(tmp_path, MONDAY, read.record)
    monkeypatch.undo()
    assert entries(tmp_path) == (packed(0), packed(1))
