"""Laws of changed days, over schools and changes drawn by chance: nothing a day can be changed to breaks its list."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from checklists.book import Book
from checklists.daybook import state as overnight
from checklists.daybook.closing import close_day
from checklists.daybook.entries import EVERYWHERE, Changed, Guests, Interruption
from checklists.daybook.marks import Marks
from checklists.daybook.opening import first_state
from checklists.files.plan_folder import read_plan
from checklists.lines.day import day_on
from checklists.plan.records import Plan
from checklists.rules.read import RuleSet
from tests.days import at, opened
from tests.references.random_schools import FIRST_DAY, write_random_school

SEEDS = range(6)


@lru_cache(maxsize=len(SEEDS))
def school(seed: int) -> tuple[Plan, RuleSet]:
    with TemporaryDirectory() as folder:
        read = read_plan(write_random_school(Path(folder), seed))
    assert read.plan is not None and read.rules is not None, read.problems
    return read.plan, read.rules


@st.composite
def some_changes(draw: st.DrawFn, plan: Plan) -> Changed:
    """Anything at all that can be said of a day, sense or nonsense."""
    classes = [each.id for each in plan.classes]
    one_class, rooms = st.sampled_from(classes), st.sampled_from(["1", "2", "99", ""])
    periods = [period.name for bells in plan.school.bells for period in bells.periods]
    keys = st.sampled_from([f"{period} {each}" for period in sorted(set(periods)) for each in classes])
    lessons = st.sampled_from(["", "no such lesson", *(each.id for each in plan.lessons)])
    minutes = st.integers(7 * 60, 15 * 60).map(lambda minute: f"{minute // 60}:{minute % 60:02}")
    maybe = st.none() | st.booleans()
    interruptions = st.lists(st.builds(Interruption, minutes, minutes), max_size=3).map(tuple)
    guests = st.lists(st.builds(Guests, one_class, one_class, st.integers(0, 40)), max_size=2).map(tuple)
    return Changed(
        at=at(),
        bells=draw(st.none() | st.sampled_from([each.id for each in plan.school.bells])),
        substitute=draw(maybe),
        away=draw(st.none() | st.lists(one_class, max_size=2).map(tuple)),
        guests=draw(st.none() | guests),
        students=draw(st.none() | st.dictionaries(one_class, st.integers(0, 60), max_size=2)),
        adults=draw(st.none() | st.dictionaries(one_class, st.integers(0, 3), max_size=2)),
        lessons=draw(st.none() | st.dictionaries(keys, lessons, max_size=3)),
        parts=draw(st.none() | st.dictionaries(keys, st.integers(0, 5), max_size=3)),
        rooms=draw(st.none() | st.dictionaries(keys, rooms, max_size=3)),
        joined=draw(st.none() | st.dictionaries(one_class, st.sampled_from(["", "9-Z", *classes]), max_size=4)),
        split=draw(st.none() | st.dictionaries(keys, st.booleans(), max_size=3)),
        left_ahead=draw(st.none() | st.dictionaries(keys, st.booleans(), max_size=3)),
        interruptions=draw(st.none() | interruptions),
        water_off=draw(st.none() | st.sampled_from([(), ("1",), (EVERYWHERE,)])),
        elevator_out=draw(maybe),
        no_cart=draw(maybe),
        longer_ways=draw(st.none() | st.dictionaries(rooms | st.sampled_from(["B", "hall"]), st.integers(0, 30))),
        planning_lost=draw(maybe),
        no_mess=draw(maybe),
        fill=draw(st.none() | st.sampled_from(["day", "week", "cycle"])),
    )


@settings(max_examples=20, deadline=None)
@given(st.data())
def test_whatever_a_day_is_changed_to_it_has_a_list_and_a_closing(data: st.DataObject) -> None:
    plan, rules = school(data.draw(st.sampled_from(SEEDS)))
    change = data.draw(some_changes(plan))
    on = FIRST_DAY + timedelta(data.draw(st.integers(0, 30)))
    tested = overnight.TestedDays(("1", "3"), on, on + timedelta(2), data.draw(st.sampled_from([(), ("P1", "P2")])), 2)
    state = structs.replace(first_state(plan), testing=data.draw(st.sampled_from([(), (tested,)])))
    day = day_on(plan, rules, state, on, change)
    assert [visit.number for visit in day.visits] == list(range(1, len(day.visits) + 1))
    assert all(visit.start < visit.end for visit in day.visits)
    assert all(one.end <= other.start for one, other in zip(day.visits, day.visits[1:], strict=False))
    keys = [each.key for each in (*day.lines, *day.checks, *day.decisions, *day.tasks)]
    assert len(keys) == len(set(keys))
    for as_planned in (True, False):
        after = close_day(plan, day, Marks(), state, as_planned=as_planned)
        moved = {each for each in after.progress if after.progress[each] != state.progress.get(each)}
        there = {each for visit in day.visits for each in visit.classes}
        assert moved <= there or not as_planned
    assert day_on(plan, rules, state, on, Changed(at=at())) == day_on(plan, rules, state, on, None)


@contextmanager
def a_book(seed: int) -> Iterator[Book]:
    with TemporaryDirectory() as folder:
        book = opened(write_random_school(Path(folder) / "school", seed), FIRST_DAY)
        yield book
        book.release()


@pytest.mark.parametrize("seed", [0, 3])
def test_any_changes_undone_leave_the_very_same_list(seed: int) -> None:
    with a_book(seed) as book:

        @settings(max_examples=4, deadline=None)
        @given(st.lists(some_changes(book.plan), min_size=1, max_size=3), st.integers(0, 12))
        def law(changes: list[Changed], days: int) -> None:
            on: date = FIRST_DAY + timedelta(days)
            before = book.day(on)
            done = [each for each in changes if each != Changed(at=at())]
            for each in done:
                book.do(on, each)
                book.day(on)
            for _ in done:
                book.undo(on)
            assert book.day(on) == before

        law()
