"""Her wishes on the route's screen: opened from the row in hand, said, told what they do, taken back."""

from __future__ import annotations

from datetime import date

from checklists.daybook.marks import Marks
from checklists.lines.records import Day
from checklists.pages.route_timeline import is_stop, stop_key, visit_key
from checklists.pages.route_wishes import COSTS_NOTHING, say_difference, say_mass, say_pin
from checklists.route.day_route import DayRoute, PinCost, costs_of_pins
from checklists.route.pins import Pin, left_out
from checklists.route.problem import Cost
from checklists.route.wishes import (
    WishStep,
    holds,
    may_be_for_good,
    route_if,
    step_of,
    wishes_at_stop,
    wishes_at_visit,
)
from checklists.wishing import keep_wish, take_wish_back
from checklists.words import clock, minute_of_day, say_room
from tui.route_rows import wish_key
from tui.screens.route_wishes import Offer, RouteWishesScreen
from tui.screens.rows_screen import RowsScreen


class Wishing(RowsScreen):
    """A screen over a day's route on which wishes are said."""

    def __init__(self, on: date) -> None:
        super().__init__(on)
        self.for_good = False
        """Whether what is said next holds for good."""
        self._costs: tuple[DayRoute, tuple[PinCost, ...]] | None = None

    @property
    def day(self) -> Day:
        return self.trundle.recorder.day(self.date)

    @property
    def marks(self) -> Marks:
        return self.trundle.recorder.marks(self.date)

    @property
    def route(self) -> DayRoute:
        return self.book.route(self.date)

    @property
    def minute(self) -> int | None:
        """That of the clock where the day is today."""
        now = self.trundle.now()
        return minute_of_day(now) if now.date() == self.date else None

    @property
    def begun(self) -> int:
        """Visits that have begun by the clock."""
        minute = self.minute
        return sum(minute is not None and visit.start <= minute for visit in self.day.visits)

    def costs_of_wishes(self, day: Day, route: DayRoute) -> tuple[PinCost, ...]:
        """Each wish that holds with what it costs; worked out once for a route."""
        if self._costs is None or self._costs[0] is not route:
            self._costs = (route, costs_of_pins(route, day))
        return self._costs[1]

    def wishes_left_out(self) -> tuple[Pin, ...]:
        return left_out(self.book.plan, self.marks.changes)

    def action_switch_span(self) -> None:
        """Between today and for good."""
        self.for_good = not self.for_good
        self.reread()
        self.say("What you say next holds for good." if self.for_good else "What you say next holds this day only.")

    # ------------------------------------------------------------------------------------------------------- saying

    def open_wishes(self, key: str) -> None:
        """The choices about the visit or stop in hand."""
        day, route = self.day, self.route
        visit = next((n for n, each in enumerate(day.visits) if visit_key(each) == key), None)
        stop = next((n for n in range(len(day.visits)) if stop_key(n) == key), None) if is_stop(key) else None
        if visit is not None:
            each = day.visits[visit]
            about = f"{each.name}, {say_room(each.room)}, {clock(each.start)}"
            pins = wishes_at_visit(day, route, visit, self.begun)
        elif stop is not None:
            about = f"At the store {f'after {day.visits[stop - 1].name}' if stop else 'before school'}"
            pins = wishes_at_stop(day, route, stop, self.begun)
        else:
            self.say("There is nothing to choose on this row: stops and visits have wishes behind Enter.")
            return
        if not pins:
            self.say("There is nothing to choose here: nothing of it takes up room, or it is over.")
            return
        offers = tuple(self.offer_of(day, route, pin) for pin in pins)
        self.app.push_screen(
            RouteWishesScreen(
                self.date, about, offers, self.for_good, lambda offer, good: self.choose(offer.pin, offer.back, good)
            )
        )

    def offer_of(self, day: Day, route: DayRoute, pin: Pin) -> Offer:
        """A wish with what it changes, or how it is taken back where it holds."""
        already = holds(route, pin)
        now = route.plan.cost if route.plan is not None else None
        back = already is not None
        pin = already or pin
        step = self.step_of(day, route, pin, back=back, for_good=False)
        new = route_if(self.book.plan, day, self.marks, route, step).plan
        words = f"{say_pin(self.book.plan, day, pin)}{say_mass(day, pin)}"
        words = f"take back: {words}" if back else words
        is_free = not back and new is not None and new.cost == now
        then = COSTS_NOTHING if is_free else say_difference(now, new.cost if new else None)
        return Offer(pin, back, f"{words[:1].upper()}{words[1:]}", then)

    def step_of(self, day: Day, route: DayRoute, pin: Pin, *, back: bool, for_good: bool) -> WishStep:
        now = self.trundle.now()
        return step_of(self.book.plan, day, self.marks, route, pin, now, back=back, for_good=for_good)

    def choose(self, pin: Pin, back: bool, for_good: bool) -> None:
        self.for_good = for_good
        self.take_wish(pin, back=back, for_good=for_good)

    def take_wish(self, pin: Pin, *, back: bool, for_good: bool) -> None:
        """Say it or take it back, and tell what it does to the route."""
        day, route, plan = self.day, self.route, self.book.plan
        is_for_good = for_good and may_be_for_good(plan, pin)
        step = self.step_of(day, route, pin, back=back, for_good=is_for_good)
        before = route.plan.cost if route.plan is not None else None
        words = say_pin(plan, day, pin)
        span = "for good" if step.school is not None else "this day"
        said = f"{'Taken back: ' if back else ''}{words}, {span}"
        problem = self.record(*step.entries) if step.school is None else self.change_for_good(step, pin, words)
        self.tell_what_is_new(problem, f"{said[:1].upper()}{said[1:]}", before)

    def change_for_good(self, step: WishStep, pin: Pin, words: str) -> str:
        """Into the plan, and into the day what goes with it, as one step that ``u`` takes back."""
        book, before = self.book, self.book.plan.school
        return self.trundle.recorder.change_plan(
            lambda: keep_wish(book, self.date, step),
            lambda: take_wish_back(book, self.date, step, before, pin),
            f"for good: {words}",
        )

    def take_wish_back(self, key: str) -> None:
        """The wish of the row in hand; one for good is left out today or taken out, one left out holds again."""
        held = next((each for each in self.route.pins if wish_key(each) == key), None)
        out = next((each for each in self.wishes_left_out() if wish_key(each) == key), None)
        if held is not None:
            self.take_wish(held, back=True, for_good=self.for_good)
        elif out is not None:
            before = self.route.plan.cost if self.route.plan is not None else None
            day = self.day
            step = self.step_of(day, self.route, Pin(out.kind, out.about, out.how), back=True, for_good=False)
            words = say_pin(self.book.plan, day, out)
            self.tell_what_is_new(self.record(*step.entries), f"It holds again: {words}", before)

    def tell_what_is_new(self, problem: str, said: str, before: Cost | None) -> None:
        """What was said, and what has become better or worse by it."""
        self.reread()
        if problem:
            self.say(problem, alarm=True)
            return
        now = self.route.plan
        self.say(f"{said}: {say_difference(before, now.cost if now is not None else None)}.")
