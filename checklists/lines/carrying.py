"""What is carried by hand where no cart gets to a room: how heavy, how many times, and whether there is time for it.

Minutes and trips are common practice, no source; what one person carries is ``habits.box_limit_kg``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time
from math import ceil

from msgspec import Struct

from checklists.daybook.entries import Changed
from checklists.daybook.state import State
from checklists.lines.caution import make_caution
from checklists.lines.containers import CART
from checklists.lines.decisions import not_visited, other_lessons
from checklists.lines.loads import box_or_kit
from checklists.lines.quantities import round_up
from checklists.lines.records import Because, Caution, Check, Container, Decision, Line, Offer, Visit
from checklists.plan.records import Bells, Break, Plan
from checklists.taught_periods import is_meal
from checklists.walks import STORE, DayWalks
from checklists.words import clock, minute_of, plural, say_number, say_room


class ByHand(Struct, frozen=True):
    """The load of a visit that no cart brings there."""

    visit: Visit
    containers: tuple[str, ...]
    kilograms: float
    """As far as masses are known; 0: of nothing it is."""
    trips: int
    to_store: int
    """From the room of the visit before to the store; 0 for the first visit."""
    ahead: Break | None
    """The last break before the visit that is long enough."""

    @property
    def there_and_back(self) -> int:
        """All trips from the store: what carrying it ahead takes."""
        return self.trips * 2 * self.visit.by_hand

    @property
    def minutes_before(self) -> int:
        """From the first way out to the class's door: the way back of the last trip comes later."""
        return self.there_and_back - self.visit.by_hand

    @property
    def minutes(self) -> int:
        """From the room before by the store to the class's door: what she walks between the two bells."""
        return self.to_store + self.minutes_before

    @property
    def fits(self) -> bool:
        return self.minutes <= self.visit.gap_before

    @property
    def mass_and_trips(self) -> str:
        """ "13.4 kg, 2 trips"."""
        mass = f"{say_number(self.kilograms)} kg" if self.kilograms else "what nobody has said the mass of"
        return f"{mass}, {plural(self.trips, 'trip')}"


def carried_by_hand(
    walks: DayWalks, bells: Bells, visits: Sequence[Visit], containers: Sequence[Container], lines: Sequence[Line]
) -> tuple[ByHand, ...]:
    """The visits of a day to which everything is carried."""
    plan, limit = walks.plan, walks.plan.school.habits.box_limit_kg
    found: list[ByHand] = []
    for n, visit in enumerate(visits):
        if not visit.by_hand:
            continue
        kilograms = round(_grams_for(plan, visit, containers, lines) / 1000, 1)
        trips = max(1, ceil(kilograms / limit)) if limit else 1
        along = tuple(each.id for each in containers if each.id != CART and visit.key in each.visits)
        to_store = walks.minutes(visits[n - 1].room, STORE) + visit.walk_more if n else 0
        ahead = _break_before(bells, visit, trips * 2 * visit.by_hand)
        found.append(ByHand(visit, along, kilograms, trips, to_store, ahead))
    return tuple(found)


def visits_before_carrying(one: ByHand, visits: Sequence[Visit]) -> int:
    """How many visits have been by the break in which something is carried ahead; 0: it is before school."""
    begins = minute_of(one.ahead.start) if one.ahead is not None else 0
    return sum(visit.start < begins for visit in visits)


def _grams_for(plan: Plan, visit: Visit, containers: Sequence[Container], lines: Sequence[Line]) -> float:
    """What the visit needs, and the boxes and kits it is in."""
    grams = 0.0
    for line in lines:
        supply = plan.supply_by_id.get(line.supply)
        if visit.key not in line.visits or supply is None or line.forbidden:
            continue
        alone = len(line.visits) == 1
        count = line.need if alone else sum(round_up(use.amount) for use in line.uses if use.visit == visit.key)
        grams += (supply.grams or 0) * count
    along = [each.id for each in containers if each.id != CART and visit.key in each.visits]
    return grams + sum(box_or_kit(plan, each).empty_grams for each in along) if grams else 0


def _break_before(bells: Bells, visit: Visit, minutes: int) -> Break | None:
    def fits(each: Break) -> bool:
        start, end = minute_of(each.start), minute_of(each.end)
        return not is_meal(each) and start < visit.start and min(end, visit.start) - start >= minutes

    return max((each for each in bells.breaks if fits(each)), key=lambda each: minute_of(each.start), default=None)


def _said_of_time(one: ByHand) -> str:
    load = f"{one.mass_and_trips}, {one.minutes} min"
    return f"By hand to {say_room(one.visit.room)}: {load} against {one.visit.gap_before} min"


def _why(plan: Plan, one: ByHand) -> tuple[Because, ...]:
    one_way = plural(one.visit.by_hand, "minute")
    said = (
        f"no cart gets there; one person carries {say_number(plan.school.habits.box_limit_kg)} kg, {one_way} each way"
    )
    return (Because(said, (one.visit.key,)),)


def cautions_by_hand(plan: Plan, state: State, carried: Sequence[ByHand]) -> Iterator[Caution]:
    """What is carried and nothing is to be decided about."""
    for one in carried:
        if one.visit.left_ahead or is_to_decide(one):
            continue
        lesson = one.visit.steps[0].lesson if one.visit.steps else ""
        text = f"{one.visit.class_id}: {_said_of_time(one)}."
        yield make_caution(
            plan,
            state,
            one.visit.class_id,
            one.visit.key,
            lesson,
            "by hand",
            text,
            _why(plan, one),
            critical=not one.fits,
        )


def is_to_decide(one: ByHand) -> bool:
    """Whether there is no time to carry it and she has not said what is done about it."""
    return not one.fits and one.visit.left_ahead is None and not one.visit.substitute and bool(one.visit.steps)


def decisions_by_hand(plan: Plan, day: date, carried: Sequence[ByHand], away: Sequence[str]) -> Iterator[Decision]:
    """What cannot be carried in time: another lesson, left in the room ahead where that is safe, or carried anyhow."""
    at = datetime.combine(day, time())
    for one in carried:
        if not is_to_decide(one):
            continue
        visit = one.visit
        room = plan.room_by_id.get(visit.room)
        may_leave = room is not None and room.can_be_locked
        text = f"{_said_of_time(one)}: not possible at {clock(visit.start)}"
        offers = list(other_lessons(plan, at, visit, visit.steps[0]))
        if one.ahead is not None:
            begins = clock(minute_of(one.ahead.start))
            text += f" without leaving ahead at {begins}"
            locked = "which can be locked" if may_leave else "only if it can be locked"
            text += f"; {locked}, and sharp things never"
            if may_leave:
                ahead = Changed(at=at, left_ahead={visit.key: True})
                offers.append(Offer(f"leave it ahead in {one.ahead.name}, {begins}", ahead))
        offers.append(Offer("carry it all the same", Changed(at=at, left_ahead={visit.key: False})))
        offers.append(not_visited(at, visit, away))
        yield Decision(f"by hand/{visit.key}", visit.key, f"{text}.", tuple(offers), _why(plan, one), stops=False)


def checks_by_hand(plan: Plan, carried: Sequence[ByHand], number: int) -> Iterator[Check]:
    """What is carried into a room ahead of its visit, numbered from ``number``."""
    ahead = (one for one in carried if one.visit.left_ahead)
    for n, one in enumerate(ahead, number):
        when = f"in {one.ahead.name}, {clock(minute_of(one.ahead.start))}" if one.ahead is not None else "before school"
        what = (
            f"Carry what {one.visit.class_id} needs to {say_room(one.visit.room)} {when}: {one.mass_and_trips},"
            f" {one.there_and_back} min."
            " Lock the room; sharp things stay with you"
        )
        yield Check(f"check/{one.visit.key}/ahead", n, what, one.visit.key, "store", True, _why(plan, one))
