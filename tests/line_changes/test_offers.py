"""What a line offers to change: for which visits it counts, and that nothing else of the plan is touched by it."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from checklists.daybook.opening import first_state
from checklists.daybook.state import Owed, Progress
from checklists.files.daybook_folder import load
from checklists.files.plan_folder import read_plan
from checklists.line_changes.of_lesson import amount_typed
from checklists.line_changes.of_supply import spare_typed
from checklists.line_changes.offers import offers_for
from checklists.line_changes.records import Offer
from checklists.lines.day import day_on
from checklists.lines.records import Day
from checklists.plan.class_notes import CannotNote
from checklists.plan.plan_files import PlanFiles, files_of
from checklists.plan.records import Plan, Spare
from checklists.rules.read import RuleSet, builtin_supplies
from tests.days import NEXT_DAY_A, at, close, opened, teach_all
from tests.schools import FRIDAY_BEFORE, MONDAY, REFERENCE_PLACES, reference_school


@lru_cache(maxsize=1)
def reference() -> tuple[Plan, RuleSet, Day, PlanFiles]:
    """The reference school on Monday; 3-B owes part 1 to number 4."""
    with TemporaryDirectory() as folder:
        read = read_plan(reference_school(Path(folder)))
    assert read.plan is not None and read.rules is not None
    places = {class_: Progress(lesson=lesson, part=part) for class_, (lesson, part) in REFERENCE_PLACES.items()}
    owed = {"3-B": (Owed("burlap-birds", 1, FRIDAY_BEFORE, numbers=(4,)),)}
    state = structs.replace(first_state(read.plan), progress=places, owed=owed)
    day = day_on(read.plan, read.rules, state, MONDAY)
    return read.plan, read.rules, day, files_of(read.plan, builtin_supplies())


def offers_of(key: str) -> dict[str, Offer]:
    plan, rules, day, _ = reference()
    line = next(line for line in day.lines if line.key == key)
    return {offer.label: offer for offer in offers_for(plan, rules, day, line, at())}


def test_a_line_for_two_classes_offers_both_sizes_first_and_says_for_what_each_counts() -> None:
    offers = list(offers_of("box-3/yarn-ball").values())
    assert [each.label for each in offers[:2]] == [
        "3-B has 24 children: another number",
        "3-K has 25 children: another number",
    ]
    assert offers[0].counts == "every visit of 3-B"
    out = next(each for each in offers if each.label == "not any more")
    assert out.counts == "Burlap Birds, part 2, in every class"


def test_scissors_of_two_lessons_offer_each_of_them() -> None:
    plan, rules, day, _ = reference()
    line = next(line for line in day.lines if line.key == "cart/scissors")
    offers = offers_for(plan, rules, day, line, at())
    assert {each.counts for each in offers if each.label.startswith("not any more, ")} >= {
        "Paper Masks, part 2, in every class",
        "Burlap Birds, part 2, in every class",
    }


def test_a_thing_of_a_catch_up_kit_offers_nothing_of_the_lesson_but_the_class_and_the_supply() -> None:
    _, _, day, _ = reference()
    line = next(line for line in day.lines if line.catch_up_for)
    labels = list(offers_of(line.key))
    assert labels[0].startswith("3-B has 24 children")
    assert not any(label.startswith(("not any more", "not for")) for label in labels)
    assert any("another shelf" in label for label in labels)


def test_a_class_folder_is_no_supply_and_offers_its_rule_and_its_class() -> None:
    _, _, day, _ = reference()
    line = next(line for line in day.lines if line.supply == "folder 3-B")
    labels = list(offers_of(line.key))
    assert any(label.startswith("not by rule: ") for label in labels)
    assert not any("shelf" in label for label in labels)


def changes_at_once() -> list[tuple[str, str]]:
    """Every offer that is taken without typing anything: line and offer."""
    plan, rules, day, _ = reference()
    return [
        (line.key, offer.key)
        for line in day.lines
        for offer in offers_for(plan, rules, day, line, at())
        if offer.takes == "nothing"
    ]


@settings(max_examples=40, deadline=None)
@given(which=st.sampled_from(changes_at_once()))
def test_a_change_of_a_line_changes_one_item_of_one_lesson_and_no_other_file(which: tuple[str, str]) -> None:
    plan, rules, day, files = reference()
    line = next(line for line in day.lines if line.key == which[0])
    offer = next(each for each in offers_for(plan, rules, day, line, at()) if each.key == which[1])
    change = offer.make(files, "", "")
    assert change.files is not None and not change.entries and change.off is None
    assert (change.files.school, change.files.classes, change.files.supplies, change.files.kits) == (
        files.school,
        files.classes,
        files.supplies,
        files.kits,
    )
    different = [(a, b) for a, b in zip(files.lessons, change.files.lessons, strict=True) if a != b]
    assert len(different) == 1
    before, after = different[0]
    lists = [[*(part.items for part in lesson.parts), lesson.extension] for lesson in (before, after)]
    ((old, new),) = [(a, b) for a, b in zip(*lists, strict=True) if a != b]
    assert [item.supply for item in old if item not in new] == [line.supply]
    assert len(new) in (len(old), len(old) - 1)
    with pytest.raises(CannotNote):
        offer.make(change.files, "", "")


@pytest.mark.parametrize(
    ("typed", "spare"), [("3", Spare(3, 0)), ("10%", Spare(0, 10)), ("3 12.5 %", Spare(3, 12.5)), ("0", Spare(0, 0))]
)
def test_so_many_to_spare_is_a_number_a_percentage_or_both(typed: str, spare: Spare) -> None:
    assert spare_typed(typed) == spare


@pytest.mark.parametrize("typed", ["", " ", "x", "%", "300%", "-1", "1 2", "3.5"])
def test_what_is_no_spare_is_said(typed: str) -> None:
    with pytest.raises(CannotNote):
        spare_typed(typed)


@given(typed=st.text(max_size=12))
def test_an_amount_is_above_nothing_and_below_a_thousand_or_it_is_said_why_not(typed: str) -> None:
    try:
        assert 0 < amount_typed(typed) <= 1000
    except CannotNote as problem:
        assert "like 2 or 0.5" in str(problem)


def test_a_change_counts_from_today_on_and_a_closed_day_stays_as_it_was(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        teach_all(book, MONDAY)
        close(book)
        before = load(tmp_path, MONDAY).record
        book.today = NEXT_DAY_A
        day = book.day(NEXT_DAY_A)
        line = next(line for line in day.lines if line.supply == "yarn-ball")
        offers = offers_for(book.plan, book.rules, day, line, at(day=NEXT_DAY_A))
        change = next(each for each in offers if each.key == "size 3-B").make(book.plan_files, "20", "")
        assert change.files is not None
        book.change_files(change.files, change.said, at(day=NEXT_DAY_A))
        assert next(each.students for each in book.day(NEXT_DAY_A).visits if each.class_id == "3-B") == 20
        assert load(tmp_path, MONDAY).record == before
        assert book.check_chain() == ()
