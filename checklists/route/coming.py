"""The routes of the coming days: where it gets late, what needs a stop or leaving ahead, what does not fit."""

from __future__ import annotations

from datetime import date, datetime
from itertools import islice

from msgspec import Struct

from checklists.book import Book
from checklists.lines.records import Day
from checklists.looking_ahead import days_from
from checklists.plan.records import School
from checklists.route.day_route import DayRoute
from checklists.route.smallest_changes import SmallChange
from checklists.route.told import RouteStop, RouteWay
from checklists.words import minute_of_day

SCHOOL_WEEK = 5


class ComingRoute(Struct, frozen=True):
    """A coming school day with visits, and its best route as planned."""

    day: Day
    route: DayRoute

    @property
    def fits(self) -> bool:
        """Whether there is a way to take everything along."""
        return self.route.told is not None

    @property
    def would_help(self) -> SmallChange | None:
        """Where it does not fit, the first of the small changes that would make a plan."""
        return next(iter(self.route.changes), None)

    @property
    def late(self) -> tuple[RouteWay, ...]:
        """The ways that take longer than there is between the bells; ``spare`` is negative."""
        told = self.route.told
        return () if told is None else tuple(way for way in told.ways if way.spare < 0)

    @property
    def stops(self) -> tuple[RouteStop, ...]:
        """Stops at the store outside a break."""
        told = self.route.told
        return () if told is None else tuple(stop for stop in told.stops if stop.before and not stop.is_break)

    @property
    def leaving_ahead(self) -> tuple[RouteStop, ...]:
        """Before school, or breaks, in which something is taken ahead to a room: ``trips`` has what and where."""
        told = self.route.told
        return () if told is None else tuple(stop for stop in told.stops if stop.trips)

    @property
    def is_well(self) -> bool:
        """Whether there is nothing to see to: all rides, nothing is late, no stop but in the breaks."""
        return self.fits and not (self.late or self.stops or self.leaving_ahead)


def coming_routes(book: Book, first: date) -> tuple[ComingRoute, ...]:
    """The routes of the coming cycle, from ``first`` on; days without visits are left out."""
    count = days_of_cycle(book.plan.school)
    days = islice((day for day in days_from(book, first, count) if day.school_day), count)
    return tuple(_route_of(book, day) for day in days if day.visits)


def first_to_come(book: Book, on: date, now: datetime) -> date:
    """The day itself, or the next school day where it is today and its last visit is over."""
    day = book.day(on)
    if on != now.date() or not day.visits or minute_of_day(now) < max(each.end for each in day.visits):
        return on
    return day.next_school_day or on


def days_of_cycle(school: School) -> int:
    """School days after which the timetable begins anew: those of the rotation, or of a week."""
    return len(school.rotation.days) if school.rotation.kind == "cycle" else SCHOOL_WEEK


def _route_of(book: Book, day: Day) -> ComingRoute:
    return ComingRoute(day, book.route(day.date))
