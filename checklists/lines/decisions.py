"""Parts that cannot be taught as things are, each with what could be taught instead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time

from checklists.daybook.entries import Changed
from checklists.lines.need import because_of
from checklists.lines.reasoning import Judged
from checklists.lines.records import Decision, Offer, Step, Visit
from checklists.plan.records import Plan


def decisions_of(plan: Plan, day: date, judged: Sequence[Judged], away: Sequence[str] = ()) -> tuple[Decision, ...]:
    """One decision for each visit that is stopped; nothing is packed for it until she has made it.

    ``away`` are the classes that are not visited as it is.
    """
    return tuple(
        Decision(
            key=f"decide/{one.visit.key}",
            visit=one.visit.key,
            text=_public_text(one),
            offers=tuple(_offers(plan, day, one.visit, one.stopped[0][0], away)),
            because=tuple(why for _, effect in one.stopped for why in because_of(effect, one.visit)),
        )
        for one in judged
        if one.stopped
    )


def _public_text(one: Judged) -> str:
    """What stops the part; of what tells of a child's need only that it does."""
    said = (
        f"{one.visit.class_id}: the part cannot be taught as things are." if effect.rule.private else effect.text
        for _, effect in one.stopped
    )
    return " ".join(dict.fromkeys(said))


def _offers(plan: Plan, day: date, visit: Visit, step: Step, away: Sequence[str]) -> Iterator[Offer]:
    """The lesson's dry version, the filler; a second adult, where there was only one."""
    at = datetime.combine(day, time())
    lesson = plan.lesson_by_id[step.lesson]
    for instead in dict.fromkeys((lesson.dry_version, plan.school.habits.filler)):
        if instead in plan.lesson_by_id and instead != step.lesson:
            label = f"teach {plan.lesson_by_id[instead].title}"
            yield Offer(label, Changed(at=at, lessons={visit.key: instead}))
    if visit.adults < 2:
        yield Offer("a second adult is there", Changed(at=at, adults={visit.class_id: 2}))
    yield Offer(f"{visit.class_id} is not visited", Changed(at=at, away=(*away, visit.class_id)))
