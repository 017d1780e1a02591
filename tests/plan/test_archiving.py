"""Archiving, bringing back, taking out, copying: nothing else changes, and what is in use is not lost."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from msgspec import structs

from checklists.book import Book
from checklists.daybook.marks import Marks
from checklists.daybook.open_about import open_about
from checklists.daybook.state import Case, Loan, Owed, Progress, State, Unsure
from checklists.daybook.whereabouts import whereabouts
from checklists.files.plan_check import problems_in
from checklists.looking_back import how_it_stands
from checklists.plan.archiving import (
    ARCHIVED,
    CannotArchive,
    archive,
    bring_back,
    is_archived,
    remove,
    things_of,
)
from checklists.plan.class_notes import classes_of, things_to_avoid, things_to_have
from checklists.plan.copying import copy_of
from checklists.plan.naming import BELLS, CLASS, KIT, LESSON, ROOM, SUPPLY
from checklists.plan.next_year import next_year
from checklists.plan.plan_files import PlanFiles, files_of, plan_of
from checklists.plan.records import Kit, Room, Supply
from checklists.plan.uses import uses_of
from checklists.rules.read import builtin_supplies
from checklists.rules.records import RuleFile
from tests.days import at, opened, opened_again
from tests.schools import FRIDAY_BEFORE, MONDAY, demo_school, in_the_evening, reference_school, small_school


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> PlanFiles:
    folder = tmp_path_factory.mktemp("demo")
    demo_school(folder)
    with Book.open(folder, today=MONDAY) as book:
        return book.plan_files


def everything(files: PlanFiles) -> list[tuple[str, str]]:
    return [(kind, each.id) for kind in ARCHIVED for each in things_of(files, kind)]


def test_what_is_archived_and_brought_back_is_as_it_was_but_for_the_timetable_and_what_is_taught(
    demo: PlanFiles,
) -> None:
    archived = refused = 0
    for kind, name in everything(demo):
        try:
            after = archive(demo, kind, name)
        except CannotArchive as why:
            assert " is in use: " in str(why)
            refused += 1
            continue
        archived += 1
        assert is_archived(after, kind, name)
        assert [(of, each.id) for of in ARCHIVED for each in things_of(after, of) if each.archived] == [(kind, name)]
        back = bring_back(after, kind, name)
        assert back == structs.replace(demo, classes=back.classes)
        assert (
            structs.replace(back.classes, timetable=demo.classes.timetable, teaching=demo.classes.teaching)
            == demo.classes
        )
    assert archived > 20 and refused > 20


def test_the_plan_fits_as_before_with_something_archived_and_is_written_and_read_as_it_is(demo: PlanFiles) -> None:
    before = {str(each) for each in problems_in(demo)}
    for kind, name in everything(demo)[::4]:
        try:
            after = archive(demo, kind, name)
        except CannotArchive:
            continue
        assert {str(each) for each in problems_in(after)} <= before
        assert files_of(plan_of(after, builtin_supplies()), builtin_supplies()) == after


def test_an_archived_class_comes_no_more_and_is_in_no_list_but_its_past_is_told(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        before = len(book.day(MONDAY).visits)
        book.change_files(archive(book.plan_files, CLASS, "3-B"), "archived", at("7:00"))
        again = opened_again(book)
        assert len(again.day(MONDAY).visits) == before - 1
        assert "3-B" not in {each.id for each in again.plan.classes}
        assert again.plan.class_by_id["3-B"].archived
        assert [each.id for each in again.plan_files.classes.classes][2] == "3-B"
        again.take_files_back()
        assert len(again.day(MONDAY).visits) == before
        again.release()


def test_nobody_is_asked_about_an_archived_class_and_it_stands_in_no_list(tmp_path: Path) -> None:
    unsure = Unsure(FRIDAY_BEFORE, "P3 3-B", "burlap-birds", 1)
    more = {"unsure": {"3-B": (unsure,)}, "owed": {"3-B": (Owed("burlap-birds", 1, FRIDAY_BEFORE, (4,)),)}}
    folder = in_the_evening(reference_school(tmp_path), **more)
    with opened(folder) as book:
        assert [each.class_id for each in book.day(MONDAY).questions] == ["3-B"]
        before = len(how_it_stands(book, MONDAY).standings)
        book.change_files(archive(book.plan_files, CLASS, "3-B"), "archived", at("7:00"))
        assert book.day(MONDAY).questions == ()
        assert how_it_stands(book, MONDAY).owed == {}
        assert len(how_it_stands(book, MONDAY).standings) == before - 1
        assert "folder 3-B" not in {each.key for each in whereabouts(book.plan, book.day(MONDAY), Marks(), State())}
        assert bring_back(book.plan_files, CLASS, "3-B").classes.classes[2].id == "3-B"
        assert book.opening(MONDAY).owed == more["owed"]
        year = next_year(book.plan.school, classes_of(book.plan), date(2027, 8, 30), date(2028, 6, 9), ())
        assert "3-B" not in {each.class_id for each in year.moves}
        assert year.classes.classes[2] == book.plan.class_by_id["3-B"]


def test_an_archived_supply_is_offered_nowhere_and_a_rule_may_go_on_naming_what_is_archived(tmp_path: Path) -> None:
    rule = {"id": "r", "title": "R", "when": ["class is 3-K"], "because": "so", "checks": [{"what": "is it there?"}]}
    supply = Supply("old-glue", "old glue", marks=("sticky",))
    with opened(small_school(tmp_path, rules={"rules": [rule]})) as book:
        files = structs.replace(book.plan_files, supplies=(*book.plan_files.supplies, supply))
        book.change_files(archive(files, SUPPLY, "old-glue"), "archived", at("7:00"))
        assert "old-glue" not in {each.word for each in things_to_have(book.plan)}
        assert not {"old-glue", "sticky"} & {each.word for each in things_to_avoid(book.plan, {}, {})}
        assert book.plan.name_of_supply("old-glue") == "old glue"
        book.change_files(archive(book.plan_files, CLASS, "3-K"), "archived", at("7:01"))
        assert book.problems == ()


@pytest.mark.parametrize(
    ("kind", "name", "why"),
    [
        (SUPPLY, "yarn-ball", "yarn ball is in use: Yarn Birds, part 1: 1 for each student"),
        (SUPPLY, "scissors", "30 always stand on the cart"),
        (SUPPLY, "pencil", 'There is no supply of yours "pencil"'),
        (ROOM, "12", "Room 12 is in use: class 3-B is taught there"),
        (LESSON, "nothing", 'There is no lesson "nothing"'),
    ],
)
def test_what_something_needs_is_not_archived(tmp_path: Path, kind: str, name: str, why: str) -> None:
    with opened(small_school(tmp_path)) as book, pytest.raises(CannotArchive, match=why):
        archive(book.plan_files, kind, name)


def test_what_only_archived_things_need_can_be_archived_but_not_taken_out(tmp_path: Path) -> None:
    with opened(small_school(tmp_path)) as book:
        files = archive(archive(book.plan_files, LESSON, "yarn-birds"), SUPPLY, "yarn-ball")
    assert files.classes.teaching == {"3": ("paper-hills",)}
    with pytest.raises(
        CannotArchive, match=r"yarn ball is in use: Yarn Birds, part 1: 1 for each student \(archived\)"
    ):
        remove(files, RuleFile(), SUPPLY, "yarn-ball")
    gone = remove(remove(files, RuleFile(), LESSON, "yarn-birds"), RuleFile(), SUPPLY, "yarn-ball")
    assert problems_in(gone) == ()
    with pytest.raises(CannotArchive, match="archived already"):
        archive(files, LESSON, "yarn-birds")
    with pytest.raises(CannotArchive, match="not archived"):
        bring_back(files, LESSON, "paper-hills")


def test_a_class_with_something_open_is_not_taken_out_and_one_that_is_leaves_its_name_to_nobody(tmp_path: Path) -> None:
    with opened(small_school(tmp_path)) as book:
        plan, files = book.plan, archive(book.plan_files, CLASS, "3-B")
    state = State(owed={"3-B": (Owed("paper-hills", 1, MONDAY, (4, 7)),)}, progress={"3-B": Progress("paper-hills", 2)})
    said = open_about(plan, state, CLASS, "3-B")
    assert said == ("2 children missed a part", "it is in the middle of Paper Hills")
    with pytest.raises(
        CannotArchive, match="Class 3-B is not done with: 2 children missed a part; it is in the middle"
    ):
        remove(files, RuleFile(), CLASS, "3-B", said)
    assert open_about(plan, state, CLASS, "3-K") == ()
    gone = remove(files, RuleFile(), CLASS, "3-B")
    assert [each.id for each in gone.classes.classes] == ["3-K"]
    assert gone.school.daybook_names.gone == ("3-B",)


def test_what_is_open_about_lessons_supplies_kits_and_rooms_is_said(tmp_path: Path) -> None:
    with opened(small_school(tmp_path)) as book:
        plan = structs.replace(book.plan, kits=(Kit("paste", "Paste"),))
    case = Case("key", "scissors", 1, MONDAY, "12", "P1", "3-B", 13, 12)
    state = State(
        progress={"3-B": Progress("paper-hills", 2)},
        contents={"paste": {"glue-stick": 5}, "cart": {"scissors": 30}},
        cases=(case,),
        lent=(Loan("k", "scissors", 2, MONDAY, "8:40", "Ms. A"),),
    )
    assert open_about(plan, state, LESSON, "paper-hills") == ("3-B is in the middle of it",)
    of_scissors = ("Cart holds 30", "1 of it missing", "2 are lent to Ms. A")
    assert open_about(plan, state, SUPPLY, "scissors") == of_scissors
    assert open_about(plan, state, KIT, "paste") == ("5 glue stick are in it",)
    assert open_about(plan, state, ROOM, "14") == ()


def test_bells_that_no_ordinary_day_goes_by_can_be_taken_out(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        files = book.plan_files
    assert [each.id for each in remove(files, RuleFile(), BELLS, "two hours later").school.bells] == ["regular"]
    with pytest.raises(CannotArchive, match="regular bell schedule"):
        remove(files, RuleFile(), BELLS, "regular")


def test_a_copy_is_the_same_under_another_name_and_nothing_uses_it_yet(demo: PlanFiles) -> None:
    for kind, name in [*everything(demo)[::5], (BELLS, demo.school.bells[0].id)]:
        after, ident = copy_of(demo, kind, name)
        assert ident != name and uses_of(after, RuleFile(), kind, ident) == ()
        assert not [each for each in problems_in(after) if each.level == "grave"]
        if kind != BELLS:
            assert len(things_of(after, kind)) == len(things_of(demo, kind)) + 1
            assert remove(after, RuleFile(), kind, ident).supplies == demo.supplies
            _, other = copy_of(after, kind, name)
            assert other not in (ident, name)


def test_a_room_with_an_entry_that_nobody_is_in_can_be_archived_with_its_walks(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        school = book.plan_files.school
        files = structs.replace(book.plan_files, school=structs.replace(school, rooms=(*school.rooms, Room("99"))))
    after = archive(files, ROOM, "99")
    assert "99" not in plan_of(after, ()).rooms
    assert [each for each in problems_in(after) if each.level == "grave"] == []
