"""What follows from a change of a day: its list before beside its list after, and what hands have to do about it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from checklists.daybook.line_states import has_now, state_of
from checklists.daybook.marks import Marks
from checklists.lines.containers import home_of
from checklists.lines.records import Caution, Container, Day, Decision, Line, Visit
from checklists.lines.store_stops import store_stops
from checklists.plan.records import Plan
from checklists.taught_periods import bells_on
from checklists.walks import walks_of


class LineChange(Struct, frozen=True):
    """A line that needs more or fewer than before. ``line`` is as it stands now; as it stood, where it is gone."""

    line: Line
    need_before: int
    need_now: int
    """0 where the line is gone."""
    has: int
    stays: bool
    """What is more than needed stays all the same: it lives in this container."""

    @property
    def put_in(self) -> int:
        """How many to put in because of the change."""
        return max(0, self.need_now - self.has) if self.need_now > self.need_before else 0

    @property
    def take_out(self) -> int:
        """How many that were in it for this day are not needed any more."""
        return 0 if self.stays else max(0, min(self.has, self.need_before) - self.need_now)


class DayChange(Struct, frozen=True):
    """The two lists of a day side by side."""

    visits_out: tuple[Visit, ...]
    """As they were numbered before."""
    visits_in: tuple[Visit, ...]
    other_times: tuple[Visit, ...]
    """Visits that stay, at another time: as they are now."""
    containers_out: tuple[Container, ...]
    """They stay at the store, with what is in them."""
    containers_in: tuple[Container, ...]
    lines: tuple[LineChange, ...]
    """Of the containers that come along now, in order of the list; what is gone comes last."""
    cautions: tuple[Caution, ...]
    """Those that were not there before."""
    numbers_changed: bool
    """Visits or lines that stay have another number: what was printed is out of date."""
    other_children: tuple[tuple[Visit, Visit], ...] = ()
    """Visits that stay with another number of children or adults: as they were, as they are."""
    other_rooms: tuple[tuple[Visit, Visit], ...] = ()
    """Visits that stay, in another room: as they were, as they are."""
    other_lessons: tuple[tuple[Visit, Visit], ...] = ()
    """Visits that stay with another lesson or part."""
    decisions: tuple[Decision, ...] = ()
    """Those that were not there before."""
    half_slots_free: int | None = None
    """Half slots of the cart that the morning's load leaves free now, where containers stay at the store."""
    kept: tuple[Line, ...] = ()
    """Lines that were packed for the day as it was and are packed for it as it is."""


def compare_days(plan: Plan, before: Day, after: Day, marks: Marks) -> DayChange:
    """What became different between two lists of one date; ``marks`` is what she has said of it so far."""
    stood = {visit.key: visit for visit in before.visits}
    stands = {visit.key: visit for visit in after.visits}
    along, was_along = {each.id for each in after.containers}, {each.id for each in before.containers}
    cautioned = {caution.key for caution in before.cautions}
    numbers = {line.key: line.number for line in before.lines} | {key: each.number for key, each in stood.items()}
    numbers_now = {line.key: line.number for line in after.lines} | {key: each.number for key, each in stands.items()}
    stood_need = {line.key: line.need for line in before.lines}
    return DayChange(
        visits_out=tuple(visit for key, visit in stood.items() if key not in stands),
        visits_in=tuple(visit for key, visit in stands.items() if key not in stood),
        other_times=tuple(
            visit
            for key, visit in stands.items()
            if key in stood and (stood[key].start, stood[key].end) != (visit.start, visit.end)
        ),
        other_rooms=tuple((was, now) for was, now in _stay(stood, stands) if was.room != now.room),
        containers_out=tuple(each for each in before.containers if each.id not in along),
        containers_in=tuple(each for each in after.containers if each.id not in was_along),
        lines=tuple(_lines(plan, before, after, marks)),
        cautions=tuple(each for each in after.cautions if each.key not in cautioned),
        numbers_changed=any(numbers_now.get(key, number) != number for key, number in numbers.items()),
        other_children=tuple(
            (was, now) for was, now in _stay(stood, stands) if (was.students, was.adults) != (now.students, now.adults)
        ),
        other_lessons=tuple((was, now) for was, now in _stay(stood, stands) if was.steps != now.steps),
        half_slots_free=_half_slots_free(plan, after, marks) if not was_along <= along else None,
        decisions=tuple(each for each in after.decisions if each.key not in {one.key for one in before.decisions}),
        kept=tuple(
            line
            for line in after.lines
            if line.need == stood_need.get(line.key) and line.key in marks.lines and state_of(line, marks) == "packed"
        ),
    )


def _half_slots_free(plan: Plan, after: Day, marks: Marks) -> int | None:
    stops = store_stops(walks_of(plan, after), bells_on(plan, marks.changes), after.visits, after.containers)
    return max(0, plan.school.cart.half_slots - stops[0].half_slots) if stops else None


def _stay(stood: Mapping[str, Visit], stands: Mapping[str, Visit]) -> Iterator[tuple[Visit, Visit]]:
    return ((stood[key], visit) for key, visit in stands.items() if key in stood)


def _lines(plan: Plan, before: Day, after: Day, marks: Marks) -> Iterator[LineChange]:
    stood = {line.key: line for line in before.lines}
    stands = {line.key for line in after.lines}
    along = {each.id for each in after.containers}
    for line in after.lines:
        need = stood[line.key].need if line.key in stood else 0
        if line.need != need and not line.forbidden:
            yield _line(plan, line, need, line.need, marks)
    for line in before.lines:
        if line.key not in stands and line.container in along and not line.forbidden:
            yield _line(plan, line, line.need, 0, marks)


def _line(plan: Plan, line: Line, before: int, now: int, marks: Marks) -> LineChange:
    lives_here = home_of(plan, line.supply) == line.container and not line.catch_up_for
    stays = lives_here or state_of(line, marks) == "not needed"
    return LineChange(line, before, now, has_now(line, marks), stays)
