"""Which other day?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from textual.content import Content

from checklists.days_around import DayStanding, days_around
from checklists.words import plural, say_date
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen


class DaysScreen(ChoosingScreen):
    """Days that were not closed first, then those to come, then the closed ones; "6", "oct" or "tue 6" narrows them."""

    TITLE_OF_KEYS = "Another day"

    def __init__(self, on: date, go_to_day: Callable[[date], None]) -> None:
        super().__init__(
            on, "Another day", self.rows_for, lambda key: go_to_day(date.fromisoformat(key)), nothing="No such day."
        )
        self.found: tuple[DayStanding, ...] = ()

    def on_mount(self) -> None:
        self.found = days_around(self.book, self.trundle.now().date())
        super().on_mount()

    def question(self) -> tuple[Content, ...]:
        return (Content.assemble(("Which day?", "bold")), Content("What you tell of an earlier day carries through."))

    def rows_for(self, typed: str) -> list[Row]:
        words = typed.casefold().split()
        fitting = [each for each in self.found if all(_fits(each, word) for word in words)]
        headings = (("Not closed", "not closed"), ("Coming", "to come"), ("Closed", "closed"), ("No school", "lost"))
        rows: list[Row] = []
        for title, standing in headings:
            days = [each for each in fitting if each.standing == standing]
            if days:
                rows.append(Row("heading", f"heading {title}", title, tone="heading"))
            rows += [day_row(each) for each in (days if standing == "to come" else reversed(days))]
        return rows


def _fits(each: DayStanding, word: str) -> bool:
    """Whether a word begins the weekday, the month, or is the day of the month."""
    weekday, day, month = say_date(each.date).casefold().split()
    return weekday.startswith(word) or month.startswith(word) or (word.isdecimal() and day.startswith(word))


def day_row(each: DayStanding) -> Row:
    """ "Tue 6 Oct  day B     4 visits not told"."""
    named = f"day {each.day_name}" if each.day_name and not say_date(each.date).startswith(each.day_name) else ""
    state = f"{plural(each.untold, 'visit')} not told" if each.untold else ""
    state = "begun" if each.is_begun else state
    return Row("matter", each.date.isoformat(), f"{say_date(each.date):<12}{named}", state=state)
