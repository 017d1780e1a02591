"""The day's end, first part: what is sharp or her own is counted back, and what is missing stays a case."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec import structs

from checklists.daybook.cases import TooMany, cases_now, found_of, too_many_back
from checklists.daybook.counts_pending import name_of_visit
from checklists.daybook.entries import ClosedCase, CountedSharps, CountLater, Lent, ReportedMissing, Ticked
from checklists.daybook.lending import borrower_typed
from checklists.daybook.marks import Marks
from checklists.daybook.matters import SHARPS, Choice, OpenMatter
from checklists.daybook.reports import counts_said, was_not_taught, went_out
from checklists.daybook.said_of_cases import say_case, say_closed
from checklists.daybook.state import Case
from checklists.daybook.what_is_left import left_for_visits, say_left
from checklists.lines.containers import home_of
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.taught_periods import period_and_class
from checklists.words import say_date, say_room

OFFICE = "the office"
MOST_OFFERED = 7
"""Cases that are offered for one count: each answer has a digit of its own."""


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
            later = Choice("later", (CountLater(at=at, visit=visit.key, supply=supply),))
            answer = LATER if (visit.key, supply) in marks.count_later else asked.answer
            yield structs.replace(
                asked,
                key=f"count/{visit.key}/{supply}",
                number=line.number,
                choices=(*asked.choices, later),
                answer=answer,
            )
    for matter in day.matters:
        if matter.kind == "count pending":
            visit_key = matter.key.removeprefix(f"count/{matter.since.isoformat()}/").removesuffix(f"/{matter.supply}")
            said = marks.late_counts.get((matter.since, visit_key, matter.supply))
            back = CountedSharps(
                at=at, visit=visit_key, supply=matter.supply, out=matter.count, back=matter.count, on=matter.since
            )
            asked = _ask_count(f"{matter.what} since {say_date(matter.since)}", back, said)
            yield structs.replace(asked, key=matter.key, on=matter.since)


LATER = "to be counted later"
"""What is said of a count that could not be made: it stays on top until it is."""


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


# ------------------------------------------------------------------------------------------------------- missing


def ask_cases(plan: Plan, day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    """What became of what is missing: cases of earlier days, then what did not come back by today's counts.

    Both have their answers in the same order, and "found" does not stand beside "reported". Then counts with more back
    than went out, which may be the end of a case.
    """
    now = {case.key: case for case in cases_now(plan, day, marks)}
    known = {case.key: case for case in day.open_cases}
    for key, case in known.items():
        without = Choice("close without it", (ClosedCase(at=at, case=key, found=False),))
        stands_in = home_of(plan, case.supply) or ""
        yield _ask_case(now.get(key, case), f"{say_case(plan, now.get(key, case))}.", marks, at, stands_in, without)
    for key, count in counts_said(day, marks):
        if count.back < count.out and key not in known:
            case = now.get(key) or _closed_case(plan, day, key, count)
            lines = (line for line in day.lines if line.supply == count.supply and count.visit in line.visits)
            line = next(lines, None) if count.on is None else None
            stands_in = line.container if line is not None else home_of(plan, count.supply) or ""
            yield _ask_case(case, _say_missing(plan, day, marks, case, at), marks, at, stands_in)
    for each in too_many_back(plan, day, marks):
        yield _ask_too_many(plan, day, each, at)


def _closed_case(plan: Plan, day: Day, key: str, count: CountedSharps) -> Case:
    """The case of a count, where it is closed already."""
    visit = next((each for each in day.visits if each.key == count.visit), None)
    period, class_id = period_and_class(plan, count.visit)
    room = visit.room if visit is not None else ""
    on = count.on or day.date
    return Case(key, count.supply, count.out - count.back, on, room, period, class_id, count.out, count.back)


def _say_missing(plan: Plan, day: Day, marks: Marks, case: Case, at: datetime) -> str:
    """ "1 scissors missing: Room 12, P3 3-B, 13 out 12 back. V4 needs 14, 29 left: enough. Whom did you tell?"."""
    room = f"{say_room(case.room)}, " if case.room else ""
    where = f"{room}{case.period} {case.school_class}, {case.out} out {case.back} back"
    after = f"{case.period} {case.school_class}"
    left = say_left(left_for_visits(plan, day, marks, case.supply, at, after))
    said = f"{case.count} {plan.name_of_supply(case.supply)} missing: {where}."
    return " ".join(each for each in (said, left, "Tell the office; whom did you tell?") if each)


def _ask_case(case: Case, text: str, marks: Marks, at: datetime, stands_in: str, *more: Choice) -> OpenMatter:
    closed, reported = marks.closed_cases.get(case.key), marks.reported_cases.get(case.key)
    answer = "still missing" if f"case/{case.key}" in marks.seen_to else ""
    if reported is not None:
        answer = f"reported to {reported.to_whom}" + (f", {reported.when}" if reported.when else "")
    if closed is not None:
        answer = say_closed(closed)
    found_in = f" in {say_room(case.room)}" if case.room else ""
    where = say_room(case.room) if case.room else ""
    return OpenMatter(
        key=f"case/{case.key}",
        section=SHARPS,
        text=text,
        critical=True,
        choices=(
            Choice(f"reported to {OFFICE}", (ReportedMissing(at=at, case=case.key, to_whom=OFFICE),)),
            Choice("still missing", (Ticked(at=at, matter=f"case/{case.key}"),)),
            Choice(f"found{found_in}", (found_of(case, at, where=where),)),
            *([] if closed is not None and closed.lent else [_lent_to_room(case, at, stands_in)]),
            *more,
        ),
        typed="" if closed is not None and closed.lent else "case",
        hint="more: f where, r whom, l who has it",
        answer=answer,
        supply=case.supply,
        missing=case,
        container=stands_in,
    )


def _lent_to_room(case: Case, at: datetime, stands_in: str) -> Choice:
    return Choice("lent to the room", lent_after_all(case, at, stands_in, "", case.room))


def lent_after_all(case: Case, at: datetime, stands_in: str, to: str, place: str) -> tuple[ClosedCase, Lent]:
    """The case is closed, since what was missing is lent: it was in ``stands_in``, and is a loan now."""
    whom = ", ".join(each for each in (to, say_room(place) if place else "") if each)
    closed = ClosedCase(at=at, case=case.key, found=True, lent=True, where=whom)
    return closed, Lent(at=at, supply=case.supply, count=case.count, to=to, place=place, container=stands_in)


def say_too_many(plan: Plan, day: Day, each: TooMany) -> str:
    """ "26 of 25 scissors back from V4 3-K: is one of them what is missing since Mon 5 Oct from Room 12?"."""
    count = each.count
    visit = next((visit for visit in day.visits if visit.key == count.visit and count.on is None), None)
    whence = name_of_visit(visit) if visit is not None else count.visit
    said = f"{count.back} of {count.out} {plan.name_of_supply(count.supply)} back from {whence}"
    if not each.candidates:
        return f"{said}."
    case = each.candidates[0]
    which = "one of them" if each.extra == 1 else "some of them"
    missing = f"what is missing since {say_date(case.date)} from {say_room(case.room)}"
    return f"{said}: is {which} {missing}?"


def _ask_too_many(plan: Plan, day: Day, each: TooMany, at: datetime) -> OpenMatter:
    visit = next((visit for visit in day.visits if visit.key == each.count.visit), None)
    where = f"among those back from {name_of_visit(visit) if visit is not None else each.count.visit}"
    is_one = len(each.candidates) == 1
    found = [
        Choice(
            "found" if is_one else f"found: of {say_room(case.room)}, {say_date(case.date)}",
            (found_of(case, at, each.extra, where),),
        )
        for case in each.candidates[:MOST_OFFERED]
    ]
    wrong = structs.replace(each.count, at=at, back=each.count.out)
    return OpenMatter(
        key=f"more/{each.key}",
        section=SHARPS,
        text=say_too_many(plan, day, each),
        critical=True,
        choices=(*found, Choice(f"counted wrong: {each.count.out} are back", (wrong,))),
        answer="found" if each.is_answered else "",
        supply=each.count.supply,
    )


def case_offers(plan: Plan, day: Day, case: Case, typed: str, at: datetime) -> tuple[Choice, ...]:
    """What can be said of a missing thing now; what is typed is where it was found, or whom she told or lent it to."""
    stands_in = home_of(plan, case.supply) or ""
    if case.date == day.date:
        lines = (line for line in day.lines if line.supply == case.supply and not line.catch_up_for)
        line = next((each for each in lines if f"{case.period} {case.school_class}" in each.visits), None)
        stands_in = line.container if line is not None else stands_in
    words = " ".join(typed.split())
    where, whom = words or say_room(case.room), words or OFFICE
    to, place = borrower_typed(plan, words) if words else ("", case.room)
    lent = f"lent to {words or say_room(case.room)}"
    return (
        Choice(f"found: {where}", (found_of(case, at, where=where),)),
        Choice(f"reported to {whom}", (ReportedMissing(at=at, case=case.key, to_whom=whom),)),
        Choice(lent, lent_after_all(case, at, stands_in, to, place)),
        *([] if words else [Choice("close without it", (ClosedCase(at=at, case=case.key, found=False),))]),
    )
