"""What was asked for on the command line, as one record."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Literal

from msgspec import Struct

from checklists.plan.records import DayOff

By = Literal["container", "shelf", "class"]


class NotUnderstood(Exception):  # noqa: N818 - what it says, in the words of the message
    """Something typed has no meaning here; the message says what, and what to type."""


class Request(Struct, frozen=True, kw_only=True):
    """One command with everything said about it. Fields that the command does not know keep their defaults.

    ``command`` is "today" for `trundle` alone; "help" and "not understood" carry their text in ``message``.
    ``now`` is the clock: the moment of the call, with the time of `--at` and, where a date was given too, on that date.
    ``date`` is the day that was asked for, None for the one that suits the command; ``tomorrow`` asks for the next day
    with visits.
    """

    command: str
    now: datetime
    clock_set: bool = False
    """Whether `--at` set the time of day."""
    message: str = ""
    folder: Path | None = None
    to: date | None = None
    """The day that a matter is moved to."""
    first_day: date | None = None
    last_day: date | None = None
    """Between which days there is testing."""
    until: date | None = None
    """The last day that work hangs."""
    expected: date | None = None
    """When an order is to come."""
    first: date | None = None
    """The first day of a school year, and its last."""
    last: date | None = None
    date: date | None = None
    tomorrow: bool = False
    json: bool = False
    text: bool = False
    private: bool = False
    reset: bool = False
    by: By = "container"
    html: bool = False
    out: str = ""
    """The file to write the sheet into."""
    look: bool = False
    gone: bool = False
    words: tuple[str, ...] = ()
    """Lines, a visit, a supply."""
    whole: bool = False
    count: int | None = None
    short: int | None = None
    remedy: str = ""
    not_needed: str = ""
    level: str = "low"
    as_planned: bool = False
    outcome: str = ""
    missed: tuple[int, ...] | None = None
    """Class-list numbers; empty: nobody; None: not told."""
    missed_unknown: bool = False
    missed_count: int | None = None
    half: tuple[int, ...] | None = None
    """Class-list numbers of who was there for half of it."""
    not_done: int | None = None
    not_done_numbers: tuple[int, ...] | None = None
    reached: int | None = None
    taught: int | None = None
    """The part that was taught in place of the planned one."""
    students: int | None = None
    lines: tuple[str, ...] = ()
    """Lines of shorthand, each about a visit."""
    counts: tuple[tuple[str, int, int] | tuple[str, None, None], ...] = ()
    """Supply, out, back; None where it is to be counted later."""
    handed_out: bool | None = None
    stands: tuple[tuple[str, str], ...] = ()
    """Container, place."""
    put_right: tuple[tuple[str, bool], ...] = ()
    """Container, done."""
    no_school: bool = False
    school: bool = False
    day: str = ""
    bells: str = ""
    substitute: bool | None = None
    away: tuple[str, ...] | None = None
    """Classes; empty: nobody is away; None: not told."""
    guests: tuple[tuple[str, str, int], ...] = ()
    """Class, the one that so many of its children join, how many."""
    students_of: tuple[tuple[str, int], ...] = ()
    adults_of: tuple[tuple[str, int], ...] = ()
    lessons: tuple[tuple[str, str], ...] = ()
    """Visit, lesson taught in it."""
    parts: tuple[tuple[str, int], ...] = ()
    """Visit, part of the class's own lesson taught in it; 0 for its next one."""
    rooms: tuple[tuple[str, str], ...] = ()
    """Visit, room it takes place in."""
    joined: tuple[tuple[str, str], ...] = ()
    """Class, the one it is taught together with."""
    interruptions: tuple[tuple[str, str, str], ...] = ()
    """Begin, end, why."""
    halves: tuple[tuple[str, bool], ...] = ()
    """Visit, whether half of its part is taught."""
    water_off: tuple[str, ...] | None = None
    grades_tested: tuple[str, ...] = ()
    """Grades, or from one to another: "3-5"."""
    periods_tested: tuple[str, ...] = ()
    walk_more: int = 0
    elevator_out: bool | None = None
    longer_ways: tuple[tuple[str, int], ...] = ()
    """Room or wing, minutes more."""
    no_cart: bool | None = None
    planning_lost: bool | None = None
    store_opens: str | None = None
    fill: str = ""
    no_mess: bool | None = None
    inside: str = ""
    """The container that was looked into."""
    avoid: tuple[str, ...] = ()
    avoid_no_more: tuple[str, ...] = ()
    needs: tuple[tuple[str, int], ...] = ()
    """Need, children who have it."""
    size: int | str | None = None
    """Children in a class: 25, or "about 24"."""
    gone_numbers: tuple[tuple[int, ...], ...] = ()
    """Class-list numbers of children who left the class, as often as they were told."""
    back_numbers: tuple[tuple[int, ...], ...] = ()
    usual_adults: int | None = None
    has: tuple[str, ...] = ()
    has_not: tuple[str, ...] = ()
    instead_of: str = ""
    """What was ordered, where something else came."""
    let_go: bool = False
    off_days: tuple[DayOff, ...] = ()
    days_off: str = ""
    """A file of days off."""
    take_back: bool = False
    take: tuple[int, ...] = ()
    """Rows of a file, or events of a calendar, that are taken though they do not look it; ``leave``: left out."""
    leave: tuple[int, ...] = ()
    merge: bool = False
    """Make one of two versions of a day."""
    need: str = ""
    """A need that goes with a child who leaves, or that a rule asks for."""
    lesson: str = ""
    part: int | None = None
    short_version: bool = False
    take_home: bool = False
    back: bool = False
    """Work that hung is back in its folder; what was lent is back."""
    lend_to: str = ""
    """Who borrows something: a name, a room, or both."""
    reported: str = ""
    """Whom she told that something is missing."""
    when_told: str = ""
    """When that was, or when a missing thing was found, in her words."""
    found: str | None = None
    """Where a missing thing was found."""
    found_by: str = ""
    lent_after_all: str = ""
    """Who had borrowed what seemed to be missing."""
    stands_at: str = ""
    """Where a thing is now: a room, or the store."""
    own: bool = False
    off: bool = False
    settings: bool = False
    why: str = ""
    """The rule that is to be told in full."""
    per: str = "class"
    critical: bool = False
    when: tuple[str, ...] = ()
    """Conditions of a rule."""
    grade: str = ""
    """The same, of the grade."""
    for_class: str = ""
    instead: str = ""
    reason: str = ""
    ahead: bool = False
    year: bool = False
    """Routes of the coming days, and over the year."""
    for_good: bool = False
    """A wish holds on every day from now on."""
    sink: str = ""
    """Of a room: yes, no, or unknown; so are ``carpet`` and ``projector``."""
    carpet: str = ""
    projector: str = ""
    drying: str = ""
    """How many wet sheets can lie in a room, or unknown."""
    trial: bool = False
    """Only what it would do is asked for."""
    show: str = ""
    start: str = ""
    """A lesson type that is told in full, or made a lesson of hers; what that is called."""
    title: str = ""
    place: str = ""
    """The folder that a backup goes into."""
    as_folder: bool = False
    yes: bool = False
    """Do it, not only tell what it would do: put a backup back, bring a file in."""

    @property
    def wants_screen(self) -> bool:
        """Whether the screen is to open; otherwise ``run`` does what was asked."""
        return self.command in ("today", "demo") and not self.text and not self.json
