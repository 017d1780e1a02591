"""What runs out on which day, if every coming day goes as planned. Each number is worked out beside its check."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from msgspec import structs

from checklists.daybook.entries import CameUpShort, NotNeeded
from checklists.daybook.marks import marks_of
from checklists.daybook.running_out import RunsOut, as_said, runs_out
from checklists.lines.records import Day, Line, Use
from tests.daybook.test_laws import FRESH
from tests.days import at
from tests.schools import MONDAY

TUESDAY, WEDNESDAY = MONDAY + timedelta(1), MONDAY + timedelta(2)


def a_line(supply: str, need: int, *uses: tuple[str, float], box: str = "box-3", **more: Any) -> Line:
    """A line of a supply: so many needed, so many used by each visit."""
    line = next(each for each in FRESH.day.lines if not each.comes_back)
    uses_of = tuple(Use(visit, amount, per_student=True) for visit, amount in uses)
    return structs.replace(line, key=f"{box}/{supply}", container=box, supply=supply, need=need, uses=uses_of, **more)


def days_of(*lists: tuple[Line, ...]) -> list[Day]:
    """Days in a row from Monday, each with these lines only."""
    return [structs.replace(FRESH.day, date=MONDAY + timedelta(n), lines=lines) for n, lines in enumerate(lists)]


def test_what_is_used_up_falls_short_once_a_day_needs_more_than_is_left() -> None:
    """46 a day are used and 51 must be there: 120, 74, then 28; on the third day 23 are missing."""
    daily = (a_line("paper", 51, ("P1 3-B", 24), ("P2 3-K", 22)),)
    assert runs_out(days_of(daily, daily, daily), {"paper": 120}) == {"paper": RunsOut(WEDNESDAY, 23)}


def test_a_day_that_needs_exactly_what_is_there_is_all_right() -> None:
    daily = (a_line("paper", 51, ("P1 3-B", 46)),)
    assert runs_out(days_of(daily, daily), {"paper": 46 + 51}) == {}
    assert runs_out(days_of(daily, daily), {"paper": 46 + 50}) == {"paper": RunsOut(TUESDAY, 1)}


def test_how_many_are_missing_grows_with_the_days_that_are_looked_at() -> None:
    daily = (a_line("paper", 51, ("P1 3-B", 46)),)
    assert runs_out(days_of(*[daily] * 4), {"paper": 60}) == {"paper": RunsOut(TUESDAY, 46 * 3 + 51 - 60)}


def test_what_comes_back_is_needed_anew_on_each_day_and_not_used_up() -> None:
    tools = (a_line("brush", 27, ("P1 3-B", 25), ("P2 3-K", 27), comes_back=True),)
    assert runs_out(days_of(tools, tools, tools), {"brush": 27}) == {}
    assert runs_out(days_of(tools, tools, tools), {"brush": 25}) == {"brush": RunsOut(MONDAY, 2)}


def test_containers_that_each_need_their_own_add_up() -> None:
    both = (
        a_line("glue", 25, ("P1 3-B", 25), comes_back=True),
        a_line("glue", 30, ("P2 3-K", 30), box="box-5", comes_back=True),
    )
    assert runs_out(days_of(both), {"glue": 52}) == {"glue": RunsOut(MONDAY, 3)}


def test_visits_that_were_reported_have_used_theirs_already() -> None:
    """P1 was reported and its 24 are off: 30 do for the 22 of P2."""
    daily = (a_line("paper", 51, ("P1 3-B", 24), ("P2 3-K", 22)),)
    assert runs_out(days_of(daily), {"paper": 30}, told=("P1 3-B",)) == {}
    assert runs_out(days_of(daily), {"paper": 20}, told=("P1 3-B",)) == {"paper": RunsOut(MONDAY, 2)}
    assert runs_out(days_of(daily), {"paper": 0}, told=("P1 3-B", "P2 3-K")) == {}


def test_reports_of_the_first_day_say_nothing_of_the_next() -> None:
    daily = (a_line("paper", 51, ("P1 3-B", 46)),)
    assert runs_out(days_of(daily, daily), {"paper": 40}, told=("P1 3-B",)) == {"paper": RunsOut(TUESDAY, 11)}


def test_a_short_line_needs_what_there_is_and_what_is_off_needs_none() -> None:
    lines = (a_line("paper", 51, ("P1 3-B", 46)), a_line("glue", 25, ("P1 3-B", 25), comes_back=True))
    (day,) = days_of(lines)
    marks = marks_of(
        [
            CameUpShort(at=at(), line="box-3/glue", count=20, remedy="share"),
            NotNeeded(at=at(), line="box-3/paper"),
        ]
    )
    assert runs_out([day], {"paper": 10, "glue": 20}).keys() == {"paper", "glue"}
    assert runs_out([as_said(day, marks)], {"paper": 10, "glue": 20}) == {}


def test_what_nobody_counted_and_what_must_not_come_is_left_out() -> None:
    lines = (a_line("unknown", 51, ("P1 3-B", 46)), a_line("latex", 51, ("P1 3-B", 46), forbidden="latex"))
    assert runs_out(days_of(lines), {"latex": 0}) == {}
