"""Single children by class-list number: new, gone, called out. Situations T15, T16, T26; common practice, no source."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.entries import Joined
from checklists.daybook.state import Owed, Unfinished
from checklists.files.daybook_folder import append
from checklists.plan.records import Need
from tests.commandline.running import kit_of, morning_of, refused, said, trundle
from tests.days import (
    NEXT_DAY_A,
    THURSDAY_22,
    TUESDAY_13,
    at,
    close,
    lines_of,
    needs_by_supply,
    opened,
    opened_again,
    teach,
    teach_all,
    visit_of,
)
from tests.schools import (
    FRIDAY_BEFORE,
    MONDAY,
    a_class,
    in_the_evening,
    reference_school,
    reference_timetable,
    write_toml,
)


def owed_to(class_id: str, data: Path, on: date = NEXT_DAY_A) -> tuple[Owed, ...]:
    with Book.open(data, write=False, today=on) as book:
        return book.opening(on).owed.get(class_id, ())


def matters_of(class_id: str, data: Path, on: date = NEXT_DAY_A) -> list[str]:
    return [each["what"] for each in morning_of(data, on)["matters"] if each["class"] == class_id]


def taught_on_monday(folder: Path, *, absent: dict[str, str] | None = None, **school: Any) -> Path:
    """The reference school after Mon 5 Oct, done and closed; ``absent``: class -> class-list numbers as typed."""
    data = reference_school(folder, **school)
    with opened(data) as book:
        teach_all(book, MONDAY, but=tuple(absent or {}))
        for class_id, numbers in (absent or {}).items():
            teach(book, MONDAY, class_id, absent=tuple(int(number) for number in numbers.split(",")))
        close(book)
    return data


# ------------------------------------------------------------------------------- T26 called out for half of it


def test_a_child_called_out_for_half_is_one_more_to_finish_up_and_not_absent(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said("report", "V3", "--outcome", "done except", "--not-done", "10", "--missed", "none", data=data)
    told = said("report", "V3", "--half", "6", data=data)
    assert "V3 3-B: done except 10, nobody missing, no. 6 there for half of it" in told.out
    said("close", data=data)
    with opened(data, NEXT_DAY_A) as book:
        state = book.opening(NEXT_DAY_A)
        assert state.unfinished["3-B"] == (Unfinished("burlap-birds", 2, 11, MONDAY, numbers=(6,)),)
        assert "3-B" not in state.owed
        (line,) = lines_of(book.day(NEXT_DAY_A), "yarn-ball", catch_up_for="3-B")
        assert line.because[0].text == "11 children not done with part 2 of Burlap Birds, and 2 more"


def test_materials_count_the_child_who_was_called_out(tmp_path: Path) -> None:
    """24 balls of yarn are used by 24 children, of whom one was called out; by 23 where one was absent."""
    left = {}
    for how in ("--half", "--missed"):
        data = reference_school(tmp_path / how, timetable=reference_timetable(but="3-K"))
        said("count", "yarn-ball", "100", data=data, clock="7:30")
        said("report", "3-B", "--outcome", "done", how, "6", data=data)
        said("close", data=data)
        with Book.open(data, write=False, today=NEXT_DAY_A) as book:
            left[how] = book.opening(NEXT_DAY_A).on_hand["yarn-ball"]
    assert left == {"--half": 76, "--missed": 77}


def test_one_called_out_of_a_class_that_is_done_finishes_alone(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said("report", "3-B", "--as-planned", "--half", "6", data=data)
    said("close", data=data)
    assert kit_of("3-B", data, NEXT_DAY_A)["yarn-ball"] == 2  # one, and one more


def test_called_out_and_then_absent_is_still_to_finish(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said("report", "3-B", "--as-planned", "--half", "6", data=data)
    said("close", data=data)
    said("report", "3-B", "--outcome", "done", "--missed", "6", data=data, on=NEXT_DAY_A)
    said("close", data=data, on=NEXT_DAY_A)
    with Book.open(data, write=False, today=THURSDAY_22) as book:
        state = book.opening(THURSDAY_22)
    assert state.unfinished["3-B"] == (Unfinished("burlap-birds", 2, 1, MONDAY, numbers=(6,)),)
    assert state.owed["3-B"] == (Owed("burlap-birds", 3, NEXT_DAY_A, (6,)),)


def test_nobody_is_absent_and_there_for_half(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    told = refused("report", "3-B", "--missed", "6", "--half", "6", data=data)
    assert told == "No. 6 cannot be absent and there for half of it. Say one of them."
    told = refused("report", "3-B", "--half", "34", data=data)
    assert told == "There is no number 34 on the list of a class of 24."


# ------------------------------------------------------------------------------------------ T15 a new child


@pytest.fixture
def one_new(tmp_path: Path) -> Path:
    """A new child in 3-B on Tue 13 Oct, before part 3 of Burlap Birds."""
    data = taught_on_monday(tmp_path)
    told = said("joined", "3-B", data=data, on=TUESDAY_13)
    assert "3-B has 25 children now." in told.out
    assert "No. 25 is owed parts 1 and 2 of Burlap Birds, at its next visit, Wed 14 Oct." in told.out
    return data


def test_a_new_child_makes_the_class_one_larger(one_new: Path) -> None:
    visits = {each["class"]: each for each in morning_of(one_new, NEXT_DAY_A)["visits"]}
    assert visits["3-B"]["students"] == 25
    assert visits["3-K"]["students"] == 25


def test_a_new_child_is_owed_each_part_so_far_once(one_new: Path) -> None:
    # Part 1 in full: one white sheet. Part 2 in its short version: one ball of yarn. Not 25 of either.
    assert kit_of("3-B", one_new, NEXT_DAY_A) == {"white-9x12": 1, "yarn-ball": 1}
    said("report", "3-B", "--as-planned", "--handed-out", "yes", data=one_new, on=NEXT_DAY_A)
    said("close", data=one_new, on=NEXT_DAY_A)
    assert owed_to("3-B", one_new, THURSDAY_22) == ()
    assert kit_of("3-B", one_new, THURSDAY_22) == {}


def test_a_new_child_is_not_shown_as_absent(one_new: Path) -> None:
    owed = owed_to("3-B", one_new)
    assert [(each.part, each.numbers, each.new) for each in owed] == [(1, (25,), True), (2, (25,), True)]
    lines = [each for each in morning_of(one_new, NEXT_DAY_A)["lines"] if each["class"] == "3-B"]
    reasons = [why["text"] for line in lines for why in line["because"]]
    assert reasons
    assert not any("missed" in reason for reason in reasons)


def test_the_folder_gets_one_label_more(one_new: Path) -> None:
    assert matters_of("3-B", one_new) == ["No. 25 is new in 3-B: 1 more label for folder 3-B"]
    said("answer", "label folder", "done", data=one_new, on=NEXT_DAY_A)
    said("close", data=one_new, on=NEXT_DAY_A)
    assert not any("label" in each for each in matters_of("3-B", one_new, THURSDAY_22))


def test_the_spare_stays_three_and_the_reserve_four(tmp_path: Path) -> None:
    """Only 3-B comes on day A: 25 children and a spare of 3; where nobody has told of Monday, a reserve of 4."""
    need = {}
    for told in (True, False):
        data = reference_school(tmp_path / str(told), timetable=reference_timetable(but="3-K"))
        with opened(data) as book:
            teach_all(book, MONDAY, but=() if told else ("3-B",))
            close(book)
        said("joined", "3-B", data=data, on=TUESDAY_13)
        lines = morning_of(data, NEXT_DAY_A)["lines"]
        need[told] = next(each["need"] for each in lines if each["supply"] == "yarn-ball" and not each["class"])
    assert need == {True: 28, False: 29}


def test_on_the_day_itself_the_kit_is_on_the_list_at_once(tmp_path: Path) -> None:
    data = taught_on_monday(tmp_path)
    assert kit_of("3-B", data, NEXT_DAY_A) == {}
    said("joined", "3-B", data=data, on=NEXT_DAY_A, clock="7:35")
    assert kit_of("3-B", data, NEXT_DAY_A) == {"white-9x12": 1, "yarn-ball": 1}


def test_a_second_new_child_has_the_number_after(one_new: Path) -> None:
    assert "no. 26 is new" in said("joined", "3-B", data=one_new, on=TUESDAY_13).out
    assert kit_of("3-B", one_new, NEXT_DAY_A) == {"white-9x12": 2, "yarn-ball": 2}


def test_a_new_child_who_is_absent_stays_owed_and_is_owed_the_new_part(one_new: Path) -> None:
    said("report", "3-B", "--outcome", "done", "--missed", "25", "--handed-out", "yes", data=one_new, on=NEXT_DAY_A)
    said("close", data=one_new, on=NEXT_DAY_A)
    owed = owed_to("3-B", one_new, THURSDAY_22)
    assert [(each.part, each.numbers, each.new) for each in owed] == [
        (1, (25,), True),
        (2, (25,), True),
        (3, (25,), False),
    ]


def test_a_new_child_taken_back_leaves_the_class_as_it_was(one_new: Path) -> None:
    assert said("undo", data=one_new, on=TUESDAY_13).out.startswith("Taken back: 3-B: no. 25 is new")
    visits = {each["class"]: each for each in morning_of(one_new, NEXT_DAY_A)["visits"]}
    assert visits["3-B"]["students"] == 24
    assert (kit_of("3-B", one_new, NEXT_DAY_A), matters_of("3-B", one_new)) == ({}, [])


def test_what_a_new_child_is_owed_follows_a_corrected_day(one_new: Path) -> None:
    """On Friday it turns out that part 2 was not taught on Monday: then only part 1 is behind the class."""
    said("close", data=one_new, on=TUESDAY_13)
    said("report", "3-B", "--outcome", "no", data=one_new)
    assert [(each.part, each.numbers) for each in owed_to("3-B", one_new)] == [(1, (25,))]
    assert kit_of("3-B", one_new, NEXT_DAY_A) == {"white-9x12": 1}
    assert trundle("check", data=one_new).status == 0


def test_a_program_killed_before_the_class_list_was_written_makes_up_for_it(tmp_path: Path) -> None:
    data = taught_on_monday(tmp_path)
    append(data, TUESDAY_13, Joined(at=at("8:00", TUESDAY_13), class_id="3-B", number=25))
    with opened(data, TUESDAY_13) as book:
        assert book.plan.class_by_id["3-B"].students == 25
        assert [each.numbers for each in book.opening(NEXT_DAY_A).owed["3-B"]] == [(25,), (25,)]
    with opened(data, TUESDAY_13) as book:
        assert book.plan.class_by_id["3-B"].students == 25


def test_a_class_that_is_about_25_is_about_26_then(tmp_path: Path) -> None:
    data = reference_school(tmp_path, classes=[a_class(each, room="12", students="about 24") for each in CLASSES])
    assert "3-B has about 25 children now." in said("joined", "3-B", data=data).out


CLASSES = ("K-M", "1-P", "3-B", "3-K", "2-R", "4-D", "5-H")


# ----------------------------------------------------------------------------------------- T16 a child leaves


def with_spring_scissors(folder: Path, **more: Any) -> Path:
    """One child of 3-K and two of 5-H need spring-opening scissors; of 3-K no. 7 and 8 missed part 1 before."""
    rooms = {"K-M": 20, "1-P": 22, "3-B": 24, "3-K": 25, "2-R": 23, "4-D": 26, "5-H": 27}
    needs = {"3-K": [{"need": "fine-motor", "count": 1, "tables": [3]}], "5-H": [{"need": "fine-motor", "count": 2}]}
    classes = [a_class(each, room="12", students=n, needs=needs.get(each, [])) for each, n in rooms.items()]
    data = reference_school(folder, classes=classes, **more)
    return in_the_evening(data, owed={"3-K": (Owed("burlap-birds", 1, FRIDAY_BEFORE, numbers=(7, 8)),)})


def spring_scissors(data: Path, on: date = NEXT_DAY_A) -> dict[str, int]:
    """Class -> spring-opening scissors that go into its visit."""
    with Book.open(data, write=False, today=on) as book:
        day = book.day(on)
        class_of = {visit.key: visit.class_id for visit in day.visits}
        lines = [line for line in day.lines if line.supply == "scissors-spring"]
        return {class_of[use.visit]: round(use.amount) for line in lines for use in line.uses}


@pytest.fixture
def one_gone(tmp_path: Path) -> Path:
    data = with_spring_scissors(tmp_path)
    with opened(data) as book:
        assert spring_scissors(data, MONDAY) == {"3-K": 1, "5-H": 2}
        teach_all(book, MONDAY, but=("5-H",))
        teach(book, MONDAY, "5-H", "not taught")
        close(book)
    told = said("left", "3-K", "7", "--need", "fine-motor", data=data, on=TUESDAY_13)
    assert "3-K has 24 children now." in told.out
    assert "fine-motor" not in told.out
    return data


def test_a_child_who_left_makes_the_class_one_smaller_and_takes_its_need_along(one_gone: Path) -> None:
    visits = {each["class"]: each for each in morning_of(one_gone, NEXT_DAY_A)["visits"]}
    assert visits["3-K"]["students"] == 24
    assert spring_scissors(one_gone) == {"5-H": 2}


def test_its_work_is_to_be_taken_out_of_the_folder_at_the_classes_next_visit(one_gone: Path) -> None:
    assert matters_of("3-K", one_gone) == [
        "Catch-up kit of 3-K for 1 child not handed out: white paper 9x12",
        "No. 7 has left 3-K: take its work out of folder 3-K",
    ]
    assert matters_of("3-K", one_gone, date(2026, 10, 15)) == []


def test_nothing_more_is_owed_to_it_and_the_others_keep_their_numbers(one_gone: Path) -> None:
    assert [(each.part, each.numbers) for each in owed_to("3-K", one_gone)] == [(1, (8,))]
    with Book.open(one_gone, write=False, today=NEXT_DAY_A) as book:
        assert book.plan.class_by_id["3-K"].left == (7,)


def test_a_number_that_has_left_is_refused_when_typed_and_the_highest_stays_25(one_gone: Path) -> None:
    told = refused("report", "3-K", "--missed", "7", data=one_gone, on=NEXT_DAY_A)
    assert told == "No. 7 has left 3-K; the others keep their numbers."
    assert refused("left", "3-K", "7", data=one_gone, on=NEXT_DAY_A) == told
    told = refused("report", "3-K", "--missed", "26", data=one_gone, on=NEXT_DAY_A)
    assert told.startswith("There is no number 26 on the list of 3-K: it goes to 25.")
    said("report", "3-K", "--outcome", "done", "--missed", "25", data=one_gone, on=NEXT_DAY_A)
    said("close", data=one_gone, on=NEXT_DAY_A)
    owed = owed_to("3-K", one_gone, THURSDAY_22)
    assert [(each.part, each.numbers) for each in owed] == [(1, (8,)), (3, (25,))]


def test_only_a_number_on_the_list_can_leave(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    assert refused("left", "3-B", "25", data=data).startswith(
        "There is no number 25 on the list of 3-B: it goes to 24."
    )


def test_a_new_child_does_not_get_the_number_of_the_one_who_left(one_gone: Path) -> None:
    assert "no. 26 is new" in said("joined", "3-K", data=one_gone, on=TUESDAY_13).out


def test_a_child_who_has_not_left_after_all_is_owed_again_and_has_its_need(one_gone: Path) -> None:
    said("undo", data=one_gone, on=TUESDAY_13)
    assert [(each.part, each.numbers) for each in owed_to("3-K", one_gone)] == [(1, (7, 8))]
    with Book.open(one_gone, write=False, today=NEXT_DAY_A) as book:
        class_ = book.plan.class_by_id["3-K"]
    assert (class_.students, class_.left, class_.needs) == (25, (), (Need("fine-motor", 1, (3,)),))


def test_a_need_the_class_has_not_is_refused_with_those_it_has(tmp_path: Path) -> None:
    data = with_spring_scissors(tmp_path)
    told = refused("left", "3-K", "7", "--need", "low-vision", data=data)
    assert told == "3-K has no need called low-vision. It has fine-motor."
    assert refused("left", "3-B", "7", "--need", "low-vision", data=data) == "3-B has no need called low-vision."


def test_a_class_between_two_lessons_has_nothing_in_its_folder_to_take_out(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    assert "folder" not in said("left", "2-R", "7", data=data).out
    assert matters_of("2-R", data, MONDAY) == []


def test_absent_on_the_day_and_gone_the_same_evening_is_owed_nothing(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said("report", "3-K", "--outcome", "done", "--missed", "7,9", data=data)
    said("left", "3-K", "7", data=data)
    said("close", data=data)
    assert [(each.part, each.numbers) for each in owed_to("3-K", data)] == [(2, (9,))]


def test_the_class_file_somebody_is_typing_in_is_not_overwritten(tmp_path: Path) -> None:
    data = taught_on_monday(tmp_path)
    with opened(data, TUESDAY_13) as book:
        write_toml(data / "classes.toml", {"classes": "24"})
        visit = visit_of(book.day(NEXT_DAY_A), "3-B")
    told = refused("joined", "3-B", data=data, on=TUESDAY_13)
    assert "classes.toml" in told
    assert visit.students == 24


def test_called_out_and_gone_is_not_to_finish_any_more(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said("report", "3-K", "--outcome", "done except", "--not-done", "2", "--missed", "none", "--half", "7", data=data)
    said("close", data=data)
    said("left", "3-K", "7", data=data, on=TUESDAY_13)
    with Book.open(data, write=False, today=TUESDAY_13) as book:
        assert book.opening(NEXT_DAY_A).unfinished["3-K"] == (Unfinished("burlap-birds", 2, 2, MONDAY),)


def test_closing_does_not_call_handed_out_what_nobody_is_owed_any_more(tmp_path: Path) -> None:
    data = in_the_evening(reference_school(tmp_path), owed={"3-K": (Owed("burlap-birds", 1, FRIDAY_BEFORE, (7,)),)})
    said("report", "3-K", "--as-planned", data=data)
    said("left", "3-K", "7", data=data)
    assert "handed out" not in said("close", data=data).out


def test_everything_is_the_same_after_a_restart(one_gone: Path) -> None:
    with opened(one_gone, NEXT_DAY_A) as book:
        before = needs_by_supply(book.day(NEXT_DAY_A)), book.opening(NEXT_DAY_A)
        again = opened_again(book)
        assert (needs_by_supply(again.day(NEXT_DAY_A)), again.opening(NEXT_DAY_A)) == before
        again.release()
