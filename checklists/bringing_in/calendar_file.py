"""The events of an iCalendar file, each by itself: one that is damaged never hides the others.

Source: RFC 5545. Its properties are read by the icalendar package; times are those of the event's own place, or of the
calendar's where they are given as universal time.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta, tzinfo
from typing import Any

from msgspec import Struct

from checklists.bringing_in.occurrences import Repeats
from checklists.words import clean

MOST_EVENTS = 5_000
_FOLD = re.compile(r"(?:\r\n|\r|\n)[ \t]")
_LINE_END = re.compile(r"\r\n|\r|\n")
_BLOCK = "VEVENT"
_ZONE = re.compile(r"^X-WR-TIMEZONE[^:]*:(.+)$", re.IGNORECASE)


class CalendarEvent(Struct, frozen=True):
    """One event. ``number`` counts from 1 in the order of the file; ``wrong`` says why it could not be read."""

    number: int
    summary: str
    repeats: Repeats | None = None
    length: timedelta = timedelta(1)
    is_all_day: bool = True
    is_cancelled: bool = False
    uid: str = ""
    replaces: datetime | None = None
    """The beginning that it takes the place of, of the repeating event with the same ``uid``."""
    wrong: str = ""


class EventsRead(Struct, frozen=True):
    """``has_universal_times``: some times are given as universal time, and no place is named for the calendar."""

    events: tuple[CalendarEvent, ...]
    left_out: int = 0
    has_universal_times: bool = False


def is_calendar(text: str) -> bool:
    """Whether a text is an iCalendar file, whatever it is called."""
    return re.match(r"\s*BEGIN:(?:VCALENDAR|VEVENT)\b", text[:200], re.IGNORECASE) is not None


def read_events(text: str) -> EventsRead:
    """Every event of the file. Never raises."""
    lines = _LINE_END.split(_FOLD.sub("", text))
    zone = _zone_named(next((found[1] for line in lines if (found := _ZONE.match(line))), ""))
    blocks = list(_blocks(lines))
    reading = _Reading(zone)
    events = tuple(reading.read(number, block) for number, block in enumerate(blocks[:MOST_EVENTS], 1))
    return EventsRead(events, len(blocks) - len(events), reading.has_universal_times and zone is None)


def _blocks(lines: Iterable[str]) -> Iterator[tuple[list[str], bool]]:
    """The lines of every event, and whether it ended as it should."""
    block: list[str] | None = None
    for line in lines:
        word = line.strip().upper()
        if word == f"BEGIN:{_BLOCK}":
            if block is not None:
                yield block, False
            block = []
        elif word in (f"END:{_BLOCK}", "END:VCALENDAR") and block is not None:
            yield block, word == f"END:{_BLOCK}"
            block = None
        elif block is not None and line.strip():
            block.append(line)
    if block is not None:
        yield block, False


def _zone_named(name: str) -> tzinfo | None:
    from zoneinfo import ZoneInfo

    try:
        return ZoneInfo(name.strip()) if name.strip() else None
    except (ValueError, OSError, KeyError):  # no such place, or none known on this computer
        return None


class _Reading:
    def __init__(self, zone: tzinfo | None) -> None:
        self.zone = zone
        self.has_universal_times = False

    def read(self, number: int, block: tuple[list[str], bool]) -> CalendarEvent:
        lines, is_whole = block
        summary = _summary_in(lines)
        if not is_whole:
            return CalendarEvent(number, summary, wrong="The file ends, or breaks off, in the middle of it.")
        from icalendar import Event

        try:
            event: Any = Event.from_ical("\r\n".join((f"BEGIN:{_BLOCK}", *lines, f"END:{_BLOCK}", "")))
            return self._event(number, summary, event)
        except (ValueError, TypeError, AttributeError, KeyError, IndexError, OverflowError) as error:
            return CalendarEvent(number, summary, wrong=_why(error))

    def _event(self, number: int, summary: str, event: Any) -> CalendarEvent:
        if "DTSTART" not in event:
            raise ValueError("It has no date.")
        begins = event["DTSTART"].dt
        if not isinstance(begins, date):
            raise ValueError("Its date cannot be read.")
        zone = begins.tzinfo if isinstance(begins, datetime) else None
        start = self._local(begins, zone)
        is_all_day = not isinstance(begins, datetime)
        dates = [each for each in _dates_in(event, "EXDATE") if isinstance(each, date)]
        replaced = event["RECURRENCE-ID"].dt if "RECURRENCE-ID" in event else None
        return CalendarEvent(
            number=number,
            summary=summary,
            repeats=Repeats(
                start,
                tuple(self._rules(event, zone, is_all_day)),
                tuple(self._local(each, zone) for each in _dates_in(event, "RDATE")),
                tuple(self._local(each, zone) for each in dates if isinstance(each, datetime)),
                tuple(each for each in dates if not isinstance(each, datetime)),
            ),
            length=self._length(event, start, zone, is_all_day),
            is_all_day=is_all_day,
            is_cancelled=str(event.get("STATUS", "")).strip().upper() == "CANCELLED",
            uid=str(event.get("UID", "")),
            replaces=self._local(replaced, zone) if isinstance(replaced, date) else None,
        )

    def _local(self, moment: date, zone: tzinfo | None) -> datetime:
        """The moment on the clock of the place: that of the event, of the calendar where it is in universal time."""
        if not isinstance(moment, datetime):
            return datetime.combine(moment, time())
        if moment.tzinfo is None:
            return moment
        is_universal = moment.tzname() in ("UTC", "Z")
        place = zone if zone is not None and not _is_universal(zone, moment) else self.zone
        self.has_universal_times |= is_universal and place is None
        return (moment.astimezone(place) if is_universal and place is not None else moment).replace(tzinfo=None)

    def _length(self, event: Any, start: datetime, zone: tzinfo | None, is_all_day: bool) -> timedelta:
        if "DTEND" in event:
            length = self._local(event["DTEND"].dt, zone) - start
        elif "DURATION" in event:
            length = event["DURATION"].dt
        else:
            length = timedelta(1) if is_all_day else timedelta()
        if not isinstance(length, timedelta) or length < timedelta():
            raise ValueError("It ends before it begins.")
        return max(length, timedelta(1)) if is_all_day else length

    def _rules(self, event: Any, zone: tzinfo | None, is_all_day: bool) -> Iterator[str]:
        """The rules as texts, with their last moment on the clock of the place; of whole days the date as it stands."""
        named = event.get("RRULE", [])
        for rule in named if isinstance(named, list) else [named]:
            text = rule.to_ical().decode()
            for until in rule.get("UNTIL", []):
                if is_all_day:
                    text = re.sub(r"UNTIL=(\d{8})[0-9TZ]*", r"UNTIL=\1", text)
                elif isinstance(until, datetime) and until.tzinfo is not None:
                    local = self._local(until, zone)
                    text = re.sub(r"UNTIL=[0-9TZ]+", f"UNTIL={local:%Y%m%dT%H%M%S}", text)
            yield text


def _is_universal(zone: tzinfo, moment: datetime) -> bool:
    return zone.tzname(moment) in ("UTC", "Z")


def _dates_in(event: Any, name: str) -> Iterator[date]:
    """The dates in every property of a name; of periods their beginnings."""
    named = event.get(name, [])
    for each in named if isinstance(named, list) else [named]:
        for one in each.dts:
            yield one.dt[0] if isinstance(one.dt, tuple) else one.dt


def _summary_in(lines: Iterable[str]) -> str:
    """The title as it stands, also where the event cannot be read."""
    for line in lines:
        if found := re.match(r"SUMMARY(?:;[^:]*)?:(.*)", line, re.IGNORECASE):
            text = re.sub(r"\\([\\;,])", r"\1", re.sub(r"\\[nN]", " ", found[1]))
            return " ".join(clean(text).split())[:200]
    return ""


def _why(error: Exception) -> str:
    """Our own words as they are; of the library's, that the event cannot be read."""
    said = str(error)
    return said if said.startswith("It") else "It cannot be read: something in it is damaged."
