"""The day's end, first part: what is sharp or her own is counted back, and what is missing stays a case."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec import structs

from checklists.daybook.entries import ClosedCase, CountedSharps, ReportedMissing, Ticked
from checklists.daybook.marks import Marks
from checklists.daybook.matters import SHARPS, Choice, OpenMatter
from checklists.daybook.reports import counts_said, went_out
from checklists.lines.records import Day, Visit
from checklists.plan.records import Plan
from checklists.words import say_date, say_room


def name_of_visit(visit: Visit) -> str:
    return f"{visit.name} {visit.class_id}"


def was_not_taught(visit: Visit, marks: Marks) -> bool:
    report = marks.reports.get(visit.key)
    return report is not None and report.outcome == "not taught"


def ask_counts(day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    """How many came back of what went out today, then of what is not counted back since earlier days."""
    for visit in day.visits:
        if was_not_taught(visit, marks):
            continue
        for supply, amount in went_out(day, visit.key, marks).items():
            line = next(line for line in day.lines if line.supply == supply and line.counted)
            said = marks.sharps.get((visit.key, supply))
            out = said.out if said is not None else amount
            what = f"{name_of_visit(visit)}, {say_room(visit.room)}: {out} {line.name} went out"
            asked = _ask_count(what, CountedSharps(at=at, visit=visit.key, supply=supply, out=out, back=out), said)
            yield structs.replace(asked, key=f"count/{visit.key}/{supply}", number=line.number)
    for matter in day.matters:
        if matter.kind == "count pending":
            visit_key = matter.key.removeprefix(f"count/{matter.since.isoformat()}/").removesuffix(f"/{matter.supply}")
            said = marks.late_counts.get((matter.since, visit_key, matter.supply))
            back = CountedSharps(
                at=at, visit=visit_key, supply=matter.supply, out=matter.count, back=matter.count, on=matter.since
            )
            asked = _ask_count(f"{matter.what} since {say_date(matter.since)}", back, said)
            yield structs.replace(asked, key=matter.key, on=matter.since)


def _ask_count(what: str, all_back: CountedSharps, said: CountedSharps | None) -> OpenMatter:
    return OpenMatter(
        key="",
        section=SHARPS,
        text=f"{what}. How many came back?",
        critical=True,
        choices=(Choice(f"= all {all_back.out}", (all_back,)),),
        typed="count",
        hint=f"how many came back, or = for all {all_back.out}",
        answer=_say_count(said),
        visit=all_back.visit,
        out=all_back.out,
        supply=all_back.supply,
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
    """What became of what is missing: cases of earlier days, then what did not come back by today's counts.

    Both have their answers in the same order, and "found" does not stand beside "reported".
    """
    for key, text in zip(day.case_keys, day.cases, strict=True):
        found = Choice("found", (ClosedCase(at=at, case=key, found=True),))
        without = Choice("close without it", (ClosedCase(at=at, case=key, found=False),))
        yield _ask_case(key, f"{text}.", marks, at, found, without)
    for key, count in counts_said(day, marks):
        if count.back < count.out:
            missing = f"{count.out - count.back} {plan.name_of_supply(count.supply)} missing"
            visit = next((each for each in day.visits if each.key == count.visit), None)
            whence = name_of_visit(visit) if visit is not None else count.visit
            again = structs.replace(count, at=at, back=count.out)
            found = Choice(f"found: all {count.out} are back", (again,))
            yield _ask_case(key, f"{missing} from {whence}. Tell the office; whom did you tell?", marks, at, found)


def _ask_case(key: str, text: str, marks: Marks, at: datetime, *more: Choice) -> OpenMatter:
    closed, reported = marks.closed_cases.get(key), marks.reported_cases.get(key)
    answer = "still missing" if f"case/{key}" in marks.seen_to else ""
    if reported is not None:
        answer = f"reported to {reported.to_whom}"
    if closed is not None:
        answer = "found" if closed.found else "closed without it"
    return OpenMatter(
        key=f"case/{key}",
        section=SHARPS,
        text=text,
        critical=True,
        choices=(
            Choice("reported to the office", (ReportedMissing(at=at, case=key, to_whom="the office"),)),
            Choice("still missing", (Ticked(at=at, matter=f"case/{key}"),)),
            *more,
        ),
        answer=answer,
    )
