"""Dates as people write them in a school's calendar: "9/7/2026", "9/7", "Sep 7", "November 26-27", "2026-11-26".

Where no year is written it is taken from the school year. Numbers apart by strokes are month and day as in the United
States, unless the first of them can be no month.
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import NamedTuple

from checklists.bringing_in.understood import NotReadable
from checklists.typed.dates import MONTHS
from checklists.words import say_date, say_full_date

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
LONGEST_DAYS_OFF = 120
"""Days beyond which a last day is a slip, unless the year is over: a summer."""
_MONTH = (
    r"(?P<{0}>jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?"
    r"|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\.?"
)
_DAY = r"(?P<{0}>\d{{1,2}})(?:st|nd|rd|th)?"
_YEAR = r"(?P<{0}>(?:19|20)\d\d)"
_DATE = re.compile(
    "|".join(
        (
            r"(?P<y1>(?:19|20)\d\d)(?:-|/|\.)(?P<m1>\d{1,2})(?:-|/|\.)(?P<d1>\d{1,2})(?!\d)",
            r"(?<!\d)(?P<y2>(?:19|20)\d\d)(?P<m2>\d\d)(?P<d2>\d\d)(?!\d)",
            r"(?<![\d/:])(?P<a3>\d{1,2})/(?P<b3>\d{1,2})(?:/(?P<y3>(?:19|20)?\d\d))?(?![\d/:])",
            r"(?<![\d/:.-])(?P<a6>\d{1,2})(?P<s6>[.-])(?P<b6>\d{1,2})(?P=s6)(?P<y6>(?:19|20)?\d\d)(?![\d/:])",
            rf"\b{_MONTH.format('m4')}\s*{_DAY.format('d4')}(?!\d|:\d)(?:\s*,?\s*{_YEAR.format('y4')})?",
            rf"(?<!\d){_DAY.format('d5')}[\s-]+(?:of\s+)?{_MONTH.format('m5')}(?![a-z])(?:[\s,-]*{_YEAR.format('y5')})?",
        )
    ),
    re.IGNORECASE,
)
_DAY_BEHIND = re.compile(
    rf"\s*(?P<join>-|–|—|‒|to|through|thru|&|and|,)\s*{_DAY.format('d')}(?![\d/:])"
    rf"(?!\s*(?:am|pm|a\.m|p\.m|days?)\b)(?:\s*,?\s*{_YEAR.format('y')})?",
    re.IGNORECASE,
)
_JOIN = re.compile(r"[\s,(]*(?P<join>-|–|—|‒|to|through|thru|until|till|&|and|\.\.)?[\s,(]*$", re.IGNORECASE)
_WEEKDAY_WORD = r"(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?"
_WEEKDAY = re.compile(rf"\b({_WEEKDAY_WORD})\b\.?,?\s*$", re.IGNORECASE)
_WEEKDAY_BEFORE = re.compile(rf"\b{_WEEKDAY_WORD}\b\.?,?", re.IGNORECASE)
_APART = frozenset(("&", "and", ","))
_EDGES = " \t,;:|-–—‒()[].*•·="


class Span(NamedTuple):
    """From a day to a day, both included."""

    first: date
    last: date


class DatesRead(NamedTuple):
    """``rest`` is what stood beside the dates; ``day_first``: a date was read day before month."""

    spans: tuple[Span, ...]
    rest: str
    day_first: bool = False
    by_strokes: bool = False
    """Whether month and day were told apart only by their order."""


class _Found(NamedTuple):
    start: int
    end: int
    year: int | None
    month: int
    day: int
    day_first: bool
    by_strokes: bool


class SchoolYear(NamedTuple):
    """The days between which a date without a year is looked for."""

    first: date
    last: date

    def date_of(self, month: int, day: int, year: int | None, after: date | None = None) -> date:
        """The date; without a year the one in the school year, or the next one after ``after``. Raises ValueError."""
        if year is not None:
            return date(year, month, day)
        candidates = []
        for each in range(self.first.year, self.last.year + 1):
            try:
                candidates.append(date(each, month, day))
            except ValueError:  # 29 February of the other year
                continue
        if not candidates:
            return date(self.first.year, month, day)  # raises, or there is no such day in either
        within = [each for each in candidates if self.first <= each <= self.last and (after is None or each >= after)]
        return min(within or candidates, key=lambda each: self._distance(each, after))

    def _distance(self, day: date, after: date | None) -> int:
        """Days from where the date is looked for: within the school year, or from the day before it in its line on."""
        first = after or self.first
        return (first - day).days if day < first else (day - self.last).days if day > self.last else (day - first).days


def read_dates(text: str, year: SchoolYear, *, day_first: bool = False) -> DatesRead:
    """Every date in a line. Raises NotReadable where there is none, or one that cannot be."""
    found = list(_found_in(text, day_first))
    if not found:
        raise NotReadable("No date stands there.", "Write it like Sep 7, 9/7/2026 or 2026-09-07.")
    spans: list[Span] = []
    rest, at = [], 0
    joins = False
    for each in found:
        between = text[at : each.start]
        day = _date(each, text, year, spans[-1].first if spans and joins else None)
        _check_weekday(between, day)
        bare = _WEEKDAY_BEFORE.sub(" ", between)
        join = _JOIN.fullmatch(bare) if spans else None
        if join is not None and (join["join"] or "") not in _APART and (join["join"] or _only_space(bare)):
            spans[-1] = _span(spans[-1].first, day, each, text, year)
        else:
            rest += [bare] if join is None else []
            spans.append(Span(day, day))
        at, joins = each.end, True
        for behind in _days_behind(text, at):
            of_both = int(behind["y"]) if behind["y"] else each.year
            last = _date(each._replace(day=int(behind["d"]), year=of_both), text, year)
            if behind["y"]:  # "November 26-27, 2026": of both
                spans[-1] = Span(_date(each._replace(year=int(behind["y"])), text, year), spans[-1].last)
            if behind["join"].casefold() in _APART:
                spans.append(Span(last, last))
            else:
                spans[-1] = _span(spans[-1].first, last, each, text, year)
            at = behind.end()
    rest.append(text[at:])
    said = " ".join(" ".join(part.strip(_EDGES) for part in rest).split())
    return DatesRead(
        tuple(spans), said.strip(_EDGES), any(each.day_first for each in found), any(each.by_strokes for each in found)
    )


def _only_space(text: str) -> bool:
    """Two dates side by side, from two columns, are the first and the last."""
    return not text.strip(" \t,")


def _days_behind(text: str, at: int) -> list[re.Match[str]]:
    """Further days of the month behind a date: "-27", ", 10 and 11". A number before a month begins another date."""
    behind = []
    while found := _DAY_BEHIND.match(text, at):
        if _DATE.match(text, found.start("d")) or not 1 <= int(found["d"]) <= 31:
            break
        if found["join"] == "," and not re.match(r"\s*(?:,|&|and|$)", text[found.end() :]):
            break
        behind.append(found)
        at = found.end()
    return behind


def _found_in(text: str, day_first: bool) -> list[_Found]:
    found, at = [], 0
    while each := _DATE.search(text, at):
        found.append(_parts(each, day_first))
        at = each.end()
        for behind in _days_behind(text, at):
            at = behind.end()
    return found


def _parts(found: re.Match[str], day_first: bool) -> _Found:
    start, end = found.span()
    for n in ("1", "2"):
        if found[f"y{n}"]:
            return _Found(start, end, int(found[f"y{n}"]), int(found[f"m{n}"]), int(found[f"d{n}"]), False, False)
    n = "3" if found["a3"] else "6" if found["a6"] else ""
    if n:
        one, two, dotted = int(found[f"a{n}"]), int(found[f"b{n}"]), found["s6"] == "."
        year = int(found[f"y{n}"]) if found[f"y{n}"] else None
        year = year + 2000 if year is not None and year < 100 else year
        turned = (one > 12 >= two) or ((day_first or dotted) and two <= 12)
        month, day = (two, one) if turned else (one, two)
        return _Found(start, end, year, month, day, turned, one <= 12 and two <= 12 and one != two)
    n = "4" if found["m4"] else "5"
    year = int(found[f"y{n}"]) if found[f"y{n}"] else None
    month = MONTHS.index(found[f"m{n}"][:3].casefold()) + 1
    return _Found(start, end, year, month, int(found[f"d{n}"]), False, False)


def _date(found: _Found, text: str, year: SchoolYear, after: date | None = None) -> date:
    try:
        return year.date_of(found.month, found.day, found.year, after)
    except ValueError:
        written = text[found.start : found.end].strip()
        raise NotReadable(f'There is no date "{written}".', "Write it like Sep 7, 9/7/2026 or 2026-09-07.") from None


def _span(first: date, last: date, found: _Found, text: str, year: SchoolYear) -> Span:
    if last < first and found.year is None and last.month < first.month:  # "Dec 21 - Jan 1"
        last = _date(found._replace(month=last.month, day=last.day, year=first.year + 1), text, year)
    if last < first:
        raise NotReadable(
            f"It ends on {say_full_date(last)}, before it begins on {say_full_date(first)}.",
            "Exchange the two dates, or correct one.",
        )
    if (last - first).days > LONGEST_DAYS_OFF and first > year.first:
        raise NotReadable(f"From {say_full_date(first)} to {say_full_date(last)} is very long.", "Look at both dates.")
    return Span(first, last)


def _check_weekday(before: str, day: date) -> None:
    """A weekday written before a date must be that of the date: else one of the two is wrong."""
    found = _WEEKDAY.search(before)
    if found and WEEKDAYS.index(found[1][:3].casefold()) != day.weekday():
        raise NotReadable(f"{say_full_date(day)} is no {found[1]}.", "Look at the date, and write the year.")


def say_span(span: Span) -> str:
    """ "Mon 7 Sep 2026", "Thu 26 Nov to Fri 27 Nov 2026"."""
    if span.first == span.last:
        return say_full_date(span.first)
    first = say_date(span.first) if span.first.year == span.last.year else say_full_date(span.first)
    return f"{first} to {say_full_date(span.last)}"


def school_days_in(span: Span, year: SchoolYear) -> list[date]:
    """The Mondays to Fridays of the school year in a span."""
    first, last = max(span.first, year.first), min(span.last, year.last)
    days = ((last - first).days + 1) if first <= last else 0
    return [day for n in range(days) if (day := first + timedelta(n)).weekday() < 5]
