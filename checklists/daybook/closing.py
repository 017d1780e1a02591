"""Closing a day: from how things stood in the morning and what happened, to how they stand overnight."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from checklists.daybook.carry_over import carried_after
from checklists.daybook.classes import owed_after, progress_of_visits, unfinished_after, unsure_after
from checklists.daybook.marks import Marks
from checklists.daybook.records import Case, Changed, Progress, State
from checklists.daybook.reports import reports_of
from checklists.daybook.stock import contents_after, levels_after, places_after
from checklists.lines.records import Day
from checklists.plan.records import Plan


def close_day(plan: Plan, day: Day, marks: Marks, opening: State, *, as_planned: bool = False) -> State:
    """The state after ``day``.

    A visit nobody reported is of unknown outcome: its class stays where it is, the question is kept, what was packed
    for it is taken as used and a reserve for its absences as owed. With ``as_planned`` (a day still to come, looked
    past) such visits are taken as done with nobody missing.
    """
    reports = reports_of(day, marks, as_planned=as_planned)
    contents, on_hand = contents_after(plan, day, marks, opening, reports)
    progress = dict(opening.progress) | dict(progress_of_visits(plan, day, opening, reports))
    return State(
        contents=contents,
        places=places_after(day, marks, opening),
        progress=progress,
        unsure=unsure_after(day, opening, reports),
        owed=owed_after(plan, day, marks, opening, reports),
        unfinished=unfinished_after(day, opening, reports),
        on_hand=on_hand,
        counted=opening.counted | dict.fromkeys(marks.counted, day.date),
        levels=levels_after(marks, opening),
        carried=carried_after(plan, day, marks, opening, reports, as_planned=as_planned),
        cases=_cases_after(day, marks, opening),
        prepared=tuple(key for key in _done_preparations(marks, opening) if not _is_behind(key, "prep", progress)),
        cautioned=tuple(key for key in _shown_cautions(day, opening) if not _is_behind(key, "caution", progress)),
        lost_days=_lost_after(day.date, marks.changes, opening),
        announced=_announced_after(day.date, marks.changes, opening),
    )


def _cases_after(day: Day, marks: Marks, opening: State) -> tuple[Case, ...]:
    cases = [case for case in opening.cases if case.key not in marks.closed_cases]
    visits = {visit.key: visit for visit in day.visits}
    for (key, supply), count in marks.sharps.items():
        visit = visits.get(key)
        case = f"{day.date.isoformat()}/{key}/{supply}"
        if visit is None or count.back >= count.out or case in marks.closed_cases:
            continue
        cases.append(
            Case(
                key=case,
                supply=supply,
                count=count.out - count.back,
                date=day.date,
                room=visit.room,
                period=visit.period,
                school_class=visit.class_id,
                out=count.out,
                back=count.back,
            )
        )
    return tuple(_with_report(case, marks) for case in cases)


def _with_report(case: Case, marks: Marks) -> Case:
    said = marks.reported_cases.get(case.key)
    if said is None:
        return case
    return Case(
        case.key,
        case.supply,
        case.count,
        case.date,
        case.room,
        case.period,
        case.school_class,
        case.out,
        case.back,
        said.to_whom,
        said.when or f"{said.at.date().isoformat()} {said.at:%H:%M}",
    )


def _done_preparations(marks: Marks, opening: State) -> tuple[str, ...]:
    settled = [key for key in (*marks.seen_to, *marks.let_go) if key.startswith("prep/")]
    return tuple(dict.fromkeys((*opening.prepared, *settled)))


def _shown_cautions(day: Day, opening: State) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*opening.cautioned, *(caution.key for caution in day.cautions))))


def _is_behind(key: str, word: str, progress: Mapping[str, Progress]) -> bool:
    """Whether a key "word/class/lesson/…" speaks of a lesson, or of a part, that the class has put behind it."""
    for class_id, now in progress.items():
        rest = key.removeprefix(f"{word}/{class_id}/")
        if rest == key:
            continue
        lesson, _, after = rest.partition("/")
        if lesson in now.lessons_done and lesson != now.lesson:
            return True
        part = after.partition("/")[0]
        return word == "prep" and lesson == now.lesson and part.isdigit() and int(part) < now.part
    return False


def _lost_after(day: date, changes: Changed | None, opening: State) -> tuple[date, ...]:
    lost = changes is not None and changes.no_school and day not in opening.lost_days
    return (*opening.lost_days, day) if lost else opening.lost_days


def _announced_after(day: date, changes: Changed | None, opening: State) -> dict[str, str]:
    if changes is None or not changes.day:
        return opening.announced
    return opening.announced | {day.isoformat(): changes.day}
