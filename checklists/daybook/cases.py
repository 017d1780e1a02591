"""Missing things: a count with fewer back than out opens a case, which stays on top of every day until it is closed.

Nothing is counted twice: a case that is found, or turns out to be lent, gives back what it took off.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct, structs

from checklists.daybook.entries import ClosedCase, CountedSharps, ReportedMissing
from checklists.daybook.marks import Marks
from checklists.daybook.reports import counts_said
from checklists.daybook.state import Case
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.taught_periods import period_and_class


def found_some(key: str, marks: Marks) -> int:
    """How many of a case were found today, while the others are still missing."""
    return sum(each.count or 0 for each in marks.found_some.get(key, ()))


def cases_after(plan: Plan, day: Day, marks: Marks, before: tuple[Case, ...]) -> tuple[Case, ...]:
    """The open cases after all that was said of a day, the oldest first."""
    cases = {case.key: case for case in before if case.key not in marks.closed_cases}
    for key, count in counts_said(day, marks):
        known = cases.pop(key, None)  # counted once more: the newer count stands
        if count.back < count.out and key not in marks.closed_cases:
            cases[key] = _case(plan, day, key, count, known)
    left = (structs.replace(case, count=case.count - found_some(case.key, marks)) for case in cases.values())
    return tuple(_with_report(case, marks) for case in left if case.count > 0)


def _case(plan: Plan, day: Day, key: str, count: CountedSharps, before: Case | None) -> Case:
    period, class_id = period_and_class(plan, count.visit)
    visit = next((each for each in day.visits if each.key == count.visit), None) if count.on is None else None
    class_ = plan.class_by_id.get(visit.class_id if visit is not None else class_id)
    return Case(
        key=key,
        supply=count.supply,
        count=count.out - count.back,
        date=count.on or day.date,
        room=visit.room if visit is not None else class_.room if class_ is not None else "",
        period=visit.period if visit is not None else period,
        school_class=class_.id if class_ is not None else class_id,
        out=count.out,
        back=count.back,
        reported_to=before.reported_to if before is not None else "",
        reported_when=before.reported_when if before is not None else "",
    )


def _with_report(case: Case, marks: Marks) -> Case:
    said = marks.reported_cases.get(case.key)
    if said is None:
        return case
    return structs.replace(case, reported_to=said.to_whom, reported_when=_when_reported(said))


def _when_reported(said: ReportedMissing) -> str:
    """ "2026-10-05 15:05"; what she said of the time, where that is more than a time of day, as she said it."""
    if said.when and not _is_clock(said.when):
        return said.when
    return f"{said.at.date().isoformat()} {said.when or f'{said.at.hour}:{said.at.minute:02d}'}"


def _is_clock(text: str) -> bool:
    hours, sign, minutes = text.partition(":")
    return bool(sign) and hours.isdecimal() and minutes.isdecimal()


def cases_now(plan: Plan, day: Day, marks: Marks) -> tuple[Case, ...]:
    """What is missing at this moment of a day."""
    return cases_after(plan, day, marks, day.open_cases)


# -------------------------------------------------------------------------------------- more back than went out


class TooMany(Struct, frozen=True):
    """A count with more back than went out, and the cases it may be the end of."""

    key: str
    count: CountedSharps
    extra: int
    candidates: tuple[Case, ...]
    """Open cases of the same supply, the oldest first; none where it was answered."""
    is_answered: bool


def too_many_back(plan: Plan, day: Day, marks: Marks) -> Iterator[TooMany]:
    """Each count with more back than out where something of the same supply was missing, this morning or since."""
    now = cases_now(plan, day, marks)
    found = _found_today(day, marks)
    for key, count in counts_said(day, marks):
        extra = count.back - count.out
        if extra <= 0:
            continue
        is_found = found.get(count.supply, 0) >= extra
        found[count.supply] = max(0, found.get(count.supply, 0) - extra)
        candidates = tuple(case for case in now if case.supply == count.supply)
        if candidates or is_found:
            yield TooMany(key, count, extra, candidates, is_found)


def _found_today(day: Day, marks: Marks) -> dict[str, int]:
    """Supply -> how many of what was missing were found today."""
    missing = {case.key: (case.supply, case.count) for case in day.open_cases}
    missing |= {key: (each.supply, max(0, each.out - each.back)) for key, each in counts_said(day, marks)}
    found: dict[str, int] = {}
    for key, (supply, count) in missing.items():
        closed = marks.closed_cases.get(key)
        some = found_some(key, marks)
        found[supply] = found.get(supply, 0) + (count if closed is not None and closed.found else some)
    return found


def found_of(case: Case, at: datetime, count: int | None = None, where: str = "", by: str = "") -> ClosedCase:
    """The entry that a case is found, or so many of it."""
    some = None if count is None or count >= case.count else count
    return ClosedCase(at=at, case=case.key, found=True, count=some, where=where, by=by)
