"""Which periods of a date are taught, from when to when, to which class: without what is away or interrupted."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from datetime import date

from msgspec import Struct, structs

from checklists.calendar import Calendar
from checklists.daybook.entries import Changed, Interruption
from checklists.daybook.state import State, TestedDays
from checklists.plan.records import Bells, Break, Habits, Plan, SchoolClass
from checklists.words import minute_of


class Taught(Struct, frozen=True):
    """A period in which a class is taught. Times are minutes since midnight."""

    period: str
    class_: SchoolClass
    start: int
    end: int
    joined: tuple[str, ...] = ()
    """Classes that come along with it."""

    @property
    def key(self) -> str:
        return f"{self.period} {self.class_.id}"


def period_and_class(plan: Plan, key: str) -> tuple[str, str]:
    """What the key of a visit is made of: "P1 3-B" is P1 and 3-B. Either may be of several words."""
    behind = sorted((each.id for each in plan.every_class if key.endswith(f" {each.id}")), key=len)
    if behind:
        return key.removesuffix(f" {behind[-1]}"), behind[-1]
    period, _, class_id = key.partition(" ")
    return period, class_id


def bells_on(plan: Plan, change: Changed | None) -> Bells:
    """The bell schedule of a day: the regular one, or the one the day was changed to; without a lost planning."""
    named = plan.bells_by_id.get(change.bells) if change is not None and change.bells else None
    bells = named or plan.school.bells[0]
    if change is not None and change.planning_lost:
        return structs.replace(bells, breaks=tuple(each for each in bells.breaks if is_meal(each)))
    return bells


def is_meal(each: Break) -> bool:
    """Lunch is for eating: nothing is planned into it, though the store is near."""
    return "lunch" in each.name.casefold()


def periods_taught(plan: Plan, state: State, calendar: Calendar, day: date, change: Changed) -> tuple[Taught, ...]:
    """The periods of a date with the class that is taught in each, in time order."""
    planned = plan.timetable.get(calendar.day_name(day), {})
    taught: list[Taught] = []
    for period in bells_on(plan, change).periods:
        class_ = plan.class_by_id.get(planned.get(period.name, ""))
        if class_ is None or class_.id in (change.away or ()) or is_tested(state, day, class_.grade, period.name):
            continue
        start, end = minute_of(period.start), minute_of(period.end)
        left = time_left(start, end, change.interruptions or (), plan.school.habits)
        if left is not None:
            taught.append(Taught(period.name, class_, *left))
    taught.sort(key=lambda each: each.start)
    hosts = _hosts(plan, change, {each.class_.id for each in taught})

    def along(host: Taught) -> tuple[str, ...]:
        mine = (plan.class_by_id[each] for each, other in hosts.items() if other == host.class_.id)
        return tuple(each.id for each in mine if not is_tested(state, day, each.grade, host.period))

    return tuple(structs.replace(each, joined=along(each)) for each in taught if each.class_.id not in hosts)


def time_left(start: int, end: int, interruptions: Iterable[Interruption], habits: Habits) -> tuple[int, int] | None:
    """What interruptions leave of a period; None where that is too short to be of use.

    A class that is interrupted begins, or goes on, ``habits.settle_minutes`` after the end. Of a period cut in two the
    longer piece is taught, the first of two that are equal.
    """
    was = start, end
    for each in interruptions:
        begins, ends = minute_of(each.start), minute_of(each.end)
        if begins >= end or ends <= start:
            continue
        before, after = begins - start, end - (ends + habits.settle_minutes)
        start, end = (start, begins) if before >= after else (ends + habits.settle_minutes, end)
        if end <= start:
            return None
    return None if (start, end) != was and end - start < habits.least_useful_minutes else (start, end)


def _hosts(plan: Plan, change: Changed, coming: Collection[str]) -> dict[str, str]:
    """Class -> the one it is taught together with. Where that one does not come, each has its own visit."""
    joined = {each: host for each, host in (change.joined or {}).items() if host and host != each}
    return {
        each: host
        for each, host in joined.items()
        if each in plan.class_by_id and each not in (change.away or ()) and host in coming and host not in joined
    }


def is_tested(state: State, day: date, grade: str, period: str) -> bool:
    """Whether a grade is tested in a period of a date, so that its classes are not visited."""
    return any(grade in each.grades for each in testing_in(state, day, period))


def testing_in(state: State, day: date, period: str) -> Iterator[TestedDays]:
    """The testing announced for a period of a date, of any grade."""
    for each in state.testing:
        if each.first <= day <= each.last and (not each.periods or period in each.periods):
            yield each


def walk_more(state: State, day: date, period: str) -> int:
    """Minutes that each walk to a period takes more: the halls are to stay quiet."""
    return max((each.walk_more for each in testing_in(state, day, period)), default=0)
