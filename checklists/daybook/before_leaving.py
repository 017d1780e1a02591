"""What is still open before she leaves the store, critical things first, each with what to do about it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime

from msgspec import structs

from checklists.daybook.children import hanging_key
from checklists.daybook.entries import (
    CameUpShort,
    CarriedOver,
    LetGo,
    NotNeeded,
    Packed,
    Reason,
    Remedy,
    Stands,
    Ticked,
    WorkAway,
)
from checklists.daybook.fetching import to_fetch
from checklists.daybook.line_states import has_now, is_critical, is_open, is_over, is_settled
from checklists.daybook.lost_day import unpacked
from checklists.daybook.marks import Marks
from checklists.daybook.matters import Choice, OpenMatter
from checklists.daybook.taking_out import not_along
from checklists.lines.records import Day, Decision, Line, Matter
from checklists.walks import STORE
from checklists.words import join_words, say_date

LabelsOf = Callable[[Line], Mapping[Remedy, str]]
"""What each remedy for a line comes to, in words that begin with the remedy."""

REMEDIES: tuple[Remedy, ...] = ("share", "use another", "make more", "fetch", "go without")
TAKEN_OUT = "taken out"
LEFT_OUT = "left out"
"""What is said of a thing that must not come along: it was in the container, or it was not."""
DECIDE = "Decide"
REASONS: tuple[Reason, ...] = ("not today", "room has it", "children have it", "lesson changed", "other")


def before_leaving(
    day: Day, marks: Marks, at: datetime, labels: LabelsOf | None = None, waits: Mapping[str, str] | None = None
) -> tuple[OpenMatter, ...]:
    """Containers to fetch, open decisions, lines, checks at the store, tasks due, carried matters; critical first.

    ``waits``: container -> the later stop at which there is time to fetch it.
    """
    found = (
        *fetch_matters(day, marks, at, waits),
        *(decision_matter(each, day, at) for each in day.decisions),
        *(_of_line(day, line, marks, at, labels) for line in day.lines if is_open(line, marks)),
        *_checks(day, marks, at),
        *_tasks(day, marks, at),
        *_matters(day, marks, at),
    )
    return tuple(sorted(found, key=lambda matter: not matter.critical))


def decision_matter(decision: Decision, day: Day, at: datetime) -> OpenMatter:
    """What is hers to choose about a visit, with what can be done."""
    visit = next((each for each in day.visits if each.key == decision.visit), None)
    whom = f"{visit.name} {visit.class_id}: " if visit is not None else ""
    return OpenMatter(
        key=decision.key,
        section=DECIDE,
        text=whom + decision.text,
        critical=decision.stops,
        choices=tuple(Choice(each.label, (structs.replace(each.change, at=at),)) for each in decision.offers),
        visit=decision.visit,
    )


def fetch_matters(day: Day, marks: Marks, at: datetime, waits: Mapping[str, str] | None = None) -> Iterator[OpenMatter]:
    """What is to be fetched, as needed first."""
    for each in to_fetch(day, marks, waits):
        yield OpenMatter(
            key=each.key,
            section="Fetch",
            text=each.words + (f" ({each.detail})" if each.detail else ""),
            critical=not each.waits,
            choices=(Choice("fetched", (Stands(at=at, container=each.container, place=STORE),)),),
            when=each.waits,
        )


def say_line(line: Line, marks: Marks) -> str:
    """A line as an order: "16 more yarn balls (need 54, has 38)"."""
    has = has_now(line, marks)
    if line.forbidden:
        instead = f"; use {line.instead}" if line.instead else ""
        order = f"take out {has} {line.name}" if has else f"leave out {line.name}"
        return f"{order}: {line.forbidden}{instead}"
    if has >= line.need:
        return f"look for {line.need} {line.name}"
    more = f"{line.need - has} more" if has else f"{line.need}"
    return f"{more} {line.name}" + (f" (need {line.need}, has {has})" if has else "")


def choices_for_line(line: Line, marks: Marks, at: datetime, labels: LabelsOf | None = None) -> tuple[Choice, ...]:
    """What can be said of an open line, with what each remedy comes to where ``labels`` works that out."""
    has = has_now(line, marks)
    if line.forbidden:
        return (Choice(TAKEN_OUT if has else LEFT_OUT, not_along(line, marks, at)),)
    not_needed = tuple(Choice(f"not needed: {why}", (NotNeeded(at=at, line=line.key, reason=why),)) for why in REASONS)
    packed = Choice("packed", (Packed(at=at, line=line.key, count=max(line.need, has)),))
    if has >= line.need:
        return packed, *not_needed[:1]
    said = labels(line) if labels is not None else {}
    short = (
        Choice(said.get(how, how), (CameUpShort(at=at, line=line.key, count=has, remedy=how),)) for how in REMEDIES
    )
    return packed, *short, *not_needed[:1]


def _of_line(day: Day, line: Line, marks: Marks, at: datetime, labels: LabelsOf | None) -> OpenMatter:
    container = next((each.name for each in day.containers if each.id == line.container), line.container)
    visits = join_words(visit.name for visit in day.visits if visit.key in line.visits)
    for_whom = f"catch-up kit of {line.catch_up_for}, " if line.catch_up_for else ""
    return OpenMatter(
        key=line.key,
        section=container,
        container=line.container,
        text=f"{container}: {for_whom}{say_line(line, marks)} for {visits}",
        critical=is_critical(line),
        choices=choices_for_line(line, marks, at, labels),
        number=line.number,
    )


def _checks(day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    for check in day.checks:
        if check.at == "store" and not is_settled(check.key, marks):
            yield OpenMatter(
                key=check.key,
                section="Look",
                text=check.what,
                critical=check.critical,
                choices=(Choice("seen to", (Ticked(at=at, matter=check.key),)),),
                visit=check.visit,
                number=check.number,
            )


def _tasks(day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    for task in day.tasks:
        if task.due > day.date or is_settled(task.key, marks):
            continue
        late = f", was due {say_date(task.due)}" if task.due < day.date else ""
        yield OpenMatter(
            key=task.key,
            section="Prepare",
            text=f"{task.what}, {task.minutes} min, for {task.class_id} on {say_date(task.for_date)}{late}",
            critical=task.critical and task.for_date == day.date,
            choices=(
                Choice("done", (Ticked(at=at, matter=task.key),)),
                Choice("later", (CarriedOver(at=at, matter=task.key),)),
            ),
            visit=task.visit,
            number=task.number,
        )


def _matters(day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    for matter in day.matters:
        if is_settled(matter.key, marks) or is_over(matter, day, marks) or matter.kind == "left in a room":
            continue  # a container that is not at the store is asked for only where today needs it
        yield OpenMatter(
            key=matter.key,
            section="Carried over",
            text=f"{matter.what}, since {say_date(matter.since)}",
            critical=False,
            choices=choices_for_matter(matter, at),
        )


def choices_for_matter(matter: Matter, at: datetime) -> tuple[Choice, ...]:
    """What can be said of a carried matter. A count that is pending can only be counted or left for later."""
    done = Choice("done", (Ticked(at=at, matter=matter.key),))
    later = Choice("carry over", (CarriedOver(at=at, matter=matter.key),))
    if matter.kind == "count pending":
        return (later,)
    if matter.kind == "packed":
        return Choice("keep", (Ticked(at=at, matter=matter.key),)), Choice("unpack", unpacked(matter, at))
    if matter.kind == "work away":
        back = WorkAway(at=at, class_id=matter.key.removeprefix(hanging_key("")), count=0)
        return Choice("back in the folder", (back,)), later
    return done, later, Choice("let go", (LetGo(at=at, matter=matter.key, reason="let go"),))
