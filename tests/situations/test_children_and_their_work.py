"""Pots that broke, work on a wall, and who missed much.

Situations T17, T18, T20, T47 and T63; common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.day_end import at_day_end
from checklists.daybook.entries import HandedOut
from checklists.daybook.state import Owed
from checklists.lines.catch_up import say_owed
from tests.commandline.running import kit_of, morning_of, refused, said
from tests.days import (
    NEXT_DAY_A,
    THURSDAY_22,
    TUESDAY_13,
    asked_at_the_end,
    at,
    choose,
    close,
    opened,
    opened_again,
    teach,
    teach_all,
    visit_of,
)
from tests.schools import (
    FRIDAY_BEFORE,
    MONDAY,
    a_kit,
    a_lesson,
    a_part,
    an_item,
    in_the_evening,
    reference_school,
    reference_timetable,
    small_school,
)

FRIDAY_30 = date(2026, 10, 30)
BIRDS = "burlap-birds"


def cautions_of(class_id: str, data: Path, on: date) -> list[dict[str, Any]]:
    fields = morning_of(data, on)
    visits = {each["key"] for each in fields["visits"] if each["class"] == class_id}
    return [each for each in fields["cautions"] if each["visit"] in visits]


# ------------------------------------------------------------------------------------ T47 broken in the kiln

CLASSES = ("3-B", "3-K")
WEEK = {day: {"P1": "3-B", "P2": "3-K"} for day in ("Mon", "Tue", "Wed", "Thu")}
TUESDAY, WEDNESDAY, THURSDAY = date(2026, 10, 6), date(2026, 10, 7), date(2026, 10, 8)


def clay_school(folder: Path) -> Path:
    """3-B pinches owls on Monday, writes about them on Tuesday, and makes clay tiles from Wednesday on."""
    clay = [an_item("clay-portion", critical=True), an_item("clay-tag", into="box")]
    supplies: list[dict[str, Any]] = [
        {"id": "clay-portion", "name": "clay portion", "kind": "material"},
        {"id": "clay-tag", "name": "clay tag", "kind": "paper"},
        {"id": "white-9x12", "name": "white paper 9x12", "kind": "paper"},
    ]
    return small_school(
        folder,
        students=26,
        timetable=WEEK,
        teaching={"3": ["owls", "tiles"]},
        supplies=supplies,
        lessons=[
            a_lesson("owls", [a_part("pinch", clay, tags=["clay"]), a_part("write", [an_item("white-9x12")])]),
            a_lesson("tiles", [a_part("roll", clay, tags=["clay"]), a_part("carve", [], tags=["clay"])]),
        ],
        kits=[a_kit("clay", {})],
    )


@pytest.fixture
def two_broke(tmp_path: Path) -> Path:
    """3-B made owls on Mon 5 Oct; on Tuesday morning the kiln is opened, and those of no. 6 and 19 are broken."""
    data = clay_school(tmp_path)
    with opened(data) as book:
        for class_id in CLASSES:
            teach(book, MONDAY, class_id)
        close(book)
    told = said("broken", "3-B", "6,19", data=data, on=TUESDAY, clock="7:30")
    assert "3-B: remake 2: no. 6 and 19" in told.out
    assert "They were made in part 1 of Owls" in told.out
    return data


def test_what_broke_waits_for_a_visit_with_clay(two_broke: Path) -> None:
    assert kit_of("3-B", two_broke, TUESDAY) == {}
    (held,) = [each["what"] for each in cautions_of("3-B", two_broke, TUESDAY) if "make again" in each["what"]]
    assert "2 children of Owls, part 1, pieces to make again: held until the class has clay again" in held


def test_two_portions_and_tags_are_packed_for_the_next_visit_with_clay(two_broke: Path) -> None:
    for class_id in CLASSES:
        said("report", class_id, "--as-planned", data=two_broke, on=TUESDAY)
    said("close", data=two_broke, on=TUESDAY)
    assert kit_of("3-B", two_broke, WEDNESDAY) == {"clay-portion": 2, "clay-tag": 2}
    assert kit_of("3-K", two_broke, WEDNESDAY) == {}
    lines = [each for each in morning_of(two_broke, WEDNESDAY)["lines"] if each["class"] == "3-B"]
    assert all("remake 2: pieces of part 1 of Owls broke" in each["because"][0]["text"] for each in lines)


def test_who_made_and_lost_a_thing_was_not_absent(two_broke: Path) -> None:
    with Book.open(two_broke, write=False, today=TUESDAY) as book:
        (owed,) = book.opening(WEDNESDAY).owed["3-B"]
        assert owed == Owed("owls", 1, TUESDAY, (6, 19), broken=True)
        assert say_owed((owed,)) == "6: remake part 1; 19: remake part 1"
        assert book.day(WEDNESDAY).behind == ()


def test_a_kit_handed_out_without_clay_leaves_them_owed_and_one_with_clay_does_not(two_broke: Path) -> None:
    for day, following, left in ((TUESDAY, WEDNESDAY, ((6, 19),)), (WEDNESDAY, THURSDAY, ())):
        said("report", "3-B", "--as-planned", "--handed-out", "yes", data=two_broke, on=day)
        said("report", "3-K", "--as-planned", data=two_broke, on=day)
        said("close", data=two_broke, on=day)
        with Book.open(two_broke, write=False, today=following) as book:
            assert tuple(each.numbers for each in book.opening(following).owed.get("3-B", ())) == left


def test_absent_when_it_was_to_be_made_again_stays_owed(two_broke: Path) -> None:
    for class_id in CLASSES:
        said("report", class_id, "--as-planned", data=two_broke, on=TUESDAY)
    said("close", data=two_broke, on=TUESDAY)
    said("report", "3-B", "--outcome", "done", "--missed", "19", "--handed-out", "yes", data=two_broke, on=WEDNESDAY)
    said("close", data=two_broke, on=WEDNESDAY)
    with Book.open(two_broke, write=False, today=THURSDAY) as book:
        owed = {(each.lesson, each.part, each.numbers, each.broken) for each in book.opening(THURSDAY).owed["3-B"]}
    assert owed == {("owls", 1, (19,), True), ("tiles", 1, (19,), False)}


def test_broken_without_saying_whose_adds_up(two_broke: Path) -> None:
    said("broken", "3-B", "--count", "1", data=two_broke, on=TUESDAY)
    told = said("broken", "3-B", "--count", "1", "--lesson", "owls", "--part", "1", data=two_broke, on=TUESDAY)
    assert "3-B: remake 1: 1 without a number" in told.out
    with Book.open(two_broke, write=False, today=TUESDAY) as book:
        (owed,) = book.opening(WEDNESDAY).owed["3-B"]
    assert (owed.numbers, owed.count) == ((6, 19), 2)


def test_whose_and_what_must_be_known(two_broke: Path) -> None:
    told = refused("broken", "3-B", data=two_broke, on=TUESDAY)
    assert told == "Say whose pieces broke, or how many: trundle broken 3-B 6,19."
    told = refused("broken", "3-B", "36", data=two_broke, on=TUESDAY)
    assert told == "There is no number 36 on the list of a class of 26."
    assert refused("broken", "3-B", "6", "--part", "3", data=two_broke, on=TUESDAY) == "--part: Owls has 2 parts."
    assert refused("broken", "3-B", "6", data=two_broke).startswith("3-B has made nothing yet.")


# ------------------------------------------------------------------------------- T63 work that hangs on a wall


@pytest.fixture
def twelve_hang(tmp_path: Path) -> Path:
    """12 pieces of 3-B hang in the hall from Tue 13 to Fri 30 Oct 2026; part 3 of Burlap Birds is next."""
    data = reference_school(tmp_path)
    with opened(data) as book:
        teach_all(book, MONDAY)
        close(book)
    told = said("hanging", "3-B", "12", "--until", "2026-10-30", data=data, on=TUESDAY_13)
    assert "3-B: 12 pieces hang until Fri 30 Oct" in told.out
    return data


def folder_line(data: Path, on: date = NEXT_DAY_A) -> str:
    return next(str(each["name"]) for each in morning_of(data, on)["lines"] if each["supply"] == "folder 3-B")


def test_the_folder_says_how_many_are_here(twelve_hang: Path) -> None:
    assert folder_line(twelve_hang) == "class folder 3-B, 12 of 24 here"


def test_a_part_that_needs_them_is_stopped_for_twelve(twelve_hang: Path) -> None:
    (caution,) = [each for each in cautions_of("3-B", twelve_hang, NEXT_DAY_A) if "hang" in each["what"]]
    assert caution["critical"]
    assert caution["what"].startswith(
        "12 pieces hang until Fri 30 Oct: 12 children cannot go on with part 3 of Burlap Birds."
    )
    assert not [each for each in cautions_of("3-K", twelve_hang, NEXT_DAY_A) if "hang" in each["what"]]


def test_back_in_the_folder_everything_is_as_before(twelve_hang: Path) -> None:
    assert "all work is back in the folder" in said("hanging", "3-B", "--back", data=twelve_hang, on=NEXT_DAY_A).out
    assert folder_line(twelve_hang) == "class folder 3-B"
    assert not [each for each in cautions_of("3-B", twelve_hang, NEXT_DAY_A) if "hang" in each["what"]]
    said("undo", data=twelve_hang, on=NEXT_DAY_A)
    assert folder_line(twelve_hang) == "class folder 3-B, 12 of 24 here"


def test_on_the_last_day_they_are_to_be_taken_down_and_one_answer_does_it(twelve_hang: Path) -> None:
    asked = [each["what"] for each in morning_of(twelve_hang, FRIDAY_30)["matters"] if each["kind"] == "work away"]
    assert asked == ["12 pieces hang until Fri 30 Oct of 3-B: take down, back into folder 3-B"]
    assert not [each for each in morning_of(twelve_hang, NEXT_DAY_A)["matters"] if each["kind"] == "work away"]
    said("answer", "take down", "back in the folder", data=twelve_hang, on=FRIDAY_30)
    with Book.open(twelve_hang, write=False, today=date(2026, 11, 2)) as book:
        state = book.opening(date(2026, 11, 2))
    assert (state.work_away, [each for each in state.carried if each.kind == "work away"]) == ({}, [])


def test_until_somebody_says_so_they_are_not_back(twelve_hang: Path) -> None:
    day_a_after = date(2026, 11, 9)
    while not any(each["class"] == "3-B" for each in morning_of(twelve_hang, day_a_after)["visits"]):
        day_a_after = date.fromordinal(day_a_after.toordinal() + 1)
    said("report", "3-B", "--outcome", "no", data=twelve_hang, on=NEXT_DAY_A)
    assert "12 of 24 here" in folder_line(twelve_hang, day_a_after)


def test_what_cannot_hang_is_refused(twelve_hang: Path) -> None:
    assert refused("hanging", "3-B", "25", data=twelve_hang) == "3-B has 24 children; 25 pieces cannot be away."
    assert refused("hanging", "3-B", data=twelve_hang).startswith("Say how many pieces hang")
    assert "before" in refused("hanging", "3-B", "3", "--until", "2026-10-01", data=twelve_hang)
    assert "--back" in refused("hanging", "3-B", "0", data=twelve_hang)


# ---------------------------------------------------------------------------------- T17 absent three times


def absent_in_three_parts(folder: Path) -> Path:
    """No. 11 of 3-B missed parts 1, 2 and 3 of 4, of which 1 is made up in full; day A of Thu 22 Oct comes."""
    owed = (Owed(BIRDS, 1, FRIDAY_BEFORE, numbers=(11,)),)
    data = in_the_evening(reference_school(folder), owed={"3-B": owed})
    with opened(data) as book:
        for day in (MONDAY, NEXT_DAY_A):
            book.today = day
            teach_all(book, day, but=("3-B",))
            teach(book, day, "3-B", absent=(11,))
            close(book, day)
    return data


@pytest.fixture
def eleven(tmp_path: Path) -> Path:
    return absent_in_three_parts(tmp_path)


def owed_in(data: Path, on: date) -> str:
    with Book.open(data, write=False, today=on) as book:
        return say_owed(book.opening(on).owed.get("3-B", ()))


def test_she_is_asked_at_the_days_end_and_one_answer_excuses_the_child(eleven: Path) -> None:
    said("answer", "no. 11 has missed", "excuse", data=eleven, on=THURSDAY_22)
    assert kit_of("3-B", eleven, THURSDAY_22) == {}
    assert not [each for each in cautions_of("3-B", eleven, THURSDAY_22) if "excuse" in each["what"]]
    said("report", "3-B", "--as-planned", data=eleven, on=THURSDAY_22)
    said("close", data=eleven, on=THURSDAY_22)
    assert owed_in(eleven, date(2026, 10, 30)) == ""


def test_excused_by_the_command_line(eleven: Path) -> None:
    assert "3-B: no. 11 is excused" in said("excuse", "3-B", "11", data=eleven, on=THURSDAY_22).out
    assert kit_of("3-B", eleven, THURSDAY_22) == {}
    assert morning_of(eleven, THURSDAY_22)["matters"] == []
    assert refused("excuse", "3-B", "11", data=eleven, on=THURSDAY_22) == "No. 11 of 3-B is owed nothing."
    said("undo", data=eleven, on=THURSDAY_22)
    assert kit_of("3-B", eleven, THURSDAY_22) == {"white-9x12": 1, "yarn-ball": 2}


def test_absent_on_the_day_it_is_excused_it_is_excused_from_that_part_too(eleven: Path) -> None:
    said("report", "3-B", "--outcome", "done", "--missed", "11,4", data=eleven, on=THURSDAY_22)
    said("excuse", "3-B", "11", data=eleven, on=THURSDAY_22)
    said("close", data=eleven, on=THURSDAY_22)
    assert owed_in(eleven, date(2026, 10, 30)) == "4: part 4"


@pytest.fixture
def long_way_behind(tmp_path: Path) -> Path:
    """No. 11 of 3-B missed the first three parts of a lesson, made up in full; each has a short version too."""
    parts = [
        a_part(f"part {n}", [an_item("white-9x12", 3)], catch_up="full", short_version=[an_item("white-9x12")])
        for n in range(1, 6)
    ]
    supplies = [{"id": "white-9x12", "name": "white paper 9x12", "kind": "paper", "on_hand": 900}]
    data = small_school(
        tmp_path,
        timetable={day: {"P1": "3-B"} for day in ("Mon", "Tue", "Wed", "Thu", "Fri")},
        teaching={"3": ["paper-hills"]},
        lessons=[a_lesson("paper-hills", parts)],
        supplies=supplies,
    )
    with opened(data) as book:
        for day in (MONDAY, TUESDAY, WEDNESDAY):
            book.today = day
            teach(book, day, "3-B", absent=(11,))
            close(book, day)
    return data


def test_the_short_version_is_packed_from_now_on(long_way_behind: Path) -> None:
    assert kit_of("3-B", long_way_behind, THURSDAY) == {"white-9x12": 9}
    said("excuse", "3-B", "11", "--short-version", data=long_way_behind, on=THURSDAY, clock="7:45")
    assert kit_of("3-B", long_way_behind, THURSDAY) == {"white-9x12": 3}
    said("report", "3-B", "--outcome", "done", "--missed", "4,11", data=long_way_behind, on=THURSDAY)
    said("close", data=long_way_behind, on=THURSDAY)
    # Part 4: no. 11 in the short version too, one sheet; no. 4 in full, three.
    friday = date(2026, 10, 9)
    assert kit_of("3-B", long_way_behind, friday) == {"white-9x12": 7}
    assert not [each for each in cautions_of("3-B", long_way_behind, friday) if "has missed" in each["what"]]


def test_what_went_home_is_ended_as_handed_out_and_off_the_stock(long_way_behind: Path) -> None:
    with opened(long_way_behind, THURSDAY) as book:
        before = book.opening(THURSDAY).on_hand["white-9x12"]
        teach(book, THURSDAY, "3-B")
        choose(book, THURSDAY, "missed much/3-B/paper-hills/11", "take home")
        close(book, THURSDAY)
        after = book.opening(date(2026, 10, 9))
    assert after.owed == {}
    assert before - after.on_hand["white-9x12"] == 72 + 9  # 24 children, 3 sheets each; and the three sets of 3


def test_the_answer_is_shown_and_can_be_another_one(long_way_behind: Path) -> None:
    with opened(long_way_behind, THURSDAY) as book:
        key = "missed much/3-B/paper-hills/11"
        asked = asked_at_the_end(book, THURSDAY)[key]
        assert asked.text == "3-B, no. 11 has missed 3 parts of Paper Hills: what to do?"
        assert [each.label for each in asked.choices] == ["excuse", "short version", "take home"]
        choose(book, THURSDAY, key, "excuse")
        assert asked_at_the_end(book, THURSDAY)[key].answer == "excuse"
        book.undo(THURSDAY)
        choose(book, THURSDAY, key, "short version")
        assert asked_at_the_end(book, THURSDAY)[key].answer == "short version"
        again = opened_again(book)
        assert asked_at_the_end(again, THURSDAY)[key].answer == "short version"
        again.release()


def test_a_lesson_without_a_short_version_does_not_offer_it(tmp_path: Path) -> None:
    owed = tuple(Owed("pinch-owls", part, FRIDAY_BEFORE, (3,)) for part in (1, 2, 3))
    data = in_the_evening(reference_school(tmp_path), owed={"4-D": owed})
    with opened(data) as book:
        matters = at_day_end(book.plan, book.day(MONDAY), book.marks(MONDAY), at("15:00"))
        (asked,) = [each for each in matters if each.key.startswith("missed much/")]
    assert [each.label for each in asked.choices] == ["excuse", "take home"]
    assert "has no short version" in refused("excuse", "4-D", "3", "--short-version", data=data)


# --------------------------------------------------------------------- T18 absent again on the catch-up day


def test_absent_again_on_the_catch_up_day_stays_for_the_next_visit_of_the_class(tmp_path: Path) -> None:
    data = in_the_evening(reference_school(tmp_path), owed={"3-B": (Owed(BIRDS, 1, FRIDAY_BEFORE, numbers=(4,)),)})
    said("report", "3-B", "--outcome", "done", "--missed", "4", "--handed-out", "yes", data=data)
    said("close", data=data)
    assert owed_in(data, NEXT_DAY_A) == "4: parts 1 and 2"
    assert not [each for each in morning_of(data, TUESDAY)["matters"] if each["class"] == "3-B"]
    assert kit_of("3-B", data, TUESDAY) == {}
    assert kit_of("3-B", data, NEXT_DAY_A) == {"white-9x12": 1, "yarn-ball": 1}


# ------------------------------------------------------------------------ T20 nobody said who was absent


def test_untold_one_key_answers_and_until_then_both_parts_are_packed(tmp_path: Path) -> None:
    """24 and 25 children share a box: 49 balls and a spare of 5 that covers the reserve of 4. Alone 24 and 4 are 28."""
    need = {}
    for alone in (True, False):
        timetable = reference_timetable(but="3-K" if alone else "")
        data = reference_school(tmp_path / str(alone), timetable=timetable)
        with opened(data) as book:
            teach_all(book, MONDAY, but=("3-B",))
            close(book)
        fields = morning_of(data, NEXT_DAY_A)
        assert fields["questions"][0]["text"] == "3-B on Mon 5 Oct: Burlap Birds, part 2 done?"
        steps = {each["class"]: [step["part"] for step in each["steps"]] for each in fields["visits"]}
        assert steps["3-B"] == [2, 3]
        lines = [each for each in fields["lines"] if each["supply"] == "yarn-ball"]
        need[alone] = [(each["need"], each["class"]) for each in lines]
        with opened(data, NEXT_DAY_A) as book:
            choose(book, MONDAY, "reached/P3 3-B", "done, nobody missing")  # one key
            assert book.day(NEXT_DAY_A).questions == ()
            assert [step.part for step in visit_of(book.day(NEXT_DAY_A), "3-B").steps] == [3]
    assert need == {True: [(28, "")], False: [(54, "")]}


def test_handed_out_without_anybody_owed_changes_nothing(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        teach_all(book, MONDAY)
        book.do(MONDAY, HandedOut(at=at("15:07"), visit=visit_of(book.day(MONDAY), "3-B").key, given=True))
        close(book)
        assert book.opening(NEXT_DAY_A).owed == {}
