"""What nobody has said of a room, and a visit's list turns on: asked when it matters, and not before.

A fact matters where rules ask for another thing with one answer than with another. That is found out by going through
the day's visits with either answer; which rules speak of a fact at all says beforehand where it can matter.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from msgspec import Struct, structs

from checklists.daybook.entries import Changed
from checklists.daybook.state import State
from checklists.lines.day import calendar_for
from checklists.lines.facts import Surroundings, facts_of
from checklists.lines.needs import needs_of
from checklists.lines.reasoning import Judged, Reasoning
from checklists.lines.records import Day, Step, Visit
from checklists.plan.records import Plan, Room
from checklists.plan.room_notes import MOST_PLACES, ROOM_FACTS, RoomFact, say_of_room
from checklists.rules.apply import effects_for, tags_for
from checklists.rules.read import RuleSet, asked_tag
from checklists.rules.records import Add, Effect, Forbid, Raise, Replace, VisitFacts
from checklists.rules.vocabulary import marks_of_supply

_TOLD_BY: dict[RoomFact, frozenset[str]] = {
    "sink": frozenset({"sink", "no sink"}),
    "carpet": frozenset({"carpet", "hard floor"}),
    "projector": frozenset({"projector", "no projector"}),
    "drying_places": frozenset({"rides on cart", "drying short"}),
}
"""Tags that a visit's facts have from a room's."""


class UnknownFact(Struct, frozen=True):
    """Something nobody has said of a room, and the first visit of the day that turns on it."""

    room: str
    fact: RoomFact
    visit: Visit


def unknown_facts(
    plan: Plan, rules: RuleSet, state: State, day: Day, change: Changed | None
) -> tuple[UnknownFact, ...]:
    """What matters to the visits of a day and is not known, in their order. ``state`` and ``change`` made the day."""
    open_facts = _open_facts(plan, day.visits)
    if not open_facts:
        return ()
    asking = _Asking(plan, rules, state, day, change)
    found = (asking.first_that_turns_on(room, fact) for room, fact in open_facts)
    order = {visit.key: visit.number for visit in day.visits}
    return tuple(sorted((each for each in found if each is not None), key=lambda each: order[each.visit.key]))


def _open_facts(plan: Plan, visits: Sequence[Visit]) -> list[tuple[str, RoomFact]]:
    rooms = {visit.room: plan.room_by_id.get(visit.room, Room(visit.room)) for visit in visits}
    return [(room, fact) for room, known in rooms.items() for fact in ROOM_FACTS if getattr(known, fact) is None]


class _Asking:
    """The visits of one day, judged as far as things are known; then with one answer after another."""

    def __init__(self, plan: Plan, rules: RuleSet, state: State, day: Day, change: Changed | None) -> None:
        self.plan = plan
        self.rules = rules
        self.state = state
        self.day = day
        self.calendar = calendar_for(plan, state, day.date, change)
        self.no_mess = bool(change is not None and change.no_mess)
        judged = self._reasoning(plan).judge(day.date, day.visits)
        self.parts = [list(self._parts_of(one)) for one in judged]

    def first_that_turns_on(self, room: str, fact: RoomFact) -> UnknownFact | None:
        """The first visit that needs something else with one answer; None where all need the same with any."""
        asked = _tags_besides(self.rules, fact)
        for visit, parts in zip(self.day.visits, self.parts, strict=True):
            if visit.room != room or not any(each <= part.tags for part in parts for each in asked):
                continue
            if any(self._turns(visit, part, fact) for part in parts):
                return UnknownFact(room, fact, visit)
        return self._later_visit(room, asked) if fact == "drying_places" else None

    def _turns(self, visit: Visit, part: _Part, fact: RoomFact) -> bool:
        """Whether a part in a visit needs something else with one answer than with another."""
        facts = [_with_answer(part.facts, fact, answer, part.around, visit) for answer in _answers(self.rules, fact)]
        effects = [self._effects_of(each) for each in facts]
        if all(_asked_for(each) == _asked_for(effects[0]) for each in effects[1:]):
            return False
        needed = [self._needed(visit, part.step, each) for each in effects]
        return any(each != needed[0] for each in needed[1:])

    def _later_visit(self, room: str, asked: frozenset[frozenset[str]]) -> UnknownFact | None:
        """A visit after those in a room, where what dries on the cart may be in its way: the days are gone through."""
        is_wet = [visit.room == room and any("wet" in part.tags for part in parts) for visit, parts in self._pairs()]
        if True not in is_wet:
            return None
        after = self._pairs()[is_wet.index(True) + 1 :]
        may = frozenset(visit.key for visit, parts in after if any(each <= p.tags for p in parts for each in asked))
        judged = (
            [self._judged_with(room, places, may) for places in _answers(self.rules, "drying_places")] if may else []
        )
        for same in zip(*judged, strict=True):
            found = [[_asked_for(effects) for _, effects in one.by_step] for one in same]
            if any(each != found[0] for each in found[1:]):
                return UnknownFact(room, "drying_places", same[0].visit)
        return None

    def _pairs(self) -> list[tuple[Visit, list[_Part]]]:
        return list(zip(self.day.visits, self.parts, strict=True))

    def _judged_with(self, room: str, places: int, only: frozenset[str]) -> tuple[Judged, ...]:
        plan = structs.replace(self.plan, school=say_of_room(self.plan.school, room, "drying_places", places))
        return self._reasoning(plan).judge(self.day.date, self.day.visits, only=only)

    def _reasoning(self, plan: Plan) -> Reasoning:
        return Reasoning(plan, self.rules, self.state, self.calendar, no_mess=self.no_mess)

    def _parts_of(self, one: Judged) -> Iterator[_Part]:
        for (step, _), around in zip(one.by_step, one.amid, strict=True):
            facts = facts_of(self.plan, self.state, one.visit, step, self.day.date, around)
            tags = tags_for(self.rules, facts, date=self.day.date, marks_of=self._marks_of)
            yield _Part(step, around, facts, tags)

    def _effects_of(self, facts: VisitFacts) -> tuple[Effect, ...]:
        return effects_for(self.rules, facts, date=self.day.date, marks_of=self._marks_of, instead_of=self._instead_of)

    def _marks_of(self, supply: str) -> frozenset[str]:
        known = self.plan.supply_by_id.get(supply)
        return marks_of_supply(known) if known is not None else frozenset()

    def _instead_of(self, supply: str) -> str:
        known = self.plan.supply_by_id.get(supply)
        return known.instead or "" if known is not None else ""

    def _needed(self, visit: Visit, step: Step, effects: tuple[Effect, ...]) -> object:
        """What is needed and told, whatever the reasons."""
        needs, notes = needs_of(self.plan, visit, step, effects)
        told = [
            (each.rule.id, each.action, each.item)
            for each in effects
            if not isinstance(each.action, Add | Replace | Raise | Forbid)
        ]
        return [structs.replace(each, because=()) for each in needs], notes, told


class _Part(Struct, frozen=True):
    """A part that is taught in a visit, as it was judged: the facts, and every tag that follows from them."""

    step: Step
    around: Surroundings
    facts: VisitFacts
    tags: frozenset[str]


def _with_answer(facts: VisitFacts, fact: RoomFact, answer: int, around: Surroundings, visit: Visit) -> VisitFacts:
    """The facts of a visit as they were with an answer, as ``facts.facts_of`` has them."""
    if fact == "drying_places":
        pieces = facts.numbers["pieces"]
        told = {"rides on cart": pieces > answer, "drying short": pieces > answer + around.drying_on_cart}
        tags = facts.tags | {tag for tag, holds in told.items() if holds}
        return structs.replace(facts, tags=tags, numbers={**facts.numbers, "drying_places": answer})
    if fact == "sink":
        has = bool(answer) and not visit.no_water
        return structs.replace(facts, tags=facts.tags - _TOLD_BY["sink"] | {"sink" if has else "no sink"})
    yes, no = ("carpet", "hard floor") if fact == "carpet" else ("projector", "no projector")
    return structs.replace(facts, tags=facts.tags | {yes if answer else no})


def _answers(rules: RuleSet, fact: RoomFact) -> tuple[int, ...]:
    """Yes and no; of a number none, very many, and those that a rule holds it against."""
    if fact != "drying_places":
        return (1, 0)
    limits = [each.other for each in rules.comparisons if each.number == fact and isinstance(each.other, float | int)]
    near = {int(limit) + more for limit in limits for more in (-1, 0, 1)}
    return tuple(sorted({0, MOST_PLACES, *(each for each in near if 0 <= each <= MOST_PLACES)}))


def _asked_for(effects: Sequence[Effect]) -> list[object]:
    return [(each.rule.id, each.action, each.item) for each in effects]


@lru_cache(maxsize=64)
def _tags_besides(rules: RuleSet, fact: RoomFact) -> frozenset[frozenset[str]]:
    """Of each rule that speaks of a fact, the tags that a visit must have besides for it to apply."""
    told = _TOLD_BY[fact]
    found = set()
    for rule in rules.rules:
        if rule.id in rules.clauses and any(asked_tag(each) in told or fact in each.split() for each in rule.when):
            positive = (" ".join(each.split()) for each in rule.when)
            found.add(frozenset(each for each in positive if each in _tags_known(rules) and each not in told))
    return frozenset(found)


@lru_cache(maxsize=8)
def _tags_known(rules: RuleSet) -> frozenset[str]:
    """Every tag a visit can have."""
    words = rules.vocabulary
    given = (" ".join(each.split()) for rule in rules.rules for each in rule.gives)
    return frozenset({*words.part, *words.visit, *words.given, *(each for each in given if "item is " not in each)})
