"""A day that breaks off, wrong ticks, files that do not read, nothing to do. Situations T54, T55, T56, T58 and T64.

On the reference school; common practice, no source.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.day_end import at_day_end
from checklists.daybook.entries import AnyEntry, CountedSharps, Packed
from checklists.daybook.line_states import state_of
from checklists.lines.records import Line
from tests.commandline.running import PROJECT, monday_lines, on_monday, surroundings, trundle
from tests.days import (
    TUESDAY,
    after_the_battery_died,
    at,
    close,
    count_all_back,
    line_of,
    opened,
    opened_again,
    packed,
    teach,
    visit_of,
)
from tests.schools import MONDAY, SATURDAY_BEFORE, reference_school

ALL_CLASSES = ["K-M", "1-P", "3-B", "3-K", "2-R", "4-D", "5-H"]


# ------------------------------------------------------------------ T54 she goes home ill, the day is not closed


@pytest.fixture
def ill_on_monday(tmp_path: Path) -> Book:
    """She went home at 11:30 and told nothing. It is Tuesday, 7:40."""
    book = opened(reference_school(tmp_path))
    line = line_of(book.day(MONDAY), "yarn-ball")
    book.do(MONDAY, packed(line))
    return opened_again(book, today=TUESDAY)


def test_the_next_day_opens_at_once_and_asks_for_each_visit(ill_on_monday: Book) -> None:
    day = ill_on_monday.day(TUESDAY)
    assert day.school_day
    assert {each.class_id for each in day.questions} == set(ALL_CLASSES)
    assert len(day.questions) == 7
    assert not ill_on_monday.is_closed(MONDAY)


def test_sharps_that_nobody_counted_stay_on_the_list(ill_on_monday: Book) -> None:
    whats = [each.what for each in ill_on_monday.day(TUESDAY).matters if each.kind == "count pending"]
    for pending in ("3-B, Room 12: not counted back", "3-K, Room 14: not counted back"):
        assert any("scissors of" in what and pending in what for what in whats)


def test_seven_answers_settle_monday_without_closing_it(ill_on_monday: Book) -> None:
    book = ill_on_monday
    for class_id in ALL_CLASSES[:4]:
        teach(book, MONDAY, class_id)
    for class_id in ALL_CLASSES[4:]:
        teach(book, MONDAY, class_id, "not taught")

    day = book.day(TUESDAY)
    assert day.questions == ()
    pending = [each.what for each in day.matters if each.kind == "count pending"]
    for room in ("3-B, Room 12: not counted back", "3-K, Room 14: not counted back"):
        assert any("scissors of" in what and room in what for what in pending)
    assert not any("5-H" in what or "4-D" in what for what in pending)  # nothing went out after 11:30
    places = {name: (at_.lesson, at_.part) for name, at_ in book.opening(TUESDAY).progress.items()}
    assert places["3-B"] == ("burlap-birds", 3)
    assert places["5-H"] == ("paper-masks", 2)


def test_the_questions_and_the_answers_are_there_after_a_restart(ill_on_monday: Book) -> None:
    teach(ill_on_monday, MONDAY, "K-M")
    book = opened_again(ill_on_monday)
    assert {each.class_id for each in book.day(TUESDAY).questions} == set(ALL_CLASSES) - {"K-M"}
    assert state_of(line_of(book.day(MONDAY), "yarn-ball"), book.marks(MONDAY)) == "packed"


def test_counting_the_sharps_later_takes_them_off_the_list(ill_on_monday: Book) -> None:
    count_all_back(ill_on_monday, MONDAY)
    assert not any(each.kind == "count pending" for each in opened_again(ill_on_monday).day(TUESDAY).matters)


def test_three_days_that_nobody_closed_do_not_stand_in_the_way(ill_on_monday: Book) -> None:
    book = ill_on_monday
    for day in (date(2026, 10, 9), date(2026, 10, 14)):
        book = opened_again(book, today=day)
        assert len(book.day(day).questions) == 7
    assert {visit.class_id for visit in book.day(date(2026, 10, 14)).visits} == set(ALL_CLASSES)
    book.do(date(2026, 10, 14), packed(line_of(book.day(date(2026, 10, 14)), "clay-mat")))


def test_an_unclosed_monday_by_the_command_line(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    on_monday("tick", "11", data=data)
    tuesday = ("--date", "2026-10-06", "--at", "7:40")
    shown = trundle("morning", "--json", *tuesday, data=data)
    assert len(shown.fields["questions"]) == 7
    assert "done?" in trundle("morning", *tuesday, data=data).out


# ------------------------------------------------------------------------- T55 the battery dies in mid tick


def test_every_tick_is_on_the_disk_when_it_is_shown(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path / "school"))
    lines = book.day(MONDAY).lines[:8]
    for n, line in enumerate(lines, 1):
        book.do(MONDAY, packed(line))
        left = after_the_battery_died(book, into=tmp_path / f"died-{n}")
        assert left.marks(MONDAY) == book.marks(MONDAY)
        assert len(left.marks(MONDAY).lines) == n
        left.release()


def test_a_process_killed_between_two_ticks_loses_none(tmp_path: Path) -> None:
    """Another process ticks five lines and is gone without a word: nothing folded, nothing given back."""
    folder = reference_school(tmp_path)
    script = (
        "import os, sys; from pathlib import Path\n"
        "from tests.days import MONDAY, opened, packed\n"
        "book = opened(Path(sys.argv[1]))\n"
        "[book.do(MONDAY, packed(line)) for line in book.day(MONDAY).lines[:5]]\n"
        "os._exit(9)\n"
    )
    environment = surroundings(PYTHONPATH=os.pathsep.join([str(PROJECT), *sys.path]))
    ran = subprocess.run([sys.executable, "-c", script, str(folder)], env=environment, timeout=60, check=False)
    assert ran.returncode == 9
    book = opened(folder)
    assert [state_of(line, book.marks(MONDAY)) for line in book.day(MONDAY).lines[:5]] == ["packed"] * 5


def test_a_tick_cut_off_in_the_middle_is_the_only_one_lost_and_is_said(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path / "school"))
    for line in book.day(MONDAY).lines[:4]:
        book.do(MONDAY, packed(line))
    died = after_the_battery_died(book, into=tmp_path / "died")
    died.release()
    # What the disk had when the power went: the last line only in part.
    journal = next((tmp_path / "school" / "daybook").glob("2026-10-05.journal"))
    torn = tmp_path / "torn"
    after_the_battery_died(book, into=torn).release()
    for file in (torn / "daybook").glob("2026-10-05.*"):
        file.unlink()
    (torn / "daybook" / journal.name).write_bytes(journal.read_bytes()[:-9])

    book = opened(torn)
    assert len(book.marks(MONDAY).lines) == 3
    assert any("not whole" in each.what for each in book.problems)
    book.do(MONDAY, packed(book.day(MONDAY).lines[3]))
    assert len(opened_again(book).marks(MONDAY).lines) == 4


def test_the_same_day_goes_on_after_reopening_at_every_entry(tmp_path: Path) -> None:
    """A whole day with the window closed and opened again after each entry comes out as one without."""
    once, often = opened(reference_school(tmp_path / "once")), opened(reference_school(tmp_path / "often"))
    visit = visit_of(once.day(MONDAY), "3-B")
    steps: list[AnyEntry] = [
        *(packed(line, clock=f"7:{n}") for n, line in enumerate(once.day(MONDAY).lines[:6], 10)),
        CountedSharps(at=at("10:21"), visit=visit.key, supply="scissors", out=13, back=12),
    ]
    for entry in steps:
        once.do(MONDAY, entry)
        often.do(MONDAY, entry)
        often = opened_again(often)
        assert often.marks(MONDAY) == once.marks(MONDAY)
    assert close(once) == close(often)
    assert opened_again(often).opening(TUESDAY) == once.opening(TUESDAY)


# -------------------------------------------------------------------------------- T56 wrong ticks, and undo


@pytest.fixture
def three_wrong_ticks(tmp_path: Path) -> tuple[Book, list[Line]]:
    """Three ticks by mistake, in three containers; Box 1 was finished before."""
    book = opened(reference_school(tmp_path))
    day = book.day(MONDAY)
    for n, line in enumerate([each for each in day.lines if each.container == "box-1"]):
        book.do(MONDAY, packed(line, clock=f"7:3{n}"))
    wrong = [line_of(day, "yarn-ball"), line_of(day, "clay-mat"), line_of(day, "strip-1x12")]
    for line in wrong:
        book.do(MONDAY, packed(line, line.need, clock="7:41"))
    return book, wrong


def test_three_undos_take_back_three_ticks_in_order_and_name_them(
    three_wrong_ticks: tuple[Book, list[Line]],
) -> None:
    book, wrong = three_wrong_ticks
    said = [book.undo(MONDAY) for _ in wrong]
    assert [text is not None and line.name in text for text, line in zip(said, reversed(wrong), strict=True)] == [
        True,
        True,
        True,
    ]
    assert said[-1] == "packed 54 yarn ball, 6 yd, Box 3"
    marks = book.marks(MONDAY)
    assert not any(line.key in marks.lines for line in wrong)
    assert all(line.key in marks.lines for line in book.day(MONDAY).lines if line.container == "box-1")


def test_undo_goes_on_after_a_restart(three_wrong_ticks: tuple[Book, list[Line]]) -> None:
    book, _ = three_wrong_ticks
    book.undo(MONDAY)
    book = opened_again(book)
    assert book.undo(MONDAY) is not None
    assert (opened_again(book)).undo(MONDAY) == "packed 54 yarn ball, 6 yd, Box 3"


def test_undo_reaches_into_a_box_that_was_finished(three_wrong_ticks: tuple[Book, list[Line]]) -> None:
    book, wrong = three_wrong_ticks
    for _ in wrong:
        book.undo(MONDAY)
    assert book.undo(MONDAY) == "packed 1 class folder 1-P, Box 1"
    (folder,) = [line for line in book.day(MONDAY).lines if line.supply == "folder 1-P"]
    assert state_of(folder, book.marks(MONDAY)) == "open"


def test_a_step_of_several_ticks_is_taken_back_as_one(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    lines = [line for line in book.day(MONDAY).lines if line.container == "box-4"]
    book.do(MONDAY, *(packed(line) for line in lines))
    said = opened_again(book).undo(MONDAY)
    assert said is not None
    assert said.endswith(f"and {len(lines) - 1} more")


def test_with_nothing_left_there_is_nothing_to_undo(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    assert book.undo(MONDAY) is None
    book.do(MONDAY, packed(book.day(MONDAY).lines[0]))
    assert book.undo(MONDAY) is not None
    assert book.undo(MONDAY) is None
    assert opened_again(book).undo(MONDAY) is None


def test_closing_by_mistake_is_undone_like_any_step(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    teach(book, MONDAY, "3-B")
    before = book.marks(MONDAY)
    close(book)
    book = opened_again(book)
    assert book.undo(MONDAY) == "Mon 5 Oct is open again"
    assert not book.is_closed(MONDAY)
    assert book.marks(MONDAY) == before


def test_three_undos_by_the_command_line(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    for supply in ("yarn-ball", "foam-plate", "clay-mat"):
        assert on_monday("tick", str(monday_lines(data)[supply]["number"]), data=data).status == 0
    said = [on_monday("undo", data=data, at="7:42").out.splitlines()[0] for _ in range(4)]
    assert "clay mat" in said[0]
    assert "foam plate" in said[1]
    assert "yarn ball" in said[2]
    assert "nothing to undo" in said[3]


# ------------------------------------------------------------------------------- T58 a plan file has a typo


@pytest.fixture
def with_a_typo(tmp_path: Path) -> Path:
    """The plan was read well yesterday; this morning a class file says `students = 24a`, on a line of its own."""
    folder = reference_school(tmp_path)
    file = folder / "classes.toml"
    written = file.read_text("utf-8").replace("classes = [\n", "").replace("\n]\n\n[timetable", "\n\n[timetable")
    class_ = re.compile(r" *\{ (id = .*), (grade = .*), (room = .*), (students = .*) \},?")
    file.write_text(class_.sub(r"[[classes]]\n\1\n\2\n\3\n\4", written), "utf-8")
    opened(folder).release()
    file.write_text(file.read_text("utf-8").replace("students = 24\n", "students = 24a\n"), "utf-8")
    return folder


def test_a_typo_opens_with_the_last_good_plan_and_says_file_and_line(with_a_typo: Path) -> None:
    book = opened(with_a_typo)
    lines = (with_a_typo / "classes.toml").read_text("utf-8").splitlines()
    wrong_line = next(n for n, line in enumerate(lines, 1) if "24a" in line)
    assert book.uses_last_good
    (problem,) = [each for each in book.problems if each.level == "grave"]
    assert (problem.file, problem.line) == ("classes.toml", wrong_line)
    assert "24a" in str(problem)
    assert visit_of(book.day(MONDAY), "3-B").students == 24


def test_ticks_work_while_the_typo_is_there(with_a_typo: Path) -> None:
    book = opened(with_a_typo)
    line = line_of(book.day(MONDAY), "yarn-ball")
    book.do(MONDAY, packed(line))
    book = opened_again(book)
    assert book.uses_last_good
    assert state_of(line_of(book.day(MONDAY), "yarn-ball"), book.marks(MONDAY)) == "packed"


def test_once_the_typo_is_put_right_the_new_number_counts_and_the_ticks_are_kept(with_a_typo: Path) -> None:
    book = opened(with_a_typo)
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "clay-mat")))
    book.release()
    file = with_a_typo / "classes.toml"
    file.write_text(file.read_text("utf-8").replace("24a", "26"), "utf-8")
    book = opened(with_a_typo)
    assert not book.uses_last_good
    assert line_of(book.day(MONDAY), "yarn-ball").need == 26 + 25 + 6
    assert state_of(line_of(book.day(MONDAY), "clay-mat"), book.marks(MONDAY)) == "packed"


def test_a_typo_by_the_command_line_is_said_once_and_the_list_is_printed(with_a_typo: Path) -> None:
    shown = on_monday("morning", data=with_a_typo)
    assert shown.status == 2
    assert "classes.toml" in shown.out + shown.err
    assert "yarn ball" in shown.out
    assert "Traceback" not in shown.out + shown.err
    assert on_monday("tick", "11", data=with_a_typo).status == 0


# ------------------------------------------------------------------------------------------ T64 nothing to do


def test_a_saturday_opens_on_the_next_day_that_has_visits(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path), today=SATURDAY_BEFORE)
    saturday = book.day(SATURDAY_BEFORE)
    assert (saturday.school_day, saturday.why_no_school, saturday.visits) == (False, "weekend", ())
    assert saturday.next_school_day == MONDAY
    assert book.list_date(SATURDAY_BEFORE) == MONDAY
    first = book.day(MONDAY).visits[0]
    assert (first.class_id, first.start) == ("K-M", 8 * 60)
    assert any("clay" in task.what for task in book.day(MONDAY).tasks)


def test_a_day_without_visits_leads_on_to_the_next_that_has_some(tmp_path: Path) -> None:
    """Only day A has visits in the reference school: from Tue 6 Oct it is Wed 14 Oct."""
    book = opened(reference_school(tmp_path), today=TUESDAY)
    assert book.day(TUESDAY).school_day
    assert book.day(TUESDAY).visits == ()
    assert book.list_date(TUESDAY) == date(2026, 10, 14)


def test_a_day_off_and_the_summer_are_no_mistake(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    holiday, summer = date(2026, 10, 12), date(2027, 7, 3)
    assert (book.day(holiday).why_no_school, book.day(holiday).next_school_day) == ("holiday", date(2026, 10, 13))
    assert (book.day(summer).why_no_school, book.day(summer).next_school_day) == ("outside the school year", None)
    assert at_day_end(book.plan, book.day(holiday), book.marks(holiday), at()) == ()
    assert book.list_date(summer) == summer


def test_a_saturday_by_the_command_line(tmp_path: Path) -> None:
    shown = trundle("morning", "--date", "2026-10-03", "--at", "9:00", data=reference_school(tmp_path))
    assert (shown.status, shown.err) == (0, "")
    assert "Mon 5 Oct" in shown.out
    assert "K-M" in shown.out
    assert "8:00" in shown.out


def test_an_entry_before_the_clock_of_the_last_one_still_comes_after_it(tmp_path: Path) -> None:
    """The computer's clock went back: the order of what she did is kept, and undo takes back the newest."""
    book = opened(reference_school(tmp_path))
    line = line_of(book.day(MONDAY), "yarn-ball")
    book.do(MONDAY, packed(line, 38, clock="7:41"))
    book.do(MONDAY, Packed(at=at("7:20"), line=line.key, count=54))
    book = opened_again(book)
    assert book.marks(MONDAY).lines[line.key].count == 54
    assert book.undo(MONDAY) == "packed 54 yarn ball, 6 yd, Box 3"
    assert book.marks(MONDAY).lines[line.key].count == 38
