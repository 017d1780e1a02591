"""What became of the visits of a day, as reported; and what follows from an outcome."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time

from checklists.daybook.marks import Marks
from checklists.daybook.records import Reported
from checklists.lines.records import Day, Step, Visit

USED_UP = ("done", "done except", "about half", "went further", "unknown")
"""Outcomes after which what was packed for a visit counts as used."""


def reports_of(day: Day, marks: Marks, *, as_planned: bool = False) -> dict[str, Reported]:
    """Visit -> what was reported of it; "unknown" where nobody did, or done with nobody missing if ``as_planned``."""
    return {visit.key: marks.reports.get(visit.key) or _unreported(day.date, visit, as_planned) for visit in day.visits}


def _unreported(day: date, visit: Visit, as_planned: bool) -> Reported:
    at = datetime.combine(day, time())
    return Reported(at=at, visit=visit.key, outcome="done" if as_planned else "unknown", absences_known=as_planned)


def step_taught(visit: Visit, report: Reported) -> Step | None:
    """The part that was begun in the visit: the class's own next one. None without a lesson, or with a substitute."""
    return visit.steps[0] if visit.steps and not visit.substitute and report.outcome != "not taught" else None


def parts_taught(visit: Visit, report: Reported) -> int:
    """How many parts the class has put behind it by this visit."""
    if step_taught(visit, report) is None:
        return 0
    match report.outcome:
        case "done" | "done except":
            return 1
        case "went further":
            return max(1, (report.reached_part or 0) - visit.steps[0].part + 1)
    return 0


def was_taught(report: Reported) -> bool:
    """Whether something was taught, as far as told: also where the outcome is not known yet."""
    return report.outcome in USED_UP


def students_who_came(visit: Visit, report: Reported) -> int:
    """How many came: as counted, else the class less those reported absent."""
    if report.students is not None:
        return report.students
    return max(0, visit.students - len(report.absent) - report.absent_count)


def is_in_use(container: str, day: Day, reports: Mapping[str, Reported]) -> bool:
    """Whether a container was used in a visit that was taught."""
    used = next((each for each in day.containers if each.id == container), None)
    return used is not None and any(was_taught(reports[key]) for key in used.visits)
