"""Everything that is switched off: by her, for whom and until when, and what comes switched off."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from checklists.book import Book
from checklists.plan.records import Plan
from checklists.rules.records import SwitchedOff
from checklists.words import say_full_date


class OffEntry(Struct, frozen=True):
    """One thing that is switched off. ``entry`` is what ``book.switch_on`` takes to switch it on again."""

    entry: SwitchedOff
    title: str
    for_whom: str
    """ "class 3-B", "the lesson Burlap Birds", "every class"."""
    until: date | None
    since: date | None
    """Where it is known."""
    reason: str
    safety: bool
    is_over: bool
    """Its last day has gone by: the rule applies again."""
    comes_off: bool
    """The rule comes switched off; she never used it."""


def off_entries(book: Book, today: date | None = None) -> tuple[OffEntry, ...]:
    """What she switched off, in the order of her file, then what comes switched off."""
    start = book.today if today is None else today
    by_id = {each.id: each for each in book.rules.rules}
    hers = [
        OffEntry(
            entry=each,
            title=by_id[each.rule].title if each.rule in by_id else each.rule,
            for_whom=say_for_whom(each, book.plan),
            until=each.until,
            since=each.since,
            reason=each.reason,
            safety=each.rule in by_id and by_id[each.rule].safety,
            is_over=each.until is not None and each.until < start,
            comes_off=False,
        )
        for each in book.own_rules.off
    ]
    shipped = [
        OffEntry(SwitchedOff(each.id), each.title, "every class", None, None, "", each.safety, False, True)
        for each in book.rules.rules
        if not each.on
    ]
    return (*hers, *shipped)


def say_for_whom(off: SwitchedOff, plan: Plan) -> str:
    """For which classes and lessons."""
    title = plan.title_of_lesson(off.lesson)
    parts = [f"class {off.class_id}" if off.class_id else "", f"the lesson {title}" if off.lesson else ""]
    return " and ".join(each for each in parts if each) or "every class"


def say_off(entry: OffEntry) -> str:
    """One entry in a sentence."""
    if entry.comes_off:
        return f"{entry.title}: comes switched off"
    since = f" since {say_full_date(entry.since)}" if entry.since is not None else ""
    until = f", until {say_full_date(entry.until)}" if entry.until is not None else ""
    over = " (over: it applies again)" if entry.is_over else ""
    reason = f"; {entry.reason}" if entry.reason else ""
    return f"{entry.title}: off{since} for {entry.for_whom}{until}{over}{reason}"
