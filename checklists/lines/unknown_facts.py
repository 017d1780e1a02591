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
from checklists.lines.gathering import needs_of_day
from checklists.lines.reasoning import Judged, Reasoning
from checklists.lines.records import Day, Visit
from checklists.plan.records import Plan, Room
from checklists.plan.room_notes import MOST_PLACES, ROOM_FACTS, RoomFact, say_of_room
from checklists.rules.apply import tags_for
from checklists.rules.read import RuleSet, asked_tag
from checklists.rules.records import Add, Forbid, Raise, Replace
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
    """The visits of one day, gone through with one answer after another."""

    def __init__(self, plan: Plan, rules: RuleSet, state: State, day: Day, change: Changed | None) -> None:
        self.plan = plan
        self.rules = rules
        self.state = state
        self.day = day
        self.calendar = calendar_for(plan, state, day.date, change)
        self.no_mess = bool(change is not None and change.no_mess)
        self.tags = [self._tags_of(visit) for visit in day.visits]

    def first_that_turns_on(self, room: str, fact: RoomFact) -> UnknownFact | None:
        """The first visit that needs something else with one answer; None where all need the same with any."""
        may = self._visits_that_may_turn(room, fact)
        if not may:
            return None
        judged = [self._judged_with(room, fact, answer, may) for answer in _answers(self.rules, fact)]
        if all(_asked_for(each[1]) == _asked_for(judged[0][1]) for each in judged[1:]):
            return None
        needed = [self._needed(*each) for each in judged]
        for at, one in enumerate(judged[0][1]):
            if any(each[at] != needed[0][at] for each in needed[1:]):
                return UnknownFact(room, fact, one.visit)
        return None

    def _visits_that_may_turn(self, room: str, fact: RoomFact) -> frozenset[str]:
        """Visits to which a rule that speaks of the fact may apply, by the tags it asks for besides."""
        asked, pairs = _tags_besides(self.rules, fact), list(zip(self.day.visits, self.tags, strict=True))
        there = [(visit, tags) for visit, tags in pairs if visit.room == room]
        if fact == "drying_places":  # what dries on the cart is in the way of what comes later
            there = pairs if any("wet" in tags for _, tags in there) else []
        return frozenset(visit.key for visit, tags in there if any(each <= tags for each in asked))

    def _tags_of(self, visit: Visit) -> frozenset[str]:
        found: frozenset[str] = frozenset()
        for step in visit.steps:
            facts = facts_of(self.plan, self.state, visit, step, self.day.date, Surroundings(no_mess=self.no_mess))
            found |= tags_for(self.rules, facts, date=self.day.date, marks_of=self._marks_of)
        return found

    def _marks_of(self, supply: str) -> frozenset[str]:
        known = self.plan.supply_by_id.get(supply)
        return marks_of_supply(known) if known is not None else frozenset()

    def _judged_with(
        self, room: str, fact: RoomFact, answer: int, only: frozenset[str]
    ) -> tuple[Reasoning, tuple[Judged, ...]]:
        plan = structs.replace(self.plan, school=say_of_room(self.plan.school, room, fact, answer))
        reasoning = Reasoning(plan, self.rules, self.state, self.calendar, no_mess=self.no_mess)
        return reasoning, reasoning.judge(self.day.date, self.day.visits, only=only)

    def _needed(self, reasoning: Reasoning, judged: tuple[Judged, ...]) -> list[object]:
        """What each visit needs and is told, whatever the reasons."""
        needs, _ = needs_of_day(reasoning, self.day.date, judged)
        bare = [structs.replace(each, because=()) for each in needs]
        return [([each for each in bare if each.visit == one.visit.key], list(_told(one))) for one in judged]


def _answers(rules: RuleSet, fact: RoomFact) -> tuple[int, ...]:
    """Yes and no; of a number none, very many, and those that a rule holds it against."""
    if fact != "drying_places":
        return (1, 0)
    limits = [each.other for each in rules.comparisons if each.number == fact and isinstance(each.other, float | int)]
    near = {int(limit) + more for limit in limits for more in (-1, 0, 1)}
    return tuple(sorted({0, MOST_PLACES, *(each for each in near if 0 <= each <= MOST_PLACES)}))


def _asked_for(judged: Sequence[Judged]) -> list[object]:
    return [
        [(step, [(each.rule.id, each.action, each.item) for each in effects]) for step, effects in one.by_step]
        for one in judged
    ]


def _told(one: Judged) -> Iterator[object]:
    """What rules ask for beside things to have along: checks, cautions, tasks, times."""
    for step, effects in one.by_step:
        for each in effects:
            if not isinstance(each.action, Add | Replace | Raise | Forbid):
                yield step, each.rule.id, each.action, each.item


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
