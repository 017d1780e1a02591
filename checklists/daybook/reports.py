"""What became of the visits of a day, as reported; and what follows from an outcome."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime, time

from msgspec import structs

from checklists.daybook.entries import CountedSharps, OutcomeKind, Reported
from checklists.daybook.line_states import state_of
from checklists.daybook.marks import Marks, case_key
from checklists.daybook.there_for import needed_by, there_for
from checklists.lines.records import Day, Step, Visit
from checklists.words import minute_of_day

USED_UP = ("done", "done except", "about half", "went further", "another part", "unknown")
"""Outcomes after which what was packed for a visit counts as used."""


def reports_of(day: Day, marks: Marks, *, as_planned: bool = False) -> dict[str, Reported]:
    """Visit -> what was reported of it; "unknown" where nobody did, or as planned if ``as_planned``."""
    return {visit.key: marks.reports.get(visit.key) or _unreported(day.date, visit, as_planned) for visit in day.visits}


def _unreported(day: date, visit: Visit, as_planned: bool) -> Reported:
    at = datetime.combine(day, time())
    outcome = planned_outcome(visit) if as_planned else "unknown"
    return Reported(at=at, visit=visit.key, outcome=outcome, absences_known=as_planned)


def is_untold(visit: Visit, marks: Marks) -> bool:
    """Whether nobody has said what became of a visit."""
    report = marks.reports.get(visit.key)
    return report is None or report.outcome == "unknown"


def was_not_taught(visit: Visit, marks: Marks) -> bool:
    """Whether somebody has said that it did not take place."""
    report = marks.reports.get(visit.key)
    return report is not None and report.outcome == "not taught"


def planned_outcome(visit: Visit) -> OutcomeKind:
    """What becomes of a visit that goes as planned: its part is done, or about half of it where she has split it."""
    return "about half" if visit.split else "done"


def step_planned(visit: Visit) -> Step | None:
    """The part of its own lesson that a class's visit was planned for. None where it has no lesson, or another one."""
    return visit.steps[0] if visit.steps and visit.moves_on else None


def steps_taught(visit: Visit, report: Reported) -> tuple[Step, ...]:
    """The parts of its own lesson that the class has done in the visit, in order; none where only half of one was.

    Where it went further, parts it had done before are passed over.
    """
    planned = step_planned(visit)
    if planned is None:
        return ()
    match report.outcome:
        case "done" | "done except":
            return (planned,)
        case "another part" if report.reached_part is not None:
            return (Step(planned.lesson, report.reached_part),)
        case "went further":
            later = range(planned.part + 1, (report.reached_part or 0) + 1)
            return (planned, *(Step(planned.lesson, n) for n in later if n not in visit.done_ahead))
    return ()


def with_todays_visits(marks: Marks, day: Day) -> Marks:
    """What was said of a class's visit under a period it no longer has, under the visit it has now.

    A timetable that is changed in the middle of a year moves visits to other periods; what was told of them stays.
    """
    known = {visit.key for visit in day.visits}
    told = {*marks.reports, *marks.handed_out, *(visit for visit, _ in (*marks.sharps, *marks.count_later))}
    gone = {key for key in told if key not in known}
    if not gone:
        return marks
    now: dict[str, str] = {}
    for visit in day.visits:
        same = [key for key in gone if key.endswith(f" {visit.class_id}")]
        if len(same) == 1 and visit.key not in told:
            now[same[0]] = visit.key
    return structs.replace(
        marks,
        reports={now.get(key, key): said for key, said in marks.reports.items()},
        handed_out={now.get(key, key): said for key, said in marks.handed_out.items()},
        sharps={(now.get(key, key), supply): said for (key, supply), said in marks.sharps.items()},
        count_later={(now.get(key, key), supply): said for (key, supply), said in marks.count_later.items()},
    )


def went_out(day: Day, visit: str, marks: Marks) -> dict[str, int]:
    """Counted supply -> how many went into a visit's room: as many as it needs, or as there were for it."""
    out: dict[str, int] = {}
    here = next((each for each in day.visits if each.key == visit), None)
    for line in day.lines:
        if state_of(line, marks) == "not needed":
            continue
        amount = needed_by(line, visit) if line.counted else 0
        if amount and here is not None and not line.catch_up_for:
            amount = min(amount, there_for(line, here, day, marks))
        if amount:
            out[line.supply] = out.get(line.supply, 0) + amount
    return out


def counts_said(day: Day, marks: Marks) -> Iterator[tuple[str, CountedSharps]]:
    """Counts back that were told today, each with the key of the case it would open.

    Where the calendar has moved the visit since, the count is of the visit as it is now, the case named as it was told.
    """
    for (visit, supply), count in marks.sharps.items():
        yield case_key(day.date, count.visit, supply), structs.replace(count, visit=visit)
    for (on, visit, supply), count in marks.late_counts.items():
        yield case_key(on, visit, supply), count


def was_taught(report: Reported) -> bool:
    """Whether something was taught, as far as told: also where the outcome is not known yet."""
    return report.outcome in USED_UP


def was_over(visit: Visit, day: Day, moment: datetime | None) -> bool:
    """Whether a visit had ended at a moment, if there was one: a count made after it has its use taken off already."""
    return moment is not None and (
        moment.date() > day.date or (moment.date() == day.date and minute_of_day(moment) >= visit.end)
    )


def students_who_came(visit: Visit, report: Reported) -> int:
    """How many came: as counted, else the class less those reported absent."""
    if report.students is not None:
        return report.students
    return max(0, visit.students - len(report.absent) - report.absent_count)


def is_in_use(container: str, day: Day, reports: Mapping[str, Reported]) -> bool:
    """Whether a container was used in a visit that was taught."""
    used = next((each for each in day.containers if each.id == container), None)
    return used is not None and any(was_taught(reports[key]) for key in used.visits)
