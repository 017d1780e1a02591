"""What she is asked: before leaving the store, and at the day's end in its order, with answers ready to choose."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.before_leaving import before_leaving
from checklists.daybook.day_end import at_day_end
from checklists.daybook.entries import CarriedOver, FoundLevel, HandedOut, NotNeeded, Reported, Stands, Ticked
from checklists.daybook.line_states import is_open, state_of
from checklists.daybook.matters import SECTIONS, OpenMatter
from checklists.daybook.state import Owed, Place, Progress
from tests.days import TUESDAY, at, close, line_of, opened, packed, teach, visit_of
from tests.schools import FRIDAY_BEFORE, MONDAY, in_the_evening, reference_school, small_school


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """Mon 5 Oct of the reference school."""
    return opened(reference_school(tmp_path))


def leaving(book: Book) -> tuple[OpenMatter, ...]:
    return before_leaving(book.day(MONDAY), book.marks(MONDAY), at())


def day_end(book: Book) -> tuple[OpenMatter, ...]:
    return at_day_end(book.plan, book.day(MONDAY), book.marks(MONDAY), at("15:00"))


def find(matters: tuple[OpenMatter, ...], key: str) -> OpenMatter:
    return next(each for each in matters if each.key == key)


def choose(book: Book, matter: OpenMatter, label: str) -> None:
    choice = next(each for each in matter.choices if each.label == label)
    book.do(MONDAY, *choice.entries)


# ------------------------------------------------------------------------------------------- before leaving


def test_what_is_critical_comes_first(book: Book) -> None:
    critical = [each.critical for each in leaving(book)]
    assert critical == sorted(critical, reverse=True)
    assert any(critical)


def test_every_open_line_is_asked_about_with_what_can_be_done(book: Book) -> None:
    matters = leaving(book)
    lines = [line for line in book.day(MONDAY).lines if is_open(line, book.marks(MONDAY))]
    assert {each.key for each in matters if each.number} >= {line.key for line in lines}
    assert all(each.choices for each in matters)


def test_a_line_that_is_packed_or_not_needed_is_not_asked_about(book: Book) -> None:
    yarn, strips = line_of(book.day(MONDAY), "yarn-ball"), line_of(book.day(MONDAY), "strip-1x12")
    book.do(MONDAY, packed(yarn))
    book.do(MONDAY, NotNeeded(at=at(), line=strips.key))
    assert not {yarn.key, strips.key} & {each.key for each in leaving(book)}


def test_a_part_packed_line_says_how_many_more(book: Book) -> None:
    yarn = line_of(book.day(MONDAY), "yarn-ball")
    book.do(MONDAY, packed(yarn, 38))
    asked = find(leaving(book), yarn.key)
    assert asked.text == "Box 3: 16 more yarn ball, 6 yd (need 54, has 38) for V3 and V4"
    choose(book, asked, "packed")
    assert state_of(yarn, book.marks(MONDAY)) == "packed"


@pytest.mark.parametrize("remedy", ["share", "use another", "make more", "fetch", "go without"])
def test_what_she_does_about_a_short_line_settles_it(book: Book, remedy: str) -> None:
    yarn = line_of(book.day(MONDAY), "yarn-ball")
    choose(book, find(leaving(book), yarn.key), remedy)
    assert state_of(yarn, book.marks(MONDAY)) == "short"
    assert yarn.key not in {each.key for each in leaving(book)}


def test_a_kit_in_a_room_is_to_be_fetched_and_critical(tmp_path: Path) -> None:
    folder = in_the_evening(reference_school(tmp_path), places={"printing": Place("11", FRIDAY_BEFORE, "P5")})
    book = opened(folder)
    asked = find(leaving(book), "fetch/printing")
    assert asked.text == "FETCH Printing kit, Room 11, needed P5 (2-R, 12:30), +4 min (since Fri 2 Oct P5)"
    assert asked.critical
    choose(book, asked, "fetched")
    assert "fetch/printing" not in {each.key for each in leaving(book)}


def test_a_task_that_is_due_is_asked_about_until_it_is_done_or_put_off(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    tasks = [each.key for each in leaving(book) if each.section == "Prepare"]
    assert len(tasks) == 2
    choose(book, find(leaving(book), tasks[0]), "done")
    choose(book, find(leaving(book), tasks[1]), "later")
    assert [each.key for each in leaving(book) if each.section == "Prepare"] == []


def test_a_check_at_the_store_is_asked_about_and_one_in_the_room_is_not(book: Book) -> None:
    assert "check/P1 K-M/choice-bin" in {each.key for each in leaving(book)}
    assert not any("count-sharps" in each.key for each in leaving(book))


def test_with_everything_settled_nothing_is_open(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    for _ in range(30):
        matters = leaving(book)
        if not matters:
            break
        choose(book, matters[0], matters[0].choices[0].label)
    assert leaving(book) == ()


# ------------------------------------------------------------------------------------------- the day's end


def test_the_days_end_asks_in_its_order(book: Book) -> None:
    book.do(MONDAY, FoundLevel(at=at(), supply="glue-stick", level="low"))
    order = [SECTIONS.index(each.section) for each in day_end(book)]
    assert order == sorted(order)
    assert {each.section for each in day_end(book)} >= {
        "Sharps and own tools",
        "Where things are",
        "What each class reached",
        "Who missed it",
        "Running low",
    }


def test_each_class_is_asked_for_once_what_it_reached_and_once_who_missed_it(book: Book) -> None:
    for section in ("What each class reached", "Who missed it"):
        visits = [each.visit for each in day_end(book) if each.section == section]
        assert visits == [visit.key for visit in book.day(MONDAY).visits]


def test_done_and_nobody_missing_is_one_answer_to_both(book: Book) -> None:
    key = visit_of(book.day(MONDAY), "3-B").key
    choose(book, find(day_end(book), f"reached/{key}"), "done, nobody missing")
    assert find(day_end(book), f"reached/{key}").answer == "done"
    assert "nobody" in find(day_end(book), f"missed/{key}").answer


def test_the_outcomes_to_choose_from_are_those_of_the_lesson(book: Book) -> None:
    always = ["done, nobody missing", "done", "about half", "not taught"]
    assert reached_labels(book, "3-B") == [*always, "went on through part 3"]  # part 2 of 4
    assert reached_labels(book, "K-M") == always  # part 2 of 2


def reached_labels(book: Book, class_id: str) -> list[str]:
    matter = find(day_end(book), f"reached/{visit_of(book.day(MONDAY), class_id).key}")
    return [choice.label for choice in matter.choices]


def test_who_missed_it_does_not_say_that_it_was_done(book: Book) -> None:
    key = visit_of(book.day(MONDAY), "3-B").key
    choose(book, find(day_end(book), f"missed/{key}"), "nobody")
    report = book.marks(MONDAY).reports[key]
    assert isinstance(report, Reported)
    assert (report.outcome, report.absences_known) == ("unknown", True)


def test_an_outcome_chosen_later_keeps_who_missed_it(book: Book) -> None:
    key = visit_of(book.day(MONDAY), "3-B").key
    teach(book, MONDAY, "3-B", "unknown", absent=(4, 11))
    choose(book, find(day_end(book), f"reached/{key}"), "about half")
    report = book.marks(MONDAY).reports[key]
    assert (report.outcome, report.absent) == ("about half", (4, 11))


def test_of_a_class_that_was_not_taught_nobody_missed_it_and_nothing_went_out(book: Book) -> None:
    key = visit_of(book.day(MONDAY), "3-B").key
    teach(book, MONDAY, "3-B", "not taught")
    keys = {each.key for each in day_end(book)}
    assert not {f"missed/{key}", f"count/{key}/scissors"} & keys
    assert f"reached/{key}" in keys


def test_sharps_are_asked_for_visit_by_visit_with_how_many_went_out(book: Book) -> None:
    outs = {each.visit: each.out for each in day_end(book) if each.key.endswith("/scissors")}
    assert outs == {"P3 3-B": 13, "P4 3-K": 14, "P7 5-H": 29}
    asked = find(day_end(book), "count/P3 3-B/scissors")
    assert asked.text == "V3 3-B, Room 12: 13 scissors went out. How many came back?"
    choose(book, asked, "= all 13")
    assert find(day_end(book), "count/P3 3-B/scissors").answer == "13 of 13 back"


def test_everything_at_the_store_is_one_answer_whatever_was_said_before(book: Book) -> None:
    book.do(MONDAY, Stands(at=at("14:01"), container="stitching", place="14", period="P4"))
    assert book.closing_of(MONDAY).places["stitching"].where == "14"
    choose(book, find(day_end(book), "places"), "everything is at the store")
    assert find(day_end(book), "places").answer
    close(book)
    assert book.opening(TUESDAY).places == {}


def test_a_catch_up_kit_that_was_along_is_asked_about(tmp_path: Path) -> None:
    owed = {"3-B": (Owed("paper-hills", 1, FRIDAY_BEFORE, (4,)),)}
    book = opened(in_the_evening(small_school(tmp_path), owed=owed, progress={"3-B": Progress("paper-hills", 2)}))
    key = visit_of(book.day(MONDAY), "3-B").key
    asked = find(day_end(book), f"handed out/{key}")
    choose(book, asked, "handed out")
    assert book.marks(MONDAY).handed_out == {key: True}
    book.do(MONDAY, HandedOut(at=at("15:01"), visit=key, given=False))
    assert find(day_end(book), f"handed out/{key}").answer == "not yet"


def test_what_the_shelf_cannot_fill_is_asked_about_as_running_low(tmp_path: Path) -> None:
    book = opened(in_the_evening(small_school(tmp_path), on_hand={"white-12x18": 30}))
    asked = find(day_end(book), "low/white-12x18")
    assert asked.text == "white paper 12x18: has 0 of 51"
    choose(book, asked, "out")
    assert find(day_end(book), "low/white-12x18").answer == "out"


def test_what_must_be_prepared_by_the_next_school_day_is_asked_about(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path), today=FRIDAY_BEFORE)
    matters = at_day_end(book.plan, book.day(FRIDAY_BEFORE), book.marks(FRIDAY_BEFORE), at("15:00", FRIDAY_BEFORE))
    prepare = [each for each in matters if each.section == "To prepare"]
    assert {each.text for each in prepare} == {
        "cut green strips, 5 min, for 3-B on Mon 5 Oct",
        "cut green strips, 5 min, for 3-K on Mon 5 Oct",
    }
    assert [choice.label for choice in prepare[0].choices] == ["done", "carry over", "let go"]
    book.do(FRIDAY_BEFORE, CarriedOver(at=at("15:00", FRIDAY_BEFORE), matter=prepare[0].key))
    book.do(FRIDAY_BEFORE, Ticked(at=at("15:00", FRIDAY_BEFORE), matter=prepare[1].key))
    again = at_day_end(book.plan, book.day(FRIDAY_BEFORE), book.marks(FRIDAY_BEFORE), at("15:01", FRIDAY_BEFORE))
    assert [each.answer for each in again if each.section == "To prepare"] == ["carried over", "done"]


def test_a_whole_day_of_seven_visits_is_answered_by_choosing_alone(book: Book) -> None:
    """Every question of the day's end has an answer ready: nothing must be typed."""
    for key in [each.key for each in day_end(book)]:
        matter = find(day_end(book), key)
        if not matter.answer:
            book.do(MONDAY, *matter.choices[0].entries)
    assert [each.key for each in day_end(book) if not each.answer] == []
    close(book)
    state = book.opening(TUESDAY)
    assert (state.unsure, state.owed, state.cases) == ({}, {}, ())
    assert not any(each.kind == "count pending" for each in state.carried)
