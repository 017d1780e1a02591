"""What the bars around the list say: the head, the visits with their readiness, the shelf of containers."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from checklists.daybook.marks import Marks
from checklists.daybook.minutes_left import minutes_until
from checklists.lines.records import Day, Line
from checklists.words import clock, minute_of_day, say_date
from tui.notices import is_away, place_of
from tui.sections import Section, fetch_todos, todos_of
from tui.tally import Counts, Tally
from tui.widgets.container_shelf import Standing
from tui.widgets.head_bar import Head
from tui.widgets.visit_strip import VisitCell
from tui.wording import leave_text, ready_text

if TYPE_CHECKING:
    from checklists.route.departure import Departure


class Minutes(NamedTuple):
    """What is left, in minutes: packing what goes now, preparing."""

    packing: float
    preparing: float


def head_of(
    day: Day,
    marks: Marks,
    tally: Tally,
    departure: Departure,
    *,
    now: datetime,
    left: Minutes,
    unsaved: int,
    other: str,
    is_closed: bool,
    turned: str = "",
) -> Head:
    """The head bar of a day. ``turned``: what is to be said where it is another day by now."""
    minute = minute_of_day(now)
    is_today = now.date() == day.date
    leave_by = departure.leave_by(day, marks)
    later = {line.key for line in day.lines if line.container in departure.later}
    not_now = later | {line.key for line in day.lines if line.container in departure.out}
    is_late = is_today and leave_by is not None and minutes_until(day, leave_by.minute, minute) < left.packing
    cycle = f"day {day.day_name}" if day.day_name and not say_date(day.date).startswith(day.day_name) else ""
    return Head(
        date=say_date(day.date),
        day="  ".join(part for part in (cycle, f"{day.bells} bells" if day.bells else "") if part),
        filled="" if day.fill == "day" else f"for the {day.fill}: ",
        other_day=other,
        clock=clock(minute) if is_today else "",
        leave=turned or leave_text(day, marks, now, departure, is_closed=is_closed),
        is_late=bool(turned) or (is_late and not departure.says_left(marks) and not is_closed),
        open=len(tally.open_lines - not_now),
        critical=len(tally.critical_lines - not_now),
        later=len(tally.open_lines & later),
        to_do=len(keys_to_do(day, departure, marks) - tally.settled),
        to_decide=len(day.decisions),
        short=sum(state == "short" for state in tally.states.values()),
        is_empty=not day.lines or (departure.before is None and bool(day.visits)),
        packing=f"packing {ceil(left.packing)} min" if left.packing else "",
        preparing=f"to prepare {round(left.preparing)} min" if round(left.preparing) else "",
        unsaved=unsaved,
    )


def keys_to_do(day: Day, departure: Departure, marks: Marks) -> frozenset[str]:
    """What there is to do besides packing: fetching, leaving ahead, tasks, checks, carried matters, taking out."""
    trips = [each.key for each in departure.to_leave if not departure.is_left(each, marks)]
    todos = [todo.key for todo in (*fetch_todos(day, departure), *todos_of(day))]
    return frozenset((*trips, *todos, *(each.key for each in day.take_out)))


def cells_of(day: Day, tally: Tally, lines: Mapping[str, tuple[Line, ...]]) -> tuple[VisitCell, ...]:
    """The visits with their readiness. ``lines`` are those of each visit."""
    cells = []
    undecided = {each.visit for each in day.decisions if each.stops}
    for visit in day.visits:
        students = f"{'~' if visit.about else ''}{visit.students}"
        count = tally.count_lines(lines[visit.key])
        cells.append(
            VisitCell(
                visit.name,
                clock(visit.start),
                visit.class_id,
                visit.room,
                students,
                count.open,
                count.critical,
                count.short,
                undecided=visit.key in undecided,
            )
        )
    return tuple(cells)


def standing_of(
    sections: tuple[Section, ...], day: Day, marks: Marks, tally: Tally, in_hand: int, *, fold_ready: bool
) -> tuple[Standing, ...]:
    """What stands on the shelf, with its counts. ``fold_ready``: what has nothing open is only counted at the end."""
    containers = {container.id: container for container in day.containers}
    made: list[Standing] = []
    ready, when = 0, ""
    for index, section in enumerate(sections):
        count = section.count_open(tally)
        if fold_ready and not count.open and not count.later and index != in_hand:
            ready += 1
            continue
        begins_row = section.when != when
        if begins_row and section.when:
            made.append(Standing("", f"{section.when}:", Counts(0, 0), "", False, is_label=True, begins_row=True))
            begins_row = False
        when = section.when
        container = containers.get(section.key)
        away = place_of(container, marks) if container is not None and is_away(container, day, marks) else ""
        made.append(Standing(section.key, section.name, count, away, index == in_hand, begins_row=begins_row))
    if ready:
        made.append(Standing("", f"{ready} more", Counts(0, 0), "", False))
    return tuple(made)


def section_title(section: Section, tally: Tally) -> tuple[str, str]:
    """The section in hand in words, and what is open in it."""
    count = section.count_open(tally)
    critical = f", {count.critical} critical" if count.critical else ""
    said = f"{count.open} open{critical}" if count.open else ready_text(count.short)
    said += f", {count.later} for later" if count.later else ""
    detail = ", ".join(each for each in (section.when, section.detail) if each)
    return section.name + (f"   {detail}" if detail else ""), said


def empty_text(day: Day) -> tuple[str, ...]:
    """What to say where there is nothing to pack."""
    said = "No visits on this day." if day.school_day else f"No school: {day.why_no_school or 'not a school day'}."
    if day.next_school_day is None:
        return (said, "There is no further school day in the plan.")
    return (said, f"The next school day is {say_date(day.next_school_day)}.")
