"""A changed day, and a changed visit, as the rows their screens draw."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from checklists.daybook.changing import FallsOut, Topic, Way
from checklists.lines.records import Day, Visit
from checklists.plan.records import Plan
from checklists.words import clock, plural, say_room
from tui.class_rows import class_cells
from tui.columns import fit
from tui.rows import Row

NAME_CELLS = 24
MOST_DIGITS = 9


def day_rows(
    plan: Plan, day: Day, topics: Iterable[Topic], out: Iterable[FallsOut], letters: Mapping[str, str]
) -> list[Row]:
    """The visits with their digits, those that fall out, and what else may be different with its letter."""
    rows: list[Row] = []
    if day.visits:
        rows.append(Row("heading", "heading visits", "The visits", tone="heading"))
        cells = class_cells(each.class_id for each in day.visits)
        rows += [visit_row(plan, each, cells) for each in day.visits]
    fallen = list(out)
    if fallen:
        rows.append(Row("heading", "heading out", "Not today", tone="heading"))
        rows += [
            Row("matter", each.key, each.text, state="Enter: visited after all" if each.back else "", tone="quiet")
            for each in fallen
        ]
    rows.append(Row("heading", "heading day", "The day", tone="heading"))
    return rows + topic_rows(topics, letters)


def visit_row(plan: Plan, visit: Visit, cells: int) -> Row:
    """ "1  V1 8:00 Room 4  K-M  Striped Fish, part 2". ``cells``: how many the name of a class has."""
    number = str(visit.number) if visit.number <= MOST_DIGITS else ""
    name = f"{visit.name} {fit(clock(visit.start), 6)}{fit(say_room(visit.room), 10)}{fit(visit.class_id, cells)} "
    return Row("matter", visit.key, f"{name}{taught_in(plan, visit)}", number=number)


def taught_in(plan: Plan, visit: Visit) -> str:
    """What is taught in a visit, and with whom."""
    step = visit.steps[0] if visit.steps else None
    taught = f"{plan.title_of_lesson(step.lesson)}, part {step.part}" if step is not None else "no lesson"
    chosen = ", chosen" if visit.instead == "chosen" else ""
    return f"{taught}{chosen}, {'about ' if visit.about else ''}{plural(visit.students, 'child')}"


def topic_rows(topics: Iterable[Topic], letters: Mapping[str, str]) -> list[Row]:
    """What may be different, how it stands, and its letter; what is not as planned is marked."""
    return [
        Row(
            "matter",
            each.key,
            f"{fit(each.name, NAME_CELLS)}{each.value}",
            number=letters.get(each.key, ""),
            state="changed" if each.is_changed else "",
        )
        for each in topics
    ]


def lesson_rows(lessons: Iterable[Way]) -> list[Row]:
    """Other lessons, each with its digit."""
    return [
        Row("matter", f"lesson {index}", way.label, number=str(index) if index <= MOST_DIGITS else "")
        for index, way in enumerate(lessons, 1)
    ]
