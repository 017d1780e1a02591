"""Where a line stands by what she said of it, and what is left to do."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.daybook.entries import (
    AnyEntry,
    CameUpShort,
    CarriedOver,
    FoundInContainer,
    LetGo,
    NotNeeded,
    Packed,
    Ticked,
)
from checklists.daybook.line_states import LineState, has_now, is_open, is_settled, open_lines, readiness_of, state_of
from checklists.daybook.marks import Marks, marks_of
from checklists.daybook.minutes_left import packing_minutes_left
from checklists.lines.records import Line
from tests.days import at, day_of, line_of
from tests.schools import reference_school, small_school


def a_line(
    *, need: int = 24, in_it: int = 0, critical: bool = False, counted: bool = False, forbidden: str = ""
) -> Line:
    return Line(
        key="box-3/yarn-ball",
        number=13,
        container="box-3",
        supply="yarn-ball",
        name="yarn ball",
        group="Supplies",
        need=need,
        in_it=in_it,
        visits=("P3 3-B",),
        critical=critical,
        counted=counted,
        about=False,
        catch_up_for="",
        shelf="Y1",
        because=(),
        forbidden=forbidden,
    )


def packed(count: int) -> Packed:
    return Packed(at=at(), line="box-3/yarn-ball", count=count)


def short(count: int) -> CameUpShort:
    return CameUpShort(at=at(), line="box-3/yarn-ball", count=count, remedy="share")


NOT_NEEDED = NotNeeded(at=at(), line="box-3/yarn-ball")


@pytest.mark.parametrize(
    ("line", "said", "state"),
    [
        (a_line(), (), "open"),
        (a_line(in_it=10), (), "open"),
        (a_line(in_it=24), (), "met"),
        (a_line(in_it=24, critical=True), (), "open"),
        (a_line(in_it=24, counted=True), (), "open"),
        (a_line(in_it=24, critical=True), (packed(24),), "packed"),
        (a_line(), (packed(24),), "packed"),
        (a_line(), (packed(30),), "packed"),
        (a_line(), (packed(18),), "part packed"),
        (a_line(), (packed(0),), "open"),
        (a_line(), (short(18),), "short"),
        (a_line(), (short(18), packed(24)), "packed"),
        (a_line(), (packed(24), short(18)), "short"),
        (a_line(), (NOT_NEEDED,), "not needed"),
        (a_line(), (packed(24), NOT_NEEDED), "not needed"),
        (a_line(), (NOT_NEEDED, packed(24)), "packed"),
        (a_line(forbidden="latex"), (), "forbidden"),
        (a_line(forbidden="latex"), (packed(24),), "forbidden"),
        (a_line(forbidden="latex"), (NOT_NEEDED,), "not needed"),
    ],
)
def test_where_a_line_stands(line: Line, said: tuple[AnyEntry, ...], state: LineState) -> None:
    assert state_of(line, marks_of(said)) == state


def test_a_need_that_grows_opens_a_packed_line_again() -> None:
    marks = marks_of([packed(24)])
    assert state_of(a_line(need=24), marks) == "packed"
    assert state_of(a_line(need=25), marks) == "part packed"


def test_what_she_saw_in_the_box_counts_for_what_it_held() -> None:
    seen = FoundInContainer(at=at(), container="box-3", supply="yarn-ball", count=24)
    assert state_of(a_line(in_it=3), marks_of([seen])) == "met"
    assert has_now(a_line(in_it=3), marks_of([seen])) == 24
    assert has_now(a_line(in_it=3), Marks()) == 3


def test_what_she_saw_after_packing_is_newer_than_what_she_packed() -> None:
    seen = FoundInContainer(at=at("7:50"), container="box-3", supply="yarn-ball", count=18)
    assert state_of(a_line(), marks_of([packed(24), seen])) == "part packed"
    assert has_now(a_line(), marks_of([packed(24), seen])) == 18
    assert state_of(a_line(), marks_of([seen, packed(24)])) == "packed"


def test_not_needed_keeps_what_is_in_the_box() -> None:
    assert has_now(a_line(), marks_of([packed(18), NOT_NEEDED])) == 18


@pytest.mark.parametrize(
    "entry",
    [
        Ticked(at=at(), matter="prep/3-B"),
        LetGo(at=at(), matter="prep/3-B", reason="enough"),
        CarriedOver(at=at(), matter="prep/3-B"),
    ],
)
def test_a_matter_is_settled_once_it_is_done_dropped_or_put_off(entry: AnyEntry) -> None:
    assert is_settled("prep/3-B", marks_of([entry]))
    assert not is_settled("prep/3-K", marks_of([entry]))


def test_open_lines_have_the_critical_ones_first(tmp_path: Path) -> None:
    day = day_of(reference_school(tmp_path))
    lines = open_lines(day, Marks())
    critical = [line.critical for line in lines]
    assert critical == sorted(critical, reverse=True)
    assert {line.key for line in lines} == {line.key for line in day.lines if is_open(line, Marks())}


def test_a_visit_is_ready_when_none_of_its_lines_is_open(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path))
    marks = marks_of([Packed(at=at(), line=line.key, count=line.need) for line in day.lines])
    assert readiness_of(day.visits[0], day, marks) == (0, 0)
    lines = [line for line in day.lines if day.visits[0].key in line.visits]
    assert readiness_of(day.visits[0], day, Marks()) == (len(lines), sum(line.critical for line in lines))


def test_minutes_of_packing_are_lines_and_the_tasks_that_are_due(tmp_path: Path) -> None:
    # Common practice, no source: 0.3 minutes a line. Two classes have 5 minutes of cutting each, due the Friday before.
    day = day_of(small_school(tmp_path))
    lines = len(open_lines(day, Marks()))
    assert packing_minutes_left(day, Marks(), 0.3) == pytest.approx(lines * 0.3 + 10)
    done = marks_of([Ticked(at=at(), matter=task.key) for task in day.tasks])
    assert packing_minutes_left(day, done, 0.3) == pytest.approx(lines * 0.3)


def test_one_student_more_opens_the_paper_line_and_keeps_the_others_ticked(tmp_path: Path) -> None:
    """The class grew from 20 to 24 after packing: only what now needs more asks for hands again."""
    before = day_of(small_school(tmp_path / "before", students=20))
    after = day_of(small_school(tmp_path / "after", students=24))
    marks = marks_of([Packed(at=at(), line=line.key, count=line.need) for line in before.lines])
    assert state_of(line_of(after, "white-12x18"), marks) == "part packed"
    assert state_of(line_of(after, "folder 3-B"), marks) == "packed"
