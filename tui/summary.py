"""What the bars around the list say: the head, the visits with their readiness, the shelf of containers."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from checklists.daybook.marks import Marks
from checklists.lines.records import Day, Line
from checklists.words import clock, plural, say_date
from tui.notices import is_away
from tui.sections import Section
from tui.tally import Tally
from tui.widgets.container_shelf import Standing
from tui.widgets.head_bar import Head
from tui.widgets.visit_strip import VisitCell
from tui.wording import minute_of_day


def head_of(day: Day, marks: Marks, tally: Tally, *, now: datetime, packing: float, unsaved: int, other: str) -> Head:
    """The head bar of a day. ``packing`` is in minutes."""
    minute = minute_of_day(now)
    is_today = now.date() == day.date
    left = day.leave_by - minute if day.leave_by is not None and is_today else None
    leave = f"leave by {clock(day.leave_by)}" if day.leave_by is not None else "no visits"
    if marks.left is not None:
        leave = f"left at {clock(minute_of_day(marks.left.at))}"
    elif left is not None:
        leave += f", {span_text(left)} left" if left >= 0 else f", {span_text(-left)} ago"
    cycle = f"day {day.day_name}" if day.day_name and not say_date(day.date).startswith(day.day_name) else ""
    return Head(
        date=say_date(day.date),
        day="  ".join(part for part in (cycle, f"{day.bells} bells" if day.bells else "") if part),
        other_day=other,
        clock=clock(minute) if is_today else "",
        leave=leave,
        is_late=marks.left is None and left is not None and left < packing,
        open=len(tally.open_lines),
        critical=len(tally.critical_lines),
        is_empty=not day.lines,
        packing=f"about {plural(round(packing), 'minute')} of packing left" if round(packing) else "",
        unsaved=unsaved,
    )


def span_text(minutes: int) -> str:
    """ "11 minutes"; from two hours on "7 h 32"."""
    return f"{minutes // 60} h {minutes % 60:02d}" if minutes >= 120 else plural(minutes, "minute")


def cells_of(day: Day, tally: Tally, lines: Mapping[str, tuple[Line, ...]]) -> tuple[VisitCell, ...]:
    """The visits with their readiness. ``lines`` are those of each visit."""
    cells = []
    for visit in day.visits:
        open_, critical = tally.count_open(lines[visit.key])
        students = f"{'~' if visit.about else ''}{visit.students}"
        cells.append(VisitCell(visit.name, clock(visit.start), visit.class_id, visit.room, students, open_, critical))
    return tuple(cells)


def standing_of(
    sections: tuple[Section, ...], day: Day, marks: Marks, tally: Tally, in_hand: int
) -> tuple[Standing, ...]:
    """What stands on the shelf, with its open counts."""
    containers = {container.id: container for container in day.containers}
    made = []
    for index, section in enumerate(sections):
        open_, critical = section.count_open(tally)
        container = containers.get(section.key)
        away = container.place if container is not None and is_away(container, day, marks) else ""
        made.append(Standing(section.key, section.name, open_, critical, away, index == in_hand))
    return tuple(made)


def section_title(section: Section, tally: Tally) -> tuple[str, str]:
    """The section in hand in words, and what is open in it."""
    open_, critical = section.count_open(tally)
    count = f"{open_} open" + (f", {critical} critical" if critical else "") if open_ else "ready"
    return section.name + (f"   {section.detail}" if section.detail else ""), count


def empty_text(day: Day) -> tuple[str, ...]:
    """What to say where there is nothing to pack."""
    said = "No visits on this day." if day.school_day else f"No school: {day.why_no_school or 'not a school day'}."
    if day.next_school_day is None:
        return (said, "There is no further school day in the plan.")
    return (said, f"The next school day is {say_date(day.next_school_day)}.")
