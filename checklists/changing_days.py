"""What follows from something that was just said of a day: the list before beside the list now, in words for both."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta

from msgspec import Struct, structs

from checklists.book import Book
from checklists.daybook.children import as_told
from checklists.daybook.day_change import DayChange, compare_days
from checklists.daybook.day_end import say_outcome
from checklists.daybook.entries import AnyEntry, Changed, Testing
from checklists.daybook.lost_day import letter_comes_again
from checklists.daybook.minutes_left import LeaveBy
from checklists.daybook.said import say_change, say_entry
from checklists.daybook.state import State, TestedDays
from checklists.lines.day import calendar_for
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.route.cautions_beside import cautions_beside
from checklists.route.day_route import DayRoute
from checklists.route.differences import say_differences
from checklists.taught_periods import is_tested, periods_taught
from checklists.visits import next_visit_of
from checklists.words import join_words, plural, say_date


class Before(Struct, frozen=True):
    """A day before something was said of it: its list and its route."""

    day: Day
    route: DayRoute


def before_change(book: Book, on: date) -> Before:
    """The day as it is now, to be held against what it is once something was said."""
    return Before(book.day(on), book.route(on))


class ToldChange(Struct, frozen=True):
    """A change of a day with everything that follows from it."""

    said: str
    then: tuple[str, ...]
    """Further sentences about the day and the ones after it."""
    change: DayChange
    comes_again: dict[str, date | None]
    """Class that falls out -> the date of its next visit; None where the year holds none."""
    next_day: str
    """Timetable day of the next school day; empty at the year's end."""
    route: tuple[str, ...]
    """What she does otherwise on her way round."""
    leave_by: LeaveBy | None


def tell_change(book: Book, entries: tuple[AnyEntry, ...], was: Before) -> ToldChange:
    """``entries`` are in the book already, ``was`` is the day as it was."""
    before = was.day
    after, marks = book.day(before.date), book.marks(before.date)
    route = book.route(before.date)
    change = compare_days(book.plan, before, after, marks)
    change = structs.replace(change, cautions=cautions_beside(change.cautions, route.by_store))
    calendar = calendar_for(book.plan, book.opening(before.date), before.date, marks.changes)
    state = state_now(book, before.date)
    gone = {visit.class_id for visit in change.visits_out}
    next_day = book.day(after.next_school_day).day_name if after.next_school_day is not None else ""
    return ToldChange(
        said="; ".join(_say(entry, after, book.plan) for entry in entries),
        then=tuple(_what_then(book, entries, was, after, change, next_day)),
        change=change,
        comes_again={each: next_visit_of(book.plan, calendar, each, before.date, state) for each in gone},
        next_day=next_day,
        route=say_differences(book.plan, before, was.route, after, route),
        leave_by=book.leave_by(before.date),
    )


def _say(entry: AnyEntry, day: Day, plan: Plan) -> str:
    return say_change(entry, day, plan) if isinstance(entry, Changed) else say_entry(entry, day, plan)


def _what_then(
    book: Book, entries: tuple[AnyEntry, ...], was: Before, after: Day, change: DayChange, next_day: str
) -> Iterator[str]:
    before = was.day
    for entry in entries:
        if isinstance(entry, Changed) and (entry.no_school is not None or entry.day is not None):
            yield from _calendar_then(book, before, after, next_day)
        if isinstance(entry, Changed) and entry.substitute is not None:
            yield _say_substitute(book.plan, entry.substitute)
        if isinstance(entry, Changed) and (entry.longer_ways is not None or entry.elevator_out is not None):
            yield from say_walks(before, was.route, after, book.route(after.date))
        if isinstance(entry, Testing):
            yield from say_lost(visits_lost(book, after.date, entry))
    too_short = book.say_too_short(after.date)
    if too_short and after.store_opens != before.store_opens:
        yield too_short
    reports = book.marks(after.date).reports
    told = [visit for visit in change.visits_out if visit.key in reports]
    for visit in told:
        yield (
            f"{visit.name} {visit.class_id} was reported already ({say_outcome(reports[visit.key])}):"
            f" that does not count while the visit is not on the day."
        )


def say_walks(before: Day, was: DayRoute, after: Day, now: DayRoute) -> Iterator[str]:
    """The ways that take longer or less long than before, as they are really gone, and how long there is for them."""
    known = {visit.key: n for n, visit in enumerate(before.visits)}
    for n, visit in enumerate(after.visits):
        if visit.key not in known:
            continue
        minutes, by_store = _way_gone(after, now, n)
        took, went_by_store = _way_gone(before, was, known[visit.key])
        if minutes == took:
            continue
        way = f"The walk to {visit.name} {visit.class_id} takes {minutes} min{' by the store' if by_store else ''}"
        straight = ", straight there" if by_store and not went_by_store else ""
        straight = " by the store" if went_by_store and not by_store else straight
        late = f"; {visit.gap_before} min are between the bells" if n and minutes > visit.gap_before else ""
        yield f"{way}, before it took {took}{straight}{late}."


def _way_gone(day: Day, route: DayRoute, n: int) -> tuple[int, bool]:
    """Minutes of the way to a visit, and whether it leads by the store; straight there where there is no route."""
    way = route.told.ways[n] if route.told is not None and n else None
    return (day.visits[n].walk_before, False) if way is None else (way.minutes, way.by_store)


def state_now(book: Book, day: date) -> State:
    """How things stand on a day with everything said on it."""
    return as_told(book.plan, day, book.marks(day), book.opening(day))


class LostVisits(Struct, frozen=True):
    """The visits that a class loses by testing, and when it comes after the first of them."""

    class_id: str
    dates: tuple[date, ...]
    comes_again: date | None


def visits_lost(book: Book, said_on: date, entry: Testing) -> tuple[LostVisits, ...]:
    """What each class loses by testing that was just announced; nothing where testing is off again."""
    plan, state = book.plan, state_now(book, said_on)
    calendar = calendar_for(plan, state, said_on, book.marks(said_on).changes)
    tested = State(testing=(TestedDays(entry.grades, entry.first, entry.last, entry.periods),))
    lost: dict[str, list[date]] = {}
    for day in calendar.school_days_after(max(entry.first, said_on) - timedelta(1)):
        if day > entry.last:
            break
        change = book.marks(day).changes or Changed(at=datetime.combine(day, time()))
        for each in periods_taught(plan, State(), calendar, day, change):
            if is_tested(tested, day, each.class_.grade, each.period):
                lost.setdefault(each.class_.id, []).append(day)
    in_order = [each.id for each in plan.classes if each.id in lost]
    return tuple(
        LostVisits(each, tuple(lost[each]), next_visit_of(plan, calendar, each, lost[each][0], state))
        for each in in_order
    )


def say_lost(lost: Iterable[LostVisits]) -> Iterator[str]:
    """One sentence for each class that loses a visit."""
    for each in lost:
        dates = join_words(say_date(day) for day in each.dates)
        again = f"it comes again on {say_date(each.comes_again)}" if each.comes_again else "it does not come again"
        yield f"{each.class_id} loses {plural(len(each.dates), 'visit')}, {dates}; {again}."


def _calendar_then(book: Book, before: Day, after: Day, next_day: str) -> Iterator[str]:
    rotation = book.plan.school.rotation
    cycle = rotation.kind == "cycle"
    if before.school_day and not after.school_day:
        of_day = f" of day {before.day_name}" if cycle else ""
        lost = plural(len(before.visits), "visit")
        yield f"{lost}{of_day} {'is' if len(before.visits) == 1 else 'are'} lost; no class moves on."
        yield "What is packed stays in its container."
        again = letter_comes_again(book.plan, after.date, book.opening(after.date))
        if again is not None:
            yield f"Day {before.day_name} comes next on {say_date(again)}."
    elif after.day_name != before.day_name:
        yield f"It is day {after.day_name} now."
    if after.next_school_day is None:
        yield "It is the last school day of the year."
    elif not cycle:
        yield f"The next school day is {say_date(after.next_school_day)}."
    else:
        unless = " unless another one is announced" if rotation.lost_day == "announced" else ""
        yield f"The next school day, {say_date(after.next_school_day)}, is day {next_day}{unless}."


def _say_substitute(plan: Plan, substitute: bool) -> str:
    if not substitute:
        return "You teach yourself; every class has its own part."
    filler = plan.lesson_by_id.get(plan.school.habits.filler)
    if filler is None:
        return (
            "There is no lesson for a substitute, so nothing is packed: name one in school.toml,"
            " under habits, as filler."
        )
    return f"A substitute teaches {filler.title} in every visit; no class moves on."
