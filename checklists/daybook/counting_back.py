"""The day's end, first part: what is sharp or her own is counted back, and what is missing stays a case."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from checklists.daybook.marks import Marks, state_of
from checklists.daybook.matters import SECTIONS, Choice, OpenMatter
from checklists.daybook.records import ClosedCase, CountedSharps, ReportedMissing, Ticked
from checklists.lines.quantities import round_up
from checklists.lines.records import Day, Visit
from checklists.plan.records import Plan
from checklists.words import say_room


def name_of_visit(visit: Visit) -> str:
    return f"{visit.name} {visit.class_id}"


def was_not_taught(visit: Visit, marks: Marks) -> bool:
    report = marks.reports.get(visit.key)
    return report is not None and report.outcome == "not taught"


def ask_counts(day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    for visit in day.visits:
        if was_not_taught(visit, marks):
            continue
        for line in day.lines:
            use = next((use for use in line.uses if use.visit == visit.key), None)
            if not line.counted or use is None or state_of(line, marks) == "not needed":
                continue
            said = marks.sharps.get((visit.key, line.supply))
            out = said.out if said is not None else round_up(use.amount)
            all_back = CountedSharps(at=at, visit=visit.key, supply=line.supply, out=out, back=out)
            yield OpenMatter(
                key=f"count/{visit.key}/{line.supply}",
                section=SECTIONS[0],
                text=f"{name_of_visit(visit)}, {say_room(visit.room)}: {out} {line.name} went out. How many came back?",
                critical=True,
                choices=(Choice(f"= all {out}", (all_back,)),),
                typed="count",
                hint=f"how many came back, or = for all {out}",
                answer=_say_count(said),
                visit=visit.key,
                number=line.number,
                out=out,
                supply=line.supply,
            )


def _say_count(said: CountedSharps | None) -> str:
    if said is None:
        return ""
    if said.back == said.out:
        return f"{said.back} of {said.out} back"
    if said.back > said.out:
        return f"{said.back} back of {said.out}: {said.back - said.out} too many"
    return f"{said.back} of {said.out} back: {said.out - said.back} missing"


def ask_cases(plan: Plan, day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    for key, text in zip(day.case_keys, day.cases, strict=True):
        closed, reported = marks.closed_cases.get(key), marks.reported_cases.get(key)
        answer = ""
        if closed is not None:
            answer = "found" if closed.found else "closed without it"
        elif reported is not None:
            answer = f"reported to {reported.to_whom}"
        yield OpenMatter(
            key=f"case/{key}",
            section=SECTIONS[0],
            text=text,
            critical=True,
            choices=(
                Choice("found", (ClosedCase(at=at, case=key, found=True),)),
                Choice("reported to the office", (ReportedMissing(at=at, case=key, to_whom="the office"),)),
                Choice("still missing", (Ticked(at=at, matter=f"case/{key}"),)),
                Choice("close without it", (ClosedCase(at=at, case=key, found=False),)),
            ),
            answer=answer or ("still missing" if f"case/{key}" in marks.seen_to else ""),
        )
    for (key, supply), count in marks.sharps.items():
        if count.back >= count.out:
            continue
        case_key = f"{day.date.isoformat()}/{key}/{supply}"
        visit = next((each for each in day.visits if each.key == key), None)
        known = plan.supply_by_id.get(supply)
        missing = f"{count.out - count.back} {known.name if known is not None else supply} missing"
        reported = marks.reported_cases.get(case_key)
        closed = marks.closed_cases.get(case_key)
        yield OpenMatter(
            key=f"case/{case_key}",
            section=SECTIONS[0],
            text=f"{missing} from {name_of_visit(visit) if visit is not None else key}. Whom did you tell?",
            critical=True,
            choices=(
                Choice("reported to the office", (ReportedMissing(at=at, case=case_key, to_whom="the office"),)),
                Choice("found", (CountedSharps(at=at, visit=key, supply=supply, out=count.out, back=count.out),)),
                Choice("still missing", (Ticked(at=at, matter=f"case/{case_key}"),)),
            ),
            answer=(
                "found" if closed is not None else f"reported to {reported.to_whom}" if reported is not None else ""
            )
            or ("still missing" if f"case/{case_key}" in marks.seen_to else ""),
        )
