"""What is asked about the school: its year, its rotation, its bells; up to the day of which the visits are asked."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from typing import Literal, cast

from msgspec import Struct

from checklists.calendar import WEEKDAYS, calendar_of
from checklists.first_start import typed_dates as dates
from checklists.first_start.asking_bells import ask_bells
from checklists.first_start.bell_times import (
    DayShape,
    end_of_day,
)
from checklists.first_start.question import NONE, Asking, NotTaken, Option, Question, ask, option_typed, whole_number
from checklists.first_start.usual_year import (
    MOST_DAYS,
    school_days_from,
    usual_days_off,
    usual_first_day,
    usual_last_day,
    year_of,
)
from checklists.plan.records import DayOff, Rotation, School
from checklists.words import minute_of_day, plural, say_date, say_full_date

LONGEST_NAME = 60
KINDS = (Option("weekdays", "weekly: every Monday is like the one before"), Option("cycle", "a cycle of days"))
LOST = (
    Option("slides", "slides: the day that was lost comes next"),
    Option("fixed", "fixed: the days stay with their dates"),
    Option("announced", "announced: somebody says which day it is"),
)


class SchoolSaid(Struct, frozen=True):
    """What was said of the school. ``day`` is the school day whose visits are asked, ``day_name`` what it is called."""

    name: str
    first: date
    last: date
    days_off: tuple[DayOff, ...]
    rotation: Rotation
    shape: DayShape
    day: date
    day_name: str


def ask_school(now: datetime) -> Asking[SchoolSaid]:
    """Ask it all; ``now`` decides the defaults, and whether today's periods are over."""
    today = now.date()
    name = yield from ask(_name())
    first = yield from ask(_first_day(today))
    last = yield from ask(_last_day(first, today))
    off = yield from ask(_days_off(first, last, today))
    kind = yield from ask(_choice("rotation", "Timetable", "Does the timetable go by the week, or by a cycle?", KINDS))
    days: tuple[str, ...] = ()
    if kind.key == "cycle":
        days = yield from ask(_cycle_days())
    shape = yield from ask_bells()
    day = _listed_day(year_of(first, last, off), shape, now)
    if not days:
        return SchoolSaid(name, first, last, off, Rotation(), shape, day, WEEKDAYS[day.weekday()])
    day_name = yield from ask(_day_of_cycle(days, day, today))
    lost = yield from ask(
        _choice("lost day", "After a snow day", "After a snow day, which day of the cycle comes next?", LOST)
    )
    rotation = Rotation("cycle", days, cast('Literal["slides", "fixed", "announced"]', lost.key))
    return SchoolSaid(name, first, last, off, rotation, shape, day, day_name)


def _listed_day(school: School, shape: DayShape, now: datetime) -> date:
    """Today while it has a period to come, else the next school day."""
    calendar, today = calendar_of(school), now.date()
    if calendar.is_school_day(today) and minute_of_day(now) < end_of_day(shape):
        return today
    following = calendar.next_school_day(today)
    return following if following is not None else calendar.planned[-1]


# ------------------------------------------------------------------------------------------------------- the year


def _name() -> Question[str]:
    def read(text: str) -> str:
        if len(text) > LONGEST_NAME:
            raise NotTaken(f"At most {LONGEST_NAME} letters.")
        return text

    return Question(
        "school name",
        "School",
        "What is your school called?",
        "It stands on the sheets that you print.",
        "My school",
        read,
    )


def _first_day(today: date) -> Question[date]:
    def read(text: str) -> date:
        day = dates.read_date(text, dates.date_near(today))
        if not _suggested_last_day(day, today):
            raise NotTaken(f"{say_full_date(day)} was longer ago than a school year lasts.")
        return day

    return Question(
        "first day",
        "First day",
        "When did this school year begin, or when does it?",
        "Type it as 8/24, 24 Aug or 2026-08-24.",
        usual_first_day(today).isoformat(),
        read,
        say_full_date,
        keep=date.isoformat,
    )


def _longest_year(first: date) -> date:
    return first + timedelta(MOST_DAYS)


def _suggested_last_day(first: date, today: date) -> date | None:
    """The usual one; where that is over, a school day soon. None: no year that began then is going on."""
    usual = usual_last_day(first)
    if usual >= today:
        return usual
    soon = (today + timedelta(days) for days in range(7, -1, -1))
    return next((each for each in soon if each <= _longest_year(first) and each.weekday() < 5), None)


def _last_day(first: date, today: date) -> Question[date]:
    least = max(first, today)
    usual = usual_last_day(first)

    def read(text: str) -> date:
        day = dates.read_date(text, dates.date_after(first))
        if day <= first:
            raise NotTaken(f"{say_full_date(day)} is not after the first day, {say_full_date(first)}.")
        if day < today:
            raise NotTaken(f"{say_full_date(day)} is over. Esc goes back to the first day.")
        if day > _longest_year(first):
            raise NotTaken(f"More than {MOST_DAYS} days after the first day, {say_full_date(first)}.")
        if not school_days_from(first, day, (), least):
            raise NotTaken("No Monday to Friday would be left of this year.")
        return day

    default = _suggested_last_day(first, today) or usual
    return Question(
        "last day",
        "Last day",
        "When is the last day of school?",
        "Type it as 6/11 or 11 Jun." + (" The usual one is 180 school days after the first." if usual >= today else ""),
        default.isoformat(),
        read,
        say_full_date,
        keep=date.isoformat,
    )


def _days_off(first: date, last: date, today: date) -> Question[tuple[DayOff, ...]]:
    def read(text: str) -> tuple[DayOff, ...]:
        word, _, rest = text.partition(",")
        if text.casefold() in NONE:
            days: tuple[DayOff, ...] = ()
        elif word.strip().casefold() == "usual":
            days = usual_days_off(first, last)
            days += dates.read_days_off(rest, first, last) if rest.strip() else ()
        else:
            days = dates.read_days_off(text, first, last)
        if not school_days_from(first, last, days, today):
            raise NotTaken("No school day would be left from today on.")
        return days

    def say(days: tuple[DayOff, ...]) -> str:
        if not days:
            return "none"
        counted = school_days_from(first, last, days, first)
        named = ", ".join(_say_off(each) for each in days[:12])
        return f"{named}{' …' if days[12:] else ''}: {plural(counted, 'school day')} in the year"

    has_usual = school_days_from(first, last, usual_days_off(first, last), today) > 0
    return Question(
        "days off",
        "Days off",
        "Which days are off?",
        "Type dates: 9/7, 11/26-27, 12/21-1/1; or none. usual, 10/9 is the usual ones and one more."
        " They can be brought in from a file later, too.",
        "usual" if has_usual else "none",
        read,
        say,
    )


def _say_off(off: DayOff) -> str:
    if off.last is None or off.last == off.first:
        return _short(off.first)
    return f"{_short(off.first)}-{_short(off.last)}"


def _short(day: date) -> str:
    return say_date(day).partition(" ")[2]


# --------------------------------------------------------------------------------------------------- the rotation


def _choice(ident: str, topic: str, text: str, options: tuple[Option, ...]) -> Question[Option]:
    return Question(
        ident,
        topic,
        text,
        "Type the number or the first letter.",
        options[0].key,
        lambda typed: option_typed(typed, options),
        lambda option: option.label,
        options,
    )


def _cycle_days() -> Question[tuple[str, ...]]:
    def read(text: str) -> tuple[str, ...]:
        if text.isdecimal():
            count = whole_number(text, 2, 10, "How many days the cycle has")
            return tuple(str(n) for n in range(1, count + 1))
        letters = text.upper()
        if found := re.fullmatch(r"A ?(?:-|–|TO) ?([B-J])", letters):
            return tuple(chr(n) for n in range(ord("A"), ord(found[1]) + 1))
        names = tuple(letters.replace(",", " ").split())
        names = tuple(names[0]) if len(names) == 1 and names[0].isalpha() and names[0].isascii() else names
        if not 2 <= len(names) <= 10 or len(set(names)) < len(names):
            raise NotTaken("Two to ten days, each once: A-F, 6, or their names with a space between.")
        if not all(re.fullmatch(r"[^\W_]{1,6}", each) for each in names):
            raise NotTaken("Each day is a letter, a number or a short word: A-F, 6.")
        return names

    return Question(
        "cycle days",
        "Cycle",
        "Which days has the cycle?",
        "Type A-F for letters, or 6 for the numbers 1 to 6.",
        "A-F",
        read,
        lambda days: f"{len(days)} days: {', '.join(days)}",
    )


def _day_of_cycle(days: tuple[str, ...], day: date, today: date) -> Question[str]:
    options = tuple(Option(each, each) for each in days)

    def read(text: str) -> str:
        found = next((each for each in days if each.casefold() == text.casefold()), None)
        if found is None:
            raise NotTaken(f"One of {', '.join(days)}.")
        return found

    when = f"today, {say_date(day)}" if day == today else f"{say_date(day)}, the next school day"
    return Question(
        f"day of {day.isoformat()}",
        say_date(day),
        f"Which day of the cycle is {when}?",
        f"Type one of {', '.join(days)}. The days after it follow by themselves.",
        days[0],
        read,
        lambda name: f"day {name}",
        options,
    )
