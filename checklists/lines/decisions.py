"""What is hers to choose: parts that cannot be taught as things are, and parts that do not fit their minutes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time

from checklists.daybook.entries import Changed
from checklists.lines.need import because_of
from checklists.lines.reasoning import Judged
from checklists.lines.records import Decision, Offer, Step, Visit
from checklists.plan.records import Plan
from checklists.rules.records import Effect

HALF = "teach half of it, the rest next time"
AS_IT_IS = "leave it as it is"


def decisions_of(plan: Plan, day: date, judged: Sequence[Judged], away: Sequence[str] = ()) -> tuple[Decision, ...]:
    """One decision for each visit that is stopped, for which nothing is packed until she has made it, or asked about.

    ``away`` are the classes that are not visited as it is.
    """
    found: list[Decision] = []
    for one in judged:
        if one.stopped:
            offers = _offers(plan, day, one.visit, one.stopped[0][0], away)
            found.append(_decision("decide", one, one.stopped, offers, stops=True))
        elif one.asked:
            offers = _offers_for_time(plan, day, one.visit, one.asked[0][0], away)
            found.append(_decision("fit", one, one.asked, offers, stops=False))
    return tuple(found)


def _decision(
    word: str, one: Judged, because: Sequence[tuple[Step, Effect]], offers: Iterator[Offer], *, stops: bool
) -> Decision:
    return Decision(
        key=f"{word}/{one.visit.key}",
        visit=one.visit.key,
        text=_public_text(one.visit, because),
        offers=tuple(offers),
        because=tuple(why for _, effect in because for why in because_of(effect, one.visit)),
        stops=stops,
    )


def _public_text(visit: Visit, because: Sequence[tuple[Step, Effect]]) -> str:
    """What stops the part; of what tells of a child's need only that it does."""
    said = (
        f"{visit.class_id}: the part cannot be taught as things are." if effect.rule.private else effect.text
        for _, effect in because
    )
    return " ".join(dict.fromkeys(said))


def _offers(plan: Plan, day: date, visit: Visit, step: Step, away: Sequence[str]) -> Iterator[Offer]:
    """The lesson's dry version, the filler; a second adult, where there was only one."""
    at = datetime.combine(day, time())
    yield from other_lessons(plan, at, visit, step)
    if visit.adults < 2:
        yield Offer("a second adult is there", Changed(at=at, adults={visit.class_id: 2}))
    yield not_visited(at, visit, away)


def _offers_for_time(plan: Plan, day: date, visit: Visit, step: Step, away: Sequence[str]) -> Iterator[Offer]:
    """The dry version, or the filler where that fits; half of the part; the part all the same; nothing."""
    at = datetime.combine(day, time())
    yield from other_lessons(plan, at, visit, step, within=visit.minutes)
    yield Offer(HALF, Changed(at=at, split={visit.key: True}))
    yield Offer(AS_IT_IS, Changed(at=at, lessons={visit.key: ""}))
    yield not_visited(at, visit, away)


def other_lessons(plan: Plan, at: datetime, visit: Visit, step: Step, within: int | None = None) -> Iterator[Offer]:
    """The dry version of a lesson, and the filler where that is not longer than the minutes."""
    dry = plan.lesson_by_id[step.lesson].dry_version
    for instead in dict.fromkeys((dry, plan.school.habits.filler)):
        lesson = plan.lesson_by_id.get(instead)
        if lesson is None or instead == step.lesson:
            continue
        if instead == dry or within is None or lesson.parts[0].least_minutes <= within:
            yield Offer(f"teach {lesson.title}", Changed(at=at, lessons={visit.key: instead}))


def not_visited(at: datetime, visit: Visit, away: Sequence[str]) -> Offer:
    return Offer(f"{visit.class_id} is not visited", Changed(at=at, away=(*away, visit.class_id)))
