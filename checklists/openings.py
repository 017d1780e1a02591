"""How things stand when a day opens: what the days before it left, each gone through with the plan and the rules.

A day's opening follows from the days before it, its list from its opening. Both are remembered until something they
depend on changes. Nothing here touches a disk, so that the same days can be gone through with other rules.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from msgspec import structs

from checklists.daybook.children import as_told
from checklists.daybook.marks import changes_of
from checklists.daybook.opening import first_state
from checklists.daybook.rollover import new_year
from checklists.daybook.state import DayRecord, State, Timetable
from checklists.lines.day import calendar_for, day_on
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.problems import Problem
from checklists.rules.read import RuleSet
from checklists.told_days import ToldDays
from checklists.words import say_date

MOST_AHEAD = 14
"""Days ahead of which a list is told before anything else: what is told of a later one was told by a wrong clock."""


class Openings:
    """Openings, lists and closings of the days of one plan. Days from ``today`` on are looked past as planned."""

    def __init__(self, plan: Plan, rules: RuleSet, told: ToldDays, today: date | None = None) -> None:
        self.plan = plan
        self.rules = rules
        self._told = told
        self._today = today
        self._openings: dict[date, State] = {}
        self._days: dict[date, Day] = {}
        self._first: date | None = None

    @property
    def today(self) -> date:
        """The date from which unreported visits are still to come; by default that of the latest day with entries."""
        return self._today or max(self._told.dates, default=date.min)

    @today.setter
    def today(self, day: date) -> None:
        if day != self._today:
            earlier = min(self._today or date.min, day)  # days before both are looked back at as ever
            self._today = day
            self.forget_after(earlier)

    def day(self, day: date) -> Day:
        """The list of a date."""
        if day not in self._days:
            change = changes_of(self._told.record(day).entries)
            plan = self.plan_of(day)
            told = as_told(plan, day, self._told.marks(day), self.opening(day))
            self._days[day] = day_on(plan, self.rules, told, day, change)
        return self._days[day]

    def opening(self, day: date) -> State:
        """How things stand when ``day`` opens: the closing of the last closed day, and every day since gone through."""
        if day not in self._openings:
            self._openings[day] = self._work_out_opening(day)
        return self._openings[day]

    def closing_of(self, day: date) -> State:
        """How things stand after a day as it is told so far, closed or not."""
        record = self._told.record(day)
        if record.closing is not None:
            return record.closing
        return self.work_out_closing(day, as_planned=day >= self.today)

    def work_out_closing(self, day: date, *, as_planned: bool = False) -> State:
        """How things stand after a day, whatever was written when it was closed."""
        from checklists.daybook.closing import close_day  # only here: a list is most often printed without closing

        plan, marks = self.plan_of(day), self._told.marks(day)
        return close_day(plan, self.day(day), marks, self.opening(day), as_planned=as_planned)

    def plan_of(self, day: date) -> Plan:
        """The plan that a date goes by: today's, with the timetable of the time where the day was closed by another."""
        kept = self._told.record(day).timetable
        if kept is None or kept.day != self._day_name(day) or kept.periods == self.plan.timetable.get(kept.day, {}):
            return self.plan
        return structs.replace(self.plan, timetable={**self.plan.timetable, kept.day: kept.periods})

    def _day_name(self, day: date) -> str:
        changes = changes_of(self._told.record(day).entries)
        return calendar_for(self.plan, self.opening(day), day, changes).day_name(day)

    def closed_anew(self, day: date) -> DayRecord:
        """The record of a day with opening and closing worked out afresh."""
        opening, closing = self.opening_to_keep(day), self.work_out_closing(day)
        name = self._day_name(day)
        timetable = Timetable(name, self.plan_of(day).timetable.get(name, {}))
        return structs.replace(self._told.record(day), timetable=timetable, opening=opening, closing=closing)

    def _work_out_opening(self, day: date) -> State:
        record = self._told.record
        closed = self._newest_closed_before(day)
        if closed is not None and record(closed).opening is not None:
            begin: date | None = closed  # the daybook begins there or earlier; its first file need not be read
        else:
            begin = self.begin() or self._today  # nothing told yet: days ahead go by the plan from today on
        if begin is None or day < begin:
            return first_state(self.plan)
        if day == begin:
            return record(day).opening or first_state(self.plan)
        days = {each for each in self._planned_days(begin, day) if each < day}
        days |= {each for each in self._told.dates if begin <= each < day}
        in_order = sorted(days)
        settled = self._told.settled
        start = next((n for n in range(len(in_order) - 1, -1, -1) if settled(in_order[n]) is not None), None)
        state = None if start is None else settled(in_order[start])
        if state is None:
            state = record(begin).opening or first_state(self.plan)
        before = begin if start is None else in_order[start]
        for each in in_order[0 if start is None else start + 1 :]:
            state = self._over_the_year(state, before, each)
            self._openings[each] = state
            state, before = self.closing_of(each), each
        return self._over_the_year(state, before, day)

    def _over_the_year(self, state: State, before: date, day: date) -> State:
        """What a day left, for a later one: where the school year begins in between, classes start afresh."""
        first_day = self.plan.school.first_day
        return new_year(state, first_day) if before < first_day <= day else state

    def is_of_a_year_before(self, day: date) -> bool:
        """Whether a day was closed before the school year of the plan begins: it stays as it was, whatever comes."""
        return day < self.plan.school.first_day and self._told.settled(day) is not None

    def is_told_in_this_year(self) -> bool:
        """Whether anything was told of a day of the plan's school year or of one after it."""
        days = (day for day in self._told.dates if day >= self.plan.school.first_day)
        return any(self._told.record(day).entries or self._told.settled(day) is not None for day in days)

    def days_not_closed(self) -> tuple[date, ...]:
        """Days with something told of them since the newest closed day."""
        closed = self._newest_closed_before(date.max) or date.min
        return tuple(day for day in sorted(self._told.dates) if day > closed and self._told.record(day).entries)

    def begin(self) -> date | None:
        """The day the daybook begins with: the first with an opening, or one before that was told of by its closing.

        That opening stands as it is. What somebody writes down later about a day before it does not make weeks of open
        questions. Before any day was closed it is the day on which she began to tell, be it of a day still to come: the
        visits until then were looked past as planned when she saw its list, and are asked about now.
        """
        record = self._told.record
        if self._first is None or record(self._first).opening is None:
            in_order = sorted(self._told.dates)
            stands = next((day for day in in_order if record(day).opening is not None), None)
            closed_at = record(stands).closed_at if stands is not None else datetime.max
            told = (day for day in in_order if stands is None or day < stands)
            entries = ((day, record(day).entries) for day in told)
            before = (day for day, said in entries if said and closed_at is not None and said[0].at < closed_at)
            self._first = next(before, stands)
            if stands is None and self._first is not None:
                began = record(self._first).entries[0].at.date()
                if self._first - timedelta(MOST_AHEAD) <= began < self._first:
                    self._first = began
        return self._first

    def opening_to_keep(self, day: date) -> State | None:
        """The opening that is written with a day's closing: none for a day before the daybook begins."""
        begin = self.begin()
        is_before = begin is not None and day < begin and self._told.record(begin).opening is not None
        return None if is_before else self.opening(day)

    def _newest_closed_before(self, day: date) -> date | None:
        earlier = sorted((each for each in self._told.dates if each < day), reverse=True)
        return next((each for each in earlier if self._told.settled(each) is not None), None)

    def _planned_days(self, first: date, last: date) -> list[date]:
        calendar = calendar_for(self.plan, State(), first, None)
        return [each for each in calendar.planned if first <= each <= last]

    # --------------------------------------------------------------------------------------------- forgetting

    def take_up(self, plan: Plan, rules: RuleSet) -> None:
        """Go by another plan or other rules from now on."""
        self.plan, self.rules = plan, rules
        self._openings.clear()
        self._days.clear()

    def forget_list(self, day: date) -> None:
        """Forget the list of a day, because what is different about it was told."""
        self._days.pop(day, None)

    def forget_after(self, day: date) -> None:
        """Forget what was worked out for later days."""
        for known in (self._openings, self._days):
            for each in [each for each in known if each > day]:
                del known[each]

    def forget_begin(self) -> None:
        """Forget with which day the daybook begins, because a day was closed or opened again."""
        self._first = None

    # ---------------------------------------------------------------------------------------------- proving

    def check_chain(self) -> tuple[Problem, ...]:
        """Whether every closed day opened with what the days before it had left. Empty: the chain holds.

        The days of a school year that is over went by the plan of that year: the first day of this one is held against
        what they left.
        """
        found: list[Problem] = []
        for day in sorted(self._told.dates):
            record = self._told.record(day)
            if record.opening is None or day == self.begin() or self.is_of_a_year_before(day):
                continue
            if record.opening != self._work_out_opening(day):
                what = f"does not open with what {self._say_before(day)} left"
                to_do = "Somebody changed a file by hand, or the plan changed while a day before stayed open."
                found.append(Problem(f"daybook/{day.isoformat()}.toml", "opening", what, to_do, level="note"))
        return tuple(found)

    def _say_before(self, day: date) -> str:
        before = max((each for each in self._told.dates if each < day), default=day - timedelta(1))
        return say_date(before)
