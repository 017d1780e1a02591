"""Laws of a day that hold whatever she says on it, in whatever order."""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec import Struct, structs

from checklists.daybook import entries as book
from checklists.daybook.closing import close_day
from checklists.daybook.marks import add_to, changes_of, marks_of
from checklists.daybook.opening import first_state
from checklists.daybook.state import Carried, Case, Owed, Progress, State, Unfinished
from checklists.files.plan_folder import read_plan
from checklists.lines.day import day_on
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.rules.read import RuleSet
from tests.daybook.saying import afternoons, anything, busy_school, changes, of_children, packings, reports
from tests.days import TUESDAY, WEDNESDAY, at, close, days_from, opened, opened_again, packed, teach_all
from tests.schools import MONDAY

FEW = settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
ON_DISK = settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])


class Morning(Struct, frozen=True):
    """A day as it opens, without a folder."""

    plan: Plan
    rules: RuleSet
    state: State
    day: Day

    def __repr__(self) -> str:
        return "the day with things owed" if self.state.owed else "the fresh day"


def morning_of(state: State | None = None) -> Morning:
    with TemporaryDirectory() as folder:
        read = read_plan(busy_school(Path(folder)))
    assert read.plan is not None, read.problems
    assert read.rules is not None
    state = state or first_state(read.plan)
    return Morning(read.plan, read.rules, state, day_on(read.plan, read.rules, state, MONDAY))


FRESH = morning_of()
OWING = morning_of(
    structs.replace(
        FRESH.state,
        progress={"3-B": Progress("lesson-1", 2, MONDAY), "3-K": Progress("lesson-0", 1)},
        owed={"3-B": (Owed("lesson-0", 1, MONDAY, (4, 11)), Owed("lesson-1", 1, MONDAY, (4,), 2))},
        unfinished={"3-K": (Unfinished("lesson-0", 1, 5, MONDAY),)},
        carried=(Carried("short/box-3/yarn-ball", "short", "yarn", MONDAY, "box-3", "yarn-ball", 4),),
        cases=(Case("old/case", "scissors", 1, MONDAY, "12", "P1", "3-B", 13, 12),),
        contents=FRESH.state.contents | {"catch-up 3-B": {"yarn-ball": 2}, "box-3": {"yarn-ball": 30}},
    )
)
MORNINGS = st.sampled_from([FRESH, OWING])


@st.composite
def days_said(draw: st.DrawFn) -> tuple[Morning, list[book.AnyEntry]]:
    """A morning and all that was said on the day."""
    morning = draw(MORNINGS)
    either = st.one_of(anything(morning.plan, morning.day), of_children(morning.plan, morning.day))
    return morning, draw(st.lists(either, max_size=14))


def closed(morning: Morning, said: list[book.AnyEntry], *, as_planned: bool = False) -> State:
    return close_day(morning.plan, morning.day, marks_of(said), morning.state, as_planned=as_planned)


def amounts(state: State) -> Iterator[int]:
    yield from state.on_hand.values()
    for supplies in state.contents.values():
        yield from supplies.values()
    for owed in state.owed.values():
        yield from (each.count for each in owed)


# --------------------------------------------------------------------------------------------------- marks


@FEW
@given(days_said(), st.integers(0, 14))
def test_entries_taken_in_one_by_one_come_to_the_same_as_all_at_once(
    said: tuple[Morning, list[book.AnyEntry]], cut: int
) -> None:
    _, entries = said
    marks = marks_of(entries[:cut])
    for entry in entries[cut:]:
        add_to(marks, entry)
    assert marks == marks_of(entries)


@FEW
@given(days_said())
def test_of_two_words_on_one_thing_the_later_one_stands(said: tuple[Morning, list[book.AnyEntry]]) -> None:
    # What she saw in a container is a word on the container, which tests of marks hold by itself.
    entries: list[book.AnyEntry] = [each for each in said[1] if not isinstance(each, book.FoundInContainer)]
    marks = marks_of(entries)
    newest: dict[tuple[str, str], book.AnyEntry] = {}
    for entry in entries:
        match entry:
            case book.Packed() | book.CameUpShort() | book.NotNeeded():
                newest["line", entry.line] = entry
            case book.Reported():
                newest["visit", entry.visit] = entry
            case book.Ticked() | book.LetGo() | book.CarriedOver():
                newest["matter", entry.matter] = entry
    for (kind, key), entry in newest.items():
        if kind == "visit":
            assert marks.reports[key] is entry
        elif kind == "matter":
            said_of = [key in marks.seen_to, key in marks.let_go, key in marks.carried_over]
            assert said_of == [isinstance(entry, each) for each in (book.Ticked, book.LetGo, book.CarriedOver)]
        else:
            mark = marks.lines[key]
            assert bool(mark.remedy) == isinstance(entry, book.CameUpShort)
            assert bool(mark.reason) == isinstance(entry, book.NotNeeded)
            if isinstance(entry, book.Packed | book.CameUpShort):
                assert mark.count == entry.count


# ------------------------------------------------------------------------------------------------- closing


@FEW
@given(days_said(), st.booleans())
def test_closing_asks_nothing_but_its_inputs(said: tuple[Morning, list[book.AnyEntry]], as_planned: bool) -> None:
    assert closed(*said, as_planned=as_planned) == closed(*said, as_planned=as_planned)


@FEW
@given(days_said())
def test_nothing_ever_falls_below_nothing(said: tuple[Morning, list[book.AnyEntry]]) -> None:
    assert min(amounts(closed(*said)), default=0) >= 0


@FEW
@given(days_said())
def test_a_class_moves_on_only_when_it_was_done_or_went_further(said: tuple[Morning, list[book.AnyEntry]]) -> None:
    morning, entries = said
    told = marks_of(entries).reports
    after = closed(morning, entries).progress
    for visit in morning.day.visits:
        step, now = visit.steps[0], after[visit.class_id]
        outcome = told[visit.key].outcome if visit.key in told else "unknown"
        moved = (now.lesson, now.part) != (step.lesson, step.part)
        is_next = outcome == "another part" and told[visit.key].reached_part == step.part
        assert moved == (is_next or outcome in ("done", "done except", "went further"))


@FEW
@given(st.data(), MORNINGS)
def test_packing_moves_things_and_uses_none(data: st.DataObject, morning: Morning) -> None:
    """No visit was taught: what is in containers and on the shelf is together what it was, but for what is gone."""
    said = data.draw(st.lists(packings(morning.day).filter(lambda each: not isinstance(each, book.CameUpShort))))
    nothing = [book.Reported(at=at(), visit=visit.key, outcome="not taught") for visit in morning.day.visits]
    assert closed(morning, [*said, *nothing]).on_hand == morning.state.on_hand


@FEW
@given(st.data(), MORNINGS)
def test_what_is_used_leaves_the_box_and_the_shelf_stays_as_it_was(data: st.DataObject, morning: Morning) -> None:
    """Every line packed in full: then the day's use comes out of the containers and nothing out of the shelf."""
    full = [packed(line, max(line.need, line.in_it)) for line in morning.day.lines]
    told = data.draw(st.lists(reports(morning.day).filter(lambda each: each.students is None), max_size=4))
    nothing = [book.Reported(at=at(), visit=visit.key, outcome="not taught") for visit in morning.day.visits]
    before, after = closed(morning, [*full, *nothing]), closed(morning, [*full, *nothing, *told])
    further = any(each.outcome in ("went further", "another part") for each in marks_of(told).reports.values())
    for supply in morning.state.on_hand:
        shelf = [
            state.on_hand[supply] - sum(held.get(supply, 0) for held in state.contents.values())
            for state in (before, after)
        ]
        if not further:  # what a further part used was not on the list: it came from the shelf
            assert shelf[0] == shelf[1], supply


@FEW
@given(st.integers(0, 14), st.integers(0, 14), st.booleans())
def test_a_missing_tool_is_lost_once_and_comes_back_when_it_is_found(out: int, back: int, found: bool) -> None:
    visit = FRESH.day.visits[0]
    missing = max(0, out - back)
    count = book.CountedSharps(at=at(), visit=visit.key, supply="scissors", out=out, back=back)
    evening = closed(FRESH, [count])
    assert evening.on_hand["scissors"] == FRESH.state.on_hand["scissors"] - missing
    assert evening.contents["cart"]["scissors"] == FRESH.state.contents["cart"]["scissors"] - missing
    assert [case.count for case in evening.cases] == ([missing] if missing else [])
    if missing:
        tomorrow = structs.replace(FRESH, state=evening)
        over = closed(tomorrow, [book.ClosedCase(at=at(), case=evening.cases[0].key, found=found)])
        assert over.on_hand["scissors"] == evening.on_hand["scissors"] + (missing if found else 0)
        assert over.contents["cart"]["scissors"] == evening.contents["cart"]["scissors"] + (missing if found else 0)
        assert over.cases == ()


# --------------------------------------------------------------------------------------- the book on the disk


@ON_DISK
@given(st.data())
def test_undo_after_any_step_gives_back_what_was_before(data: st.DataObject) -> None:
    with TemporaryDirectory() as folder:
        record = opened(busy_school(Path(folder)))
        plan, day = record.plan, record.day(MONDAY)
        said = st.one_of(anything(plan, day), changes(day))
        for entry in data.draw(st.lists(said, max_size=6)):
            record.do(MONDAY, entry)
        before = deepcopy(record.marks(MONDAY)), record.day(MONDAY), record.closing_of(MONDAY)

        record.do(MONDAY, *data.draw(st.lists(said, min_size=1, max_size=3)))
        if data.draw(st.booleans()):
            record = opened_again(record)
        assert record.undo(MONDAY)

        assert (record.marks(MONDAY), record.day(MONDAY), record.closing_of(MONDAY)) == before
        record = opened_again(record)
        assert (record.marks(MONDAY), record.day(MONDAY), record.closing_of(MONDAY)) == before
        record.release()


@ON_DISK
@given(st.data())
def test_ticks_never_change_the_list(data: st.DataObject) -> None:
    with TemporaryDirectory() as folder:
        record = opened(busy_school(Path(folder)))
        before = record.day(MONDAY)
        for entry in data.draw(st.lists(anything(record.plan, before), min_size=1, max_size=6)):
            record.do(MONDAY, entry)
        assert record.day(MONDAY) == before
        record = opened_again(record)
        assert record.day(MONDAY) == before
        record.release()


@ON_DISK
@given(st.data())
def test_closing_a_day_twice_is_closing_it_once(data: st.DataObject) -> None:
    with TemporaryDirectory() as folder:
        record = opened(busy_school(Path(folder)))
        for entry in data.draw(st.lists(anything(record.plan, record.day(MONDAY)), max_size=6)):
            record.do(MONDAY, entry)
        said, once = close(record), record.closing_of(MONDAY)
        assert (close(record, clock="15:20"), record.closing_of(MONDAY)) == (said, once)
        record = opened_again(record, today=TUESDAY)
        assert record.opening(TUESDAY) == once
        record.release()


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_ten_days_of_closings_hang_together_and_a_corrected_day_carries_through(data: st.DataObject) -> None:
    with TemporaryDirectory() as folder:
        record = opened(busy_school(Path(folder)))
        days = [day for day in days_from(MONDAY, 14) if day.weekday() < 5]
        for today in days:
            record.today = today
            said = st.one_of(anything(record.plan, record.day(today)), changes(record.day(today)))
            for entry in data.draw(st.lists(said, max_size=3)) if record.day(today).visits else ():
                record.do(today, entry)
            if data.draw(st.integers(0, 3)):  # three days in four are closed
                close(record, today)
        assert record.check_chain() == ()

        wrong = data.draw(st.sampled_from(days))
        if record.day(wrong).visits:
            record.do(wrong, data.draw(reports(record.day(wrong))))
        assert record.check_chain() == ()
        record = opened_again(record)
        assert record.check_chain() == ()
        for day in days:
            if record.is_closed(day):
                again = close_day(record.plan, record.day(day), record.marks(day), record.opening(day))
                assert record.closing_of(day) == again
        record.release()


def test_a_chain_that_was_broken_by_hand_is_told(tmp_path: Path) -> None:
    record = opened(busy_school(tmp_path))
    for today in (MONDAY, TUESDAY):
        record.today = today
        teach_all(record, today)
        close(record, today)
    record.release()
    file = tmp_path / "daybook" / "2026-10-06.toml"
    text = file.read_text("utf-8")
    assert text.count("part = 2") > 0
    file.write_text(text.replace("part = 2", "part = 1", 1), "utf-8")
    record = opened(tmp_path, today=WEDNESDAY)
    (problem,) = record.check_chain()
    assert (problem.file, problem.level) == ("daybook/2026-10-06.toml", "note")
    assert "Mon 5 Oct" in problem.what


@pytest.mark.parametrize("morning", [FRESH, OWING], ids=["fresh", "owing"])
def test_a_change_of_the_day_is_folded_field_by_field(morning: Morning) -> None:
    first = book.Changed(at=at("7:00"), away=("3-B",), bells="regular")
    second = book.Changed(at=at("7:30"), substitute=True)
    third = book.Changed(at=at("7:40"), away=())
    merged = changes_of([first, second, third])
    assert merged is not None
    assert (merged.away, merged.bells, merged.substitute, merged.no_school) == ((), "regular", True, None)
    assert merged == marks_of([first, second, third]).changes
    assert day_on(morning.plan, morning.rules, morning.state, MONDAY, first).visits[0].class_id == "3-K"


@ON_DISK
@given(st.data())
def test_looking_past_a_day_to_come_carries_only_what_she_said_of_it(data: st.DataObject) -> None:
    """Tomorrow is opened on Monday: Monday's visits count as taught as planned, and nothing of them is pending."""
    said = data.draw(st.lists(afternoons(FRESH.plan, FRESH.day), max_size=3))
    kinds = {each.kind for each in closed(FRESH, said, as_planned=True).carried}
    explicit = {"left in a room"} if any(isinstance(each, book.Stands) for each in said) else set()
    explicit |= {"not put right"} if any(isinstance(each, book.PutRight) for each in said) else set()
    explicit |= {"count pending"} if any(isinstance(each, book.CountLater) for each in said) else set()
    assert kinds <= explicit
    assert closed(FRESH, [], as_planned=True).carried == ()
