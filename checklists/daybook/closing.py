"""Closing a day: from how things stood in the morning and what happened, to how they stand overnight."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from msgspec import structs

from checklists.daybook.carry_over import carried_after
from checklists.daybook.cases import cases_after
from checklists.daybook.children import as_told, owed_before_settling, work_away_after
from checklists.daybook.classes import follow_classes, owed_after, unfinished_after, unsure_after
from checklists.daybook.entries import Changed, Reported
from checklists.daybook.line_states import state_of
from checklists.daybook.loans import loans_after
from checklists.daybook.marks import Marks
from checklists.daybook.ordering import levels_after, orders_after
from checklists.daybook.reports import reports_of, steps_taught, with_todays_visits
from checklists.daybook.settling import take_home
from checklists.daybook.state import Progress, State
from checklists.daybook.stock import at_store_after, contents_after, counted_after, places_after
from checklists.daybook.testing import testing_after
from checklists.lines.car import is_driven
from checklists.lines.checks import STANDING
from checklists.lines.containers import FOLDER
from checklists.lines.records import Day
from checklists.plan.records import Plan


def close_day(plan: Plan, day: Day, marks: Marks, opening: State, *, as_planned: bool = False) -> State:
    """The state after ``day``.

    A visit nobody reported is of unknown outcome: its class stays where it is, the question is kept, what was packed
    for it is taken as used and a reserve for its absences as owed. With ``as_planned`` (a day still to come, looked
    past) such visits are taken as done with nobody missing.
    """
    marks = with_todays_visits(marks, day)
    owed_before, opening = owed_before_settling(plan, day.date, marks, opening), as_told(plan, day.date, marks, opening)
    reports = reports_of(day, marks, as_planned=as_planned)
    day, reached = follow_classes(plan, day, opening, reports)
    progress = opening.progress | reached
    contents, on_hand = contents_after(plan, day, marks, opening, reports)
    contents, on_hand = take_home(plan, marks, owed_before, contents, on_hand)
    return State(
        contents=contents,
        places=places_after(day, marks, opening),
        at_store=at_store_after(day, marks, opening),
        progress=progress,
        unsure=unsure_after(day, opening, reports),
        owed=owed_after(plan, day, marks, opening, reports),
        unfinished=unfinished_after(plan, day, opening, reports),
        work_away=work_away_after(marks, opening),
        on_hand=on_hand,
        counted=counted_after(plan, day, marks, opening),
        levels=levels_after(marks, opening),
        orders=orders_after(plan, day.date, marks, opening),
        carried=carried_after(plan, day, marks, opening, reports, only_said=as_planned or _nothing_told(marks)),
        cases=cases_after(plan, day, marks, opening.cases),
        prepared=_prepared_after(day, marks, opening, reports, progress),
        cautioned=tuple(key for key in _shown_cautions(day, opening) if not _is_behind(key, "caution", progress)),
        lost_days=_lost_after(day.date, marks.changes, opening),
        announced=_announced_after(day.date, marks.changes, opening),
        testing=testing_after(opening, day.date),
        lent=loans_after(marks.loans, opening.lent, day.date),
        came_short=_came_short_after(day, marks, opening),
        standing_seen=opening.standing_seen | _standing_seen(day, marks),
    )


def _nothing_told(marks: Marks) -> bool:
    """Whether nothing was said of a day, but perhaps of who is in a class and where the class is."""
    return structs.replace(marks, children=[], sized={}, testing=[], class_places={}) == Marks()


def _prepared_after(
    day: Day, marks: Marks, opening: State, reports: Mapping[str, Reported], progress: Mapping[str, Progress]
) -> tuple[str, ...]:
    """Preparations that are done, without those of parts that were taught now: a lesson taught again asks again."""
    settled = [key for key in (*marks.seen_to, *marks.let_go) if key.startswith("prep/")]
    taught = [
        f"prep/{visit.class_id}/{step.lesson}/{step.part}/"
        for visit in day.visits
        for step in steps_taught(visit, reports[visit.key])
    ]
    before = (*opening.prepared, *settled)
    kept = (key for key in before if not key.startswith(tuple(taught)) and not is_driven(key, day.date))
    return tuple(dict.fromkeys(key for key in kept if not _is_behind(key, "prep", progress)))


def _shown_cautions(day: Day, opening: State) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*opening.cautioned, *(caution.key for caution in day.cautions))))


def _is_behind(key: str, word: str, progress: Mapping[str, Progress]) -> bool:
    """Whether a key "word/class/lesson/…" speaks of a lesson, or of a part, that the class has put behind it.

    The part before the next one still counts: what was made in it may have to go through the kiln.
    """
    for class_id, now in progress.items():
        rest = key.removeprefix(f"{word}/{class_id}/")
        if rest == key:
            continue
        lesson, _, after = rest.partition("/")
        if lesson in now.lessons_done and lesson != now.lesson:
            return True
        part = after.partition("/")[0]
        return word == "prep" and lesson == now.lesson and part.isdigit() and int(part) < now.part - 1
    return False


def _came_short_after(day: Day, marks: Marks, opening: State) -> dict[str, int]:
    """On how many days each supply came up short or was packed in part: one more for each that did so today."""
    short = [line.supply for line in day.lines if state_of(line, marks) in ("short", "part packed")]
    today = {supply for supply in short if not supply.startswith(FOLDER)}
    return opening.came_short | {supply: opening.came_short.get(supply, 0) + 1 for supply in sorted(today)}


def _standing_seen(day: Day, marks: Marks) -> dict[str, date]:
    """Containers whose standing set was looked through today."""
    return {key.removeprefix(STANDING): day.date for key in marks.seen_to if key.startswith(STANDING)}


def _lost_after(day: date, changes: Changed | None, opening: State) -> tuple[date, ...]:
    lost = changes is not None and changes.no_school and day not in opening.lost_days
    return (*opening.lost_days, day) if lost else opening.lost_days


def _announced_after(day: date, changes: Changed | None, opening: State) -> dict[str, str]:
    if changes is None or not changes.day:
        return opening.announced
    return opening.announced | {day.isoformat(): changes.day}
