"""The sheet for a substitute: one page of 80 columns, with room to write on, and a slip to leave for the teacher.

It is for anybody's eyes: rooms, times, numbers of children and things; no child's need, number or name.
"""

from __future__ import annotations

from checklists.daybook.marks import Marks
from checklists.lines.containers import FOLDER, name_of
from checklists.lines.records import Day, Line, Visit
from checklists.pages.fields import Fields, visit_fields
from checklists.pages.plain import WIDTH, ruled, two_ends, wrap
from checklists.plan.records import Lesson, Plan
from checklists.words import clock, join_words, plural, say_date, say_room

MOST_ROWS = 60
"""Rows of a printed page."""
ROWS_A_BOX = 2
_RULE = "_" * 18


def substitute_sheet(plan: Plan, day: Day, lesson: Lesson) -> str:
    """``day`` is the list of a day that a substitute teaches, ``lesson`` what is taught in every visit of it."""
    named = f", day {day.day_name}" if plan.school.rotation.kind == "cycle" else ""
    title = f"ART WITH A SUBSTITUTE  {say_date(day.date)}{named}"
    parts = [two_ends(title, plan.school.name), "=" * WIDTH]
    parts += wrap(f"Every class does {lesson.title}: {_say_steps(lesson)}. No class goes on with its own project.")
    parts += [f"Attention signal: {_RULE}  Office: {_RULE}", f"Nurse: {_RULE}  Next door: {_RULE}"]
    leave = f" Leave the store by {clock(day.leave_by)}." if day.leave_by is not None else ""
    parts += ["", ruled("TAKE ALONG"), *(row for rows in _boxes(day) for row in rows)]
    parts += ["", ruled("DO NOT SEND FOR"), *wrap(_say_stays(plan, day))]
    parts += ["", ruled(f"VISITS.{leave}"), *(row for visit in day.visits for row in _visit_rows(visit))]
    parts += ["", *_slip()]
    if len(parts) > MOST_ROWS:
        parts = [row for row in parts if row]
    return "\n".join(parts) + "\n"


def _say_steps(lesson: Lesson) -> str:
    return join_words((part.title for part in lesson.parts), "then")


def _boxes(day: Day) -> list[list[str]]:
    rows: list[list[str]] = []
    for container in day.containers:
        things = [f"{line.need} {line.name}" for line in _things(day) if line.container == container.id]
        if not things:
            continue
        shelf = f" (shelf {container.shelf})" if container.shelf else ""
        rows.append(_cut(f"{container.name}{shelf}: ", things))
    return rows


def _cut(first: str, things: list[str]) -> list[str]:
    """The things in as many rows as one container may take; what does not fit is counted."""
    for shown in range(len(things), 0, -1):
        more = f" and {len(things) - shown} more" if shown < len(things) else ""
        rows = wrap(f"{first}{', '.join(things[:shown])}{more}", first="  ", indent=4)
        if len(rows) <= ROWS_A_BOX:
            return rows
    return wrap(f"{first}{plural(len(things), 'thing')}", first="  ", indent=4)


def _things(day: Day) -> list[Line]:
    """What goes along: no folder, nothing that is counted or must not come."""
    return [
        line
        for line in day.lines
        if not line.supply.startswith(FOLDER) and not line.counted and not line.forbidden and not line.catch_up_for
    ]


def stays_at_store(plan: Plan, day: Day) -> tuple[str, ...]:
    """Kits and counted tools of the cart that the substitute does without."""
    along = {line.container for line in _things(day)}
    kits = [name_of(plan, kit.id) for kit in plan.kits if kit.id not in along]
    supplies = (plan.supply_by_id.get(each) for each in plan.school.cart.standing)
    tools = [each.name for each in supplies if each is not None and each.is_counted]
    return (*kits, *dict.fromkeys(tools))


def _say_stays(plan: Plan, day: Day) -> str:
    names = stays_at_store(plan, day)
    kept = f"{join_words(names)} stay at the store. " if names else ""
    return f"{kept}Nothing sharp or hot, no paint, ink, clay or glaze, and no class folder goes along today."


def _visit_rows(visit: Visit) -> list[str]:
    children = f"{'about ' if visit.about else ''}{plural(visit.students, 'child')}"
    when = f"{visit.name}  {clock(visit.start)}-{clock(visit.end)}  {say_room(visit.room)}  {visit.class_id}"
    return [
        two_ends(when, f"{children}, {plural(visit.tables, 'table')}"),
        "    done? [ ] yes [ ] no   absent (list numbers) ____________   broken _________",
    ]


def _slip() -> list[str]:
    return [
        ruled("RETURN SLIP: leave it on the cart"),
        "Anything broken, missing or left in a room? " + "_" * 35,
        "All boxes back at the store? [ ] yes   [ ] no, in " + "_" * 29,
        "Which class was hard to settle, and what helped? " + "_" * 30,
        "Anything the teacher should know? " + "_" * 45,
    ]


def substitute_as_json(plan: Plan, day: Day, lesson: Lesson, marks: Marks) -> Fields:
    """The page "substitute".

    ``lesson`` (``id title parts``, parts in words); ``leave_by``; ``visits``; ``containers``: a list of ``id name shelf
    things``, a thing ``supply name count``; ``stays_at_store``: names.
    """
    along = [each for each in day.containers if any(line.container == each.id for line in _things(day))]
    return {
        "format": 1,
        "page": "substitute",
        "date": day.date.isoformat(),
        "lesson": {"id": lesson.id, "title": lesson.title, "parts": [part.title for part in lesson.parts]},
        "leave_by": None if day.leave_by is None else clock(day.leave_by),
        "visits": [visit_fields(each, day, marks) for each in day.visits],
        "containers": [
            {
                "id": each.id,
                "name": each.name,
                "shelf": each.shelf,
                "things": [
                    {"supply": line.supply, "name": line.name, "count": line.need}
                    for line in _things(day)
                    if line.container == each.id
                ],
            }
            for each in along
        ],
        "stays_at_store": list(stays_at_store(plan, day)),
    }
