"""The law of owing: whoever missed a part is owed it exactly once, until handed out, excused or gone."""

from __future__ import annotations

from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import Struct, structs

from checklists.daybook import entries as book
from checklists.daybook.children import as_told
from checklists.daybook.class_list import list_after, list_before
from checklists.daybook.closing import close_day
from checklists.daybook.marks import marks_of
from checklists.daybook.opening import first_state
from checklists.daybook.owing import in_short_version, with_owed, without_number
from checklists.daybook.state import Owed, State
from checklists.files.plan_folder import read_plan
from checklists.lines.day import day_on
from checklists.plan.class_notes import classes_of, last_number
from checklists.plan.records import Plan, SchoolClass
from checklists.rules.read import RuleSet
from tests.daybook.saying import busy_school
from tests.days import at, visit_of
from tests.schools import MONDAY

CLASS = "3-B"
NUMBERS = (1, 2, 3, 24, 25)
"""Few, so that the same child is met again and again; no. 25 is only there once somebody has joined."""
Missed = set[tuple[int, str, int]]
"""Class-list number, lesson, part."""


@lru_cache(maxsize=1)
def school() -> tuple[Plan, RuleSet]:
    with TemporaryDirectory() as folder:
        read = read_plan(busy_school(Path(folder)))
    assert read.plan is not None, read.problems
    assert read.rules is not None
    return read.plan, read.rules


class Afternoon(Struct, frozen=True):
    """What happens to 3-B on one day, in this order."""

    joined: bool
    left: int
    """Class-list number; 0: nobody."""
    taught: bool
    absent: frozenset[int]
    handed_out: bool
    settled: int
    """Of whom something is decided; 0: of nobody."""
    how: book.Settled


afternoons = st.builds(
    Afternoon,
    joined=st.sampled_from([False, False, False, True]),
    left=st.sampled_from([0, 0, 0, 0, 1, 24]),
    taught=st.sampled_from([True, True, True, False]),
    absent=st.frozensets(st.sampled_from(NUMBERS), max_size=3),
    handed_out=st.booleans(),
    settled=st.sampled_from([0, 0, *NUMBERS]),
    how=st.sampled_from(["excused", "short version", "at home"]),
)


def owed_pairs(state: State) -> list[tuple[int, str, int]]:
    owed = state.owed.get(CLASS, ())
    return sorted((number, each.lesson, each.part) for each in owed for number in each.numbers)


def with_class(plan: Plan, entry: book.AnyEntry) -> Plan:
    return structs.replace(plan, classes=list_after(classes_of(plan), [entry]).classes)


@settings(max_examples=60, deadline=None)
@given(st.lists(afternoons, min_size=1, max_size=6))
def test_whoever_missed_a_part_is_owed_it_once_until_handed_out_excused_or_gone(days: list[Afternoon]) -> None:
    plan, rules = school()
    state, model = first_state(plan), Missed()
    for n, told in enumerate(days):
        day = date.fromordinal(MONDAY.toordinal() + n % 5 + 7 * (n // 5))
        plan, state, model = after(plan, rules, state, model, day, told)
        assert owed_pairs(state) == sorted(model)


def after(
    plan: Plan, rules: RuleSet, state: State, model: Missed, day: date, told: Afternoon
) -> tuple[Plan, State, Missed]:
    """One day gone through twice: by the program, and as a list of who owes what is kept by hand."""
    moment, class_ = at("15:05", day), plan.class_by_id[CLASS]
    entries: list[book.AnyEntry] = []
    lesson, part = place_of(plan, state)
    if told.joined:
        number = last_number(class_) + 1
        entries.append(book.Joined(at=moment, class_id=CLASS, number=number))
        model = model | {(number, lesson, before) for before in range(1, part)}
    if told.left and told.left not in class_.left:
        entries.append(book.Left(at=moment, class_id=CLASS, number=told.left))
        model = {each for each in model if each[0] != told.left}
    for entry in entries:
        plan = with_class(plan, entry)
    class_ = plan.class_by_id[CLASS]
    absent = tuple(sorted(number for number in told.absent if is_there(class_, number)))
    if told.settled:
        decided = book.Excused(at=moment, class_id=CLASS, number=told.settled, lesson=lesson, how=told.how)
        entries.append(decided)
        model = without_settled(model, decided)
    opening = as_told(plan, day, marks_of(entries), state)
    visit = visit_of(day_on(plan, rules, opening, day), CLASS)
    outcome: book.OutcomeKind = "done" if told.taught else "not taught"
    entries.append(book.Reported(at=moment, visit=visit.key, outcome=outcome, absent=absent, absences_known=True))
    if told.handed_out:
        entries.append(book.HandedOut(at=moment, visit=visit.key, given=True))
        model = {each for each in model if each[0] in absent}
    if told.taught:
        model = model | {(number, lesson, part) for number in absent}
    if told.settled:
        model = without_settled(model, decided)
    marks = marks_of(entries)
    return plan, close_day(plan, day_on(plan, rules, opening, day), marks, state), model


def place_of(plan: Plan, state: State) -> tuple[str, int]:
    progress = state.progress.get(CLASS)
    return (progress.lesson, progress.part) if progress is not None else (plan.teaching["3"][0], 1)


def is_there(class_: SchoolClass, number: int) -> bool:
    return number <= last_number(class_) and number not in class_.left


def without_settled(model: Missed, decided: book.Excused) -> Missed:
    if decided.how == "short version":
        return model
    return {each for each in model if each[:2] != (decided.number, decided.lesson)}


# ------------------------------------------------------------------------------------------- records by themselves

records = st.builds(
    Owed,
    lesson=st.sampled_from(["birds", "owls"]),
    part=st.integers(1, 3),
    since=st.dates(MONDAY, date(2026, 10, 9)),
    numbers=st.frozensets(st.integers(1, 5), max_size=3).map(lambda numbers: tuple(sorted(numbers))),
    count=st.integers(0, 2),
    unknown=st.booleans(),
    new=st.booleans(),
    broken=st.booleans(),
    short=st.booleans(),
)


def put_together(fresh: list[Owed]) -> tuple[Owed, ...]:
    owed: tuple[Owed, ...] = ()
    for each in fresh:
        owed = with_owed(owed, each)
    return owed


@given(st.lists(records, max_size=8))
def test_a_child_is_in_one_record_of_a_part_but_for_what_broke(fresh: list[Owed]) -> None:
    owed = put_together(fresh)
    for broken in (True, False):
        told = {(n, each.lesson, each.part) for each in fresh if each.broken is broken for n in each.numbers}
        kept = [(n, each.lesson, each.part) for each in owed if each.broken is broken for n in each.numbers]
        assert sorted(kept) == sorted(told)


@given(st.lists(records, max_size=8), st.integers(1, 5), st.sampled_from(["birds", "owls", None]))
def test_without_a_child_everybody_else_is_owed_what_they_were(
    fresh: list[Owed], number: int, lesson: str | None
) -> None:
    owed = put_together(fresh)
    left = without_number(owed, number, lesson)

    def pairs(every: tuple[Owed, ...]) -> list[tuple[int, str, int, bool]]:
        return sorted((n, each.lesson, each.part, each.broken) for each in every for n in each.numbers)

    assert pairs(left) == [each for each in pairs(owed) if each[0] != number or lesson not in (None, each[1])]
    assert sum(each.count for each in left) == sum(each.count for each in owed)


@given(st.lists(records, max_size=8), st.integers(1, 5))
def test_the_short_version_changes_how_and_not_what_a_child_is_owed(fresh: list[Owed], number: int) -> None:
    owed = put_together(fresh)
    short = in_short_version(owed, number, "birds")
    for each in short:
        if number in each.numbers and each.lesson == "birds" and not each.broken:
            assert each.short
    before = sorted((n, each.lesson, each.part, each.broken) for each in owed for n in each.numbers)
    assert sorted((n, each.lesson, each.part, each.broken) for each in short for n in each.numbers) == before
    assert sum(each.count for each in short) == sum(each.count for each in owed)


# ------------------------------------------------------------------------------------------------- the class list


@given(st.lists(st.sampled_from([0, 1, 2, 3]), max_size=6))
def test_what_was_said_of_a_class_list_can_be_taken_back_in_order(said: list[int]) -> None:
    """0 is a new child, another number one who leaves, if still there."""
    plan, _ = school()
    moment, steps = datetime(2026, 10, 5, 8, 0), []
    classes = classes_of(plan)
    for number in said:
        class_ = next(each for each in classes.classes if each.id == CLASS)
        if number in class_.left:
            continue
        entry: book.AnyEntry = (
            book.Left(at=moment, class_id=CLASS, number=number)
            if number
            else book.Joined(at=moment, class_id=CLASS, number=last_number(class_) + 1)
        )
        steps.append((classes, entry))
        classes = list_after(classes, [entry])
        assert list_after(classes, [entry]) == classes, "said twice it is done once"
    for before, entry in reversed(steps):
        classes = list_before(classes, [entry])
        assert classes == before
