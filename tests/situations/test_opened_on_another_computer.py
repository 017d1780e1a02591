"""The folder as it is after a stick, a synced folder, another system or another editor had it: it opens as it was."""

from __future__ import annotations

import os
import socket
import sys
import unicodedata
from contextlib import suppress
from pathlib import Path
from shutil import copytree
from tempfile import TemporaryDirectory

import pytest
from msgspec import structs

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.files import daybook_folder
from checklists.files.backup_contents import FOLDERS, contents_of
from checklists.files.last_good import CACHE_FILE
from checklists.files.lock import LOCK_FILE, take_lock, this_computer
from checklists.files.plan_folder import read_plan
from checklists.plan.file_names import told_of_name, why_not_everywhere
from checklists.plan.next_year import A_YEAR
from checklists.rules.records import SwitchedOff
from checklists.sheets import keep_sheet, sheet_of
from tests.commandline.running import in_a_process, trundle
from tests.days import THURSDAY, at, close, opened, packed, teach
from tests.schools import MONDAY, a_lesson, a_part, an_item, in_the_evening, small_school, write_toml

SOMEBODY = 4_000
"""A user that has no files."""


def lived_in(folder: Path) -> Path:
    """The small school with a day that was closed, one that is only in a journal, and everything else that is kept."""
    in_the_evening(small_school(folder), contents={"cart": {"scissors": 30}})
    with opened(folder) as book:
        teach(book, MONDAY, "3-B")
        close(book)
        book.switch_off(SwitchedOff(rule="blunt-needles", reason="no needles here"))
        plan = book.plan_files
        book.change_files(structs.replace(plan, kits=plan.kits), "nothing at all", at())
        lesson = structs.replace(plan.lessons[0], title="Paper Hills, again")
        book.change_files(structs.replace(plan, lessons=(lesson, *plan.lessons[1:])), "a lesson's title", at())
        keep_sheet(book, sheet_of(book, THURSDAY, at(day=THURSDAY)))
        book.do(THURSDAY, Changed(at=at("7:41", THURSDAY), fill="week"))
        book.only_look("as after a crash")
    return folder


@pytest.fixture(scope="module")
def one_lived_in(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return lived_in(tmp_path_factory.mktemp("here") / "school")


@pytest.fixture
def school(one_lived_in: Path, tmp_path: Path) -> Path:
    """A copy of it, times and all."""
    return copytree(one_lived_in, tmp_path / "school")


def told(folder: Path) -> tuple[object, ...]:
    """What the folder says: the plan, the rules, both days, and how things stand."""
    with Book.open(folder, write=False, today=THURSDAY) as book:
        notes = [each for each in book.problems if each.level == "grave"]
        days = [daybook_folder.load(folder, day).record.entries for day in (MONDAY, THURSDAY)]
        return book.plan, book.own_rules, days, book.opening(THURSDAY), notes


# ----------------------------------------------------------------------------------------------- what is written


def test_no_file_that_is_written_names_a_place_of_this_computer(school: Path, one_lived_in: Path) -> None:
    trundle("backup", "--to", str(school.parent), data=school)
    written = [path for path in school.parent.rglob("*") if path.is_file()]
    assert len(written) > 12
    for path in written:
        for place in (school, one_lived_in, Path.home(), Path(sys.prefix)):
            assert os.fsencode(place) not in path.read_bytes(), path


def test_everything_kept_in_the_folder_is_in_a_backup_or_can_be_made_again(school: Path) -> None:
    """A folder that is new here must be put into one of the two."""
    with opened(school, THURSDAY) as book:
        school_now, classes = book.plan_files.school, book.plan_files.classes
        later = {"first_day": school_now.first_day + A_YEAR, "last_day": school_now.last_day + A_YEAR}
        book.begin_year(structs.replace(school_now, days_off=(), **later), classes)
    tops = {path.relative_to(school).parts[0] for path in school.rglob("*") if path.is_file()}
    plan_files = {each for each in tops if each.endswith((".toml", ".toml.before"))}
    assert tops - plan_files <= {*FOLDERS, "cache", "backups"}
    kept = contents_of(school)
    left_out = {each.relative_to(school).as_posix() for each in school.rglob("*") if each.is_file()} - kept.keys()
    assert left_out <= {LOCK_FILE, CACHE_FILE, "cache/closed-day.msgpack"}
    assert {name.partition("/")[0] for name in kept} >= {*FOLDERS, "rules.toml"}


def test_every_name_that_is_written_is_taken_by_every_system(school: Path) -> None:
    for path in school.rglob("*"):
        assert why_not_everywhere(path.name.lstrip(".")) == "", path


# ----------------------------------------------------------------------------------------- what happens on the way


def with_other_line_ends(content: bytes) -> bytes:
    return content.replace(b"\n", b"\r\n")


def with_a_mark_in_front(content: bytes) -> bytes:
    return b"\xef\xbb\xbf" + with_other_line_ends(content)


@pytest.mark.parametrize("change", [with_other_line_ends, with_a_mark_in_front])
def test_other_line_ends_and_a_mark_in_front_make_no_difference(change: object, school: Path) -> None:
    """As an editor on Windows saves, or a program that keeps versions checks out."""
    assert callable(change)
    before = told(school)
    for path in school.rglob("*"):
        if path.suffix in (".toml", ".journal") and (path.suffix == ".toml" or change is with_other_line_ends):
            path.write_bytes(change(path.read_bytes()))
    assert told(school) == before
    with opened(school, THURSDAY) as book:
        book.do(THURSDAY, packed(book.day(THURSDAY).lines[0], day=THURSDAY))
        assert book.take_files_back() == "a lesson's title"
    with opened(school, THURSDAY) as book:
        assert book.marks(THURSDAY).lines
        assert not [each for each in book.problems if each.level == "grave"]


def test_a_journal_left_behind_by_a_crash_counts_once_whatever_its_line_ends_are(school: Path) -> None:
    """The day's file holds it already: the computer stopped before it was taken away."""
    journal = school / "daybook" / f"{THURSDAY}.journal"
    left = journal.read_bytes()
    with opened(school, THURSDAY):
        pass
    journal.write_bytes(with_other_line_ends(left))
    assert len(daybook_folder.load(school, THURSDAY).record.entries) == 1


def test_names_taken_apart_by_a_disk_are_the_same_names(school: Path) -> None:
    """macOS takes letters and accents apart in names of files; what stands in the files stays as it was typed."""
    lesson = a_lesson("pâte-à-sel", [a_part("model", [an_item("white-12x18")])])
    apart = unicodedata.normalize("NFD", "pâte-à-sel.toml")
    assert apart != "pâte-à-sel.toml"
    write_toml(school / "lessons" / apart, lesson)
    with opened(school, THURSDAY) as book:
        assert not [each for each in book.problems if each.level == "grave"]
        files = book.plan_files
        changed = tuple(structs.replace(each, title="Salt Dough") for each in files.lessons if each.id == "pâte-à-sel")
        others = tuple(each for each in files.lessons if each.id != "pâte-à-sel")
        ordered = tuple(sorted((*others, *changed), key=lambda each: each.id))
        book.change_files(structs.replace(files, lessons=ordered), "its title", at())
        assert book.plan.lesson_by_id["pâte-à-sel"].title == "Salt Dough"
        assert len(list((school / "lessons").glob("p*sel.toml"))) == 1
        book.take_files_back()
        assert book.plan.lesson_by_id["pâte-à-sel"].title != "Salt Dough"


def test_a_lesson_that_cannot_be_taken_along_is_noted_and_used(school: Path) -> None:
    for ident in ("con", "Paper-Hills", "a:b", "com1.clay"):
        write_toml(school / "lessons" / f"{ident}.toml", a_lesson(ident, [a_part("one", [an_item("white-12x18")])]))
    read = read_plan(school)
    assert read.plan is not None
    assert {"con", "Paper-Hills", "a:b", "com1.clay"} <= read.plan.lesson_by_id.keys()
    notes = {each.file: each.what for each in read.problems if each.file.startswith("lessons/")}
    assert notes.keys() == {f"lessons/{each}.toml" for each in ("con", "a:b", "com1.clay", "paper-hills")}
    assert "Windows keeps this name for itself" in notes["lessons/con.toml"]
    assert "Paper-Hills are one file" in notes["lessons/paper-hills.toml"]


@pytest.mark.parametrize("stem", ["CON", "nul.x", "lpt9", "a?b", " a", "a ", ".a", "a\tb", "x" * 201, "ü" * 101])
def test_names_that_one_system_or_another_does_not_take(stem: str) -> None:
    assert why_not_everywhere(stem)
    assert told_of_name(f"lessons/{stem}.toml", {stem})


@pytest.mark.parametrize("stem", ["burlap-birds", "console", "com10", "a.b", "pâte-à-sel", "x" * 200])
def test_names_that_every_system_takes(stem: str) -> None:
    assert not told_of_name(f"lessons/{stem}.toml", {stem, "other"})


@pytest.mark.parametrize("when", [0, 1_000_000_000, 4_000_000_000])
def test_times_of_files_that_a_copy_changes_make_no_difference(when: int, school: Path) -> None:
    """All alike, long ago or in the future, the cache as well: it counts for what is in the files."""
    told(school)
    path = school / "classes.toml"
    changed = path.read_bytes().replace(b"students = 24", b"students = 25")
    assert changed != path.read_bytes()
    path.write_bytes(changed)
    for each in school.rglob("*"):
        os.utime(each, (when, when))
    with Book.open(school, write=False, today=THURSDAY) as book:
        assert book.plan.class_by_id["3-B"].students == 25


def test_permissions_that_got_lost_make_no_difference(school: Path) -> None:
    before = told(school)
    for each in school.rglob("*"):
        each.chmod(0o777 if each.is_dir() else 0o644)
    assert told(school) == before
    with opened(school, THURSDAY) as book:
        book.do(THURSDAY, packed(book.day(THURSDAY).lines[0], day=THURSDAY))


def test_a_stick_that_can_only_be_read_opens_for_reading_and_says_so(school: Path) -> None:
    """As somebody opens it who may write nowhere there."""

    def look(folder: Path) -> str:
        with Book.open(folder, today=THURSDAY) as book:
            assert [each.class_id for each in book.day(THURSDAY).visits] == ["3-B"]
            return book.why_read_only

    with TemporaryDirectory() as place:
        stick = copytree(school, Path(place) / "stick")
        assert look(school) == ""
        for each in (stick.parent, stick, *stick.rglob("*")):
            each.chmod(0o555 if each.is_dir() else 0o444)
        child = os.fork()
        if child == 0:
            with suppress(PermissionError):  # the system's own administrator may write anywhere
                os.setuid(SOMEBODY)
            is_said = look(stick) == "This folder can only be read: nothing can be saved in it."
            os._exit(0 if is_said else 1)
        _, status = os.waitpid(child, 0)
        for each in (stick.parent, stick, *stick.rglob("*")):
            each.chmod(0o755)
    assert os.waitstatus_to_exitcode(status) == 0


# --------------------------------------------------------------------------------------------- two computers at once


def test_a_window_open_on_another_computer_is_told_and_keeps_nobody_from_working(school: Path) -> None:
    """The lock of another system does not reach here through a synced folder; the file in which it is named does."""
    (school / LOCK_FILE).write_text("4711\nart-room-laptop\n")
    with opened(school, THURSDAY) as book:
        (note,) = (each for each in book.problems if each.file == LOCK_FILE)
        assert "art-room-laptop" in note.what
        assert note.level == "note"
        assert (school / LOCK_FILE).read_text() == f"{os.getpid()}\n{this_computer()}\n"
        assert this_computer() in socket.gethostname()
    with opened(school, THURSDAY) as book:
        assert not [each for each in book.problems if each.file == LOCK_FILE]


def test_closed_properly_there_nothing_is_said_here(school: Path) -> None:
    (take_lock(school) or pytest.fail("nobody has it")).release()
    assert (school / LOCK_FILE).read_bytes() == b""


def test_a_window_on_another_computer_whose_lock_does_reach_here_is_named(school: Path) -> None:
    """As on a disk of the network that keeps locks for all."""
    with take_lock(school) or pytest.fail("nobody has it"):
        (school / LOCK_FILE).write_text("4711\nart-room-laptop\n")
        with Book.open(school, today=THURSDAY) as book:
            assert "another computer (art-room-laptop) writes here" in book.why_read_only


# -------------------------------------------------------------------------------------------- clocks and languages


def test_another_time_zone_and_another_language_tell_the_same(school: Path) -> None:
    asked = ("look-back", "--date", "2026-10-08", "--at", "7:41")
    here = in_a_process(*asked, data=school, TZ="America/New_York", LC_ALL="C", PYTHONWARNDEFAULTENCODING="1")
    there = in_a_process(*asked, data=school, TZ="Pacific/Kiritimati", LC_ALL="tr_TR.UTF-8", LANG="tr_TR.UTF-8")
    assert here == there
    assert (here.status, here.err) == (0, "")


def test_the_cache_of_another_program_or_another_python_is_as_good_as_none(school: Path) -> None:
    from msgspec import msgpack

    from checklists.files import last_good

    before = told(school)
    path = school / CACHE_FILE
    for field in (0, 1):  # the mark of the program, the shape of its records
        kept = msgpack.decode(path.read_bytes())
        good = msgpack.decode(kept["good"]) if isinstance(kept["good"], bytes) else kept["good"]
        good["plan"]["school"]["name"] = "Of another program"
        kept["good"] = good
        kept["program" if field == 0 else "shape"] += 1
        path.write_bytes(msgpack.encode(kept))
        assert told(school) == before
        assert last_good.read_last_good(school) is not None
