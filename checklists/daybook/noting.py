"""What a line about a visit puts into the daybook, or why it cannot be: the same on the screen and by command.

What a line does not say stays as it was said before. Of a visit nothing was said of yet, a line also says that it was
taught as planned and nobody was missing, but for what it tells. It never says anything of a count by itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from msgspec import structs

from checklists.daybook.counts_pending import name_of_visit
from checklists.daybook.entries import AnyEntry, CountedSharps, CountLater, FoundLevel, HandedOut, Reported, Stands
from checklists.daybook.marks import Marks
from checklists.daybook.reports import is_untold, planned_outcome, went_out
from checklists.daybook.said import say_entry
from checklists.daybook.shorthand import Back, Shorthand
from checklists.daybook.typing_in import MOST_TOO_MANY
from checklists.daybook.visit_said import SaidOfVisit, report_with
from checklists.lines.records import Day, Line, Visit
from checklists.plan.records import Plan
from checklists.words import join_words, plural


class CannotBe(Exception):  # noqa: N818 - what it says, in the words of the message
    """A line says what cannot be so on this day; the message says what, and what to type."""


def visit_meant(line: Shorthand, day: Day, in_hand: Visit | None) -> Visit | str:
    """The visit a line is about: the one it names, else the one in hand."""
    if not line.visit:
        return in_hand or "Say which visit, like v3."
    visit = next((each for each in day.visits if each.number == line.visit), None)
    if visit is None:
        last = len(day.visits)
        return f"There is no visit V{line.visit} on that day" + (f": they go to V{last}." if last else ".")
    return visit


def entries_of_line(
    plan: Plan, day: Day, marks: Marks, visit: Visit, line: Shorthand, at: datetime
) -> tuple[AnyEntry, ...] | str:
    """The entries for a line about a visit, as one step; or, in words, what cannot be."""
    try:
        found = (
            *_report(plan, marks, visit, line, at),
            *_counts(day, marks, visit, line, at),
            *_levels(plan, day, line, at),
            *_stayed(day, visit, line, at),
            *_handed_out(day, visit, line, at),
        )
    except CannotBe as problem:
        return str(problem)
    return found or f"{name_of_visit(visit)} was told before. Say what is different."


def say_noted(entries: Sequence[AnyEntry], day: Day, plan: Plan) -> str:
    """What entries of one visit say, in words; the visit is named once."""
    said = [say_entry(each, day, plan) for each in entries]
    name = said[0].partition(": ")[0] + ": " if said else ""
    return "; ".join([*said[:1], *(each.removeprefix(name) for each in said[1:])])


# ------------------------------------------------------------------------------------------ what it reached, who missed


def _report(plan: Plan, marks: Marks, visit: Visit, line: Shorthand, at: datetime) -> Iterator[Reported]:
    before = marks.reports.get(visit.key)
    is_told = not is_untold(visit, marks)
    said = SaidOfVisit(
        outcome=line.outcome,
        not_done=line.not_done,
        not_done_numbers=line.not_done_numbers,
        reached=line.part if line.outcome == "went further" else None,
        taught=line.part if line.outcome == "another part" else None,
        absent=line.absent,
        absent_count=line.absent_count,
        absent_unknown=line.absent_unknown,
        half=line.half,
        students=line.students,
    )
    if is_told and said == SaidOfVisit():
        return
    found = report_with(plan, visit, before, said if is_told else _as_planned_but_for(visit, said, before), at)
    if isinstance(found, str):
        raise CannotBe(found)
    yield found


def _as_planned_but_for(visit: Visit, said: SaidOfVisit, before: Reported | None) -> SaidOfVisit:
    """As it was planned and nobody missing, where nothing else is said."""
    tells_outcome = said.outcome is not None or said.not_done or said.not_done_numbers
    tells_absences = said.absent is not None or said.absent_count is not None or said.absent_unknown
    is_known = before is not None and before.absences_known
    nobody = not tells_absences and not is_known and said.outcome != "not taught"
    return structs.replace(
        said, outcome=said.outcome if tells_outcome else planned_outcome(visit), absent=() if nobody else said.absent
    )


# ------------------------------------------------------------------------------------------------------ counted back


def counted_of(day: Day, marks: Marks, visit: Visit) -> tuple[tuple[Line, int], ...]:
    """What is counted of a visit, in the order of the lines, and how many went out."""
    found: list[tuple[Line, int]] = []
    for supply, amount in went_out(day, visit.key, marks).items():
        said = marks.sharps.get((visit.key, supply))
        line = next(each for each in day.lines if each.supply == supply and each.counted)
        found.append((line, amount if said is None else said.out))
    return tuple(found)


def still_to_count(day: Day, marks: Marks, visit: Visit) -> tuple[tuple[Line, int], ...]:
    """What of it nobody has counted back yet."""
    return tuple(each for each in counted_of(day, marks, visit) if (visit.key, each[0].supply) not in marks.sharps)


def _counts(
    day: Day, marks: Marks, visit: Visit, line: Shorthand, at: datetime
) -> Iterator[CountedSharps | CountLater]:
    if not (line.back or line.all_back or line.all_later):
        return
    every = counted_of(day, marks, visit)
    if not every:
        raise CannotBe(f"Nothing that is counted went to {name_of_visit(visit)}. Say a number of what, like 2a or 3f.")
    waiting = list(still_to_count(day, marks, visit) or every)
    said = line.back or tuple(Back(line=each.number, later=line.all_later) for each, _ in waiting)
    taken: set[str] = set()
    for back in said:
        counted, out = _counted_meant(back, visit, every, [each for each in waiting if each[0].supply not in taken])
        if counted.supply in taken:
            raise CannotBe(f"{counted.name} is said twice. Say it once.")
        taken.add(counted.supply)
        went = out if back.out is None else back.out
        count = went if back.count is None else back.count
        if back.later:
            yield CountLater(at=at, visit=visit.key, supply=counted.supply)
        elif count > went + MOST_TOO_MANY:
            raise CannotBe(f"{went} {counted.name} went out to {name_of_visit(visit)}, so {count} cannot be back.")
        else:
            yield CountedSharps(at=at, visit=visit.key, supply=counted.supply, out=went, back=count)


def _counted_meant(
    back: Back, visit: Visit, every: Sequence[tuple[Line, int]], waiting: Sequence[tuple[Line, int]]
) -> tuple[Line, int]:
    if back.line:
        meant = next((each for each in every if each[0].number == back.line), None)
        if meant is None:
            there = join_words(f"{each.number} {each.name}" for each, _ in every)
            raise CannotBe(f"Line {back.line} is not counted in {name_of_visit(visit)}. Counted: {there}.")
        return meant
    if not waiting:
        names = join_words(each.name for each, _ in every)
        raise CannotBe(f"Only {plural(len(every), 'thing')} of {name_of_visit(visit)} are counted: {names}.")
    return waiting[0]


# ------------------------------------------------------------------------- what is low, what stayed, what was given


def _levels(plan: Plan, day: Day, line: Shorthand, at: datetime) -> Iterator[FoundLevel]:
    both = next((number for number in line.low if number in line.out), None)
    if both is not None:
        raise CannotBe(f"Line {both} cannot be low and out. Say one of them.")
    for number in (*line.low, *line.out):
        known = next((each for each in day.lines if each.number == number), None)
        if known is None or known.supply not in plan.supply_by_id:
            raise CannotBe(f"There is no supply with line number {number} on the list of that day.")
        yield FoundLevel(at=at, supply=known.supply, level="out" if number in line.out else "low")


def _stayed(day: Day, visit: Visit, line: Shorthand, at: datetime) -> Iterator[Stands]:
    along = [each for each in day.containers if visit.key in each.visits and each.kind != "cart"]
    for word in line.stayed:
        if word.isdigit():
            inside = {each.container for each in day.lines if each.number == int(word)}
            found = [each for each in along if each.id in inside]
        else:
            found = [each for each in along if is_begun_by(each.name, word) or is_begun_by(each.id, word)]
        if len(found) > 1:
            raise CannotBe(f"{word} may be {join_words((each.name for each in found), 'or')}. Type more of it.")
        if not found:
            there = f" There: {join_words(each.name for each in along)}." if along else ""
            raise CannotBe(f"{word} is nothing that went to {name_of_visit(visit)}.{there}")
        yield Stands(at=at, container=found[0].id, place=visit.room, period=visit.period)


def is_begun_by(name: str, typed: str) -> bool:
    """Whether typed letters are the beginnings of the words of a name, one after the other: "b3" of "Box 3"."""
    words = name.casefold().replace("-", " ").split()
    return _begins(words, typed.replace("-", ""))


def _begins(words: list[str], typed: str) -> bool:
    if not typed:
        return True
    if not words:
        return False
    for length in range(min(len(words[0]), len(typed)), 0, -1):
        if words[0].startswith(typed[:length]) and _begins(words[1:], typed[length:]):
            return True
    return False


def _handed_out(day: Day, visit: Visit, line: Shorthand, at: datetime) -> Iterator[HandedOut]:
    if line.handed_out is None:
        return
    if not any(each.catch_up_for == visit.class_id and visit.key in each.visits for each in day.lines):
        raise CannotBe(f"There was no catch-up kit for {name_of_visit(visit)}.")
    yield HandedOut(at=at, visit=visit.key, given=line.handed_out)
