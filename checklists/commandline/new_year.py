"""The command that begins another school year, tries it, or takes it back."""

from __future__ import annotations

from pathlib import Path

from checklists.calendar import school_days_left
from checklists.commandline.day_values import read_days_off
from checklists.commandline.opening import open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.pages.new_year import new_year_as_json, new_year_page
from checklists.plan.class_notes import classes_of
from checklists.plan.next_year import CannotBegin, next_year
from checklists.plan.records import DayOff
from checklists.words import clean, say_full_date

MOST_BYTES = 100_000


def begin_new_year(request: Request) -> int:
    """Say what the next school year does and, without `--try`, begin it; with `--undo` take that back."""
    if request.take_back:
        return _take_back(request)
    if request.first is None or request.last is None:
        raise NotUnderstood("Say both days: trundle new-year --first 2027-08-30 --last 2028-06-15 --try.")
    off = (*request.off_days, *(_days_off_in(request.days_off) if request.days_off else ()))
    with open_book(request, write=not request.trial) as book:
        not_closed, left = book.days_not_closed(), school_days_left(book.plan.school, request.now.date())
        try:
            year = next_year(book.plan.school, classes_of(book.plan), request.first, request.last, off)
        except CannotBegin as wrong:
            raise NotUnderstood(str(wrong)) from None
        kept = "" if request.trial else book.begin_year(year.school, year.classes)
        if request.json:
            say_json(new_year_as_json(year, not_closed, kept))
        else:
            say(new_year_page(year, not_closed, left, kept))
        return 0


def _take_back(request: Request) -> int:
    with open_book(request, write=True) as book:
        book.take_year_back()
        school = book.plan.school
        said = f"The school year from {say_full_date(school.first_day)} is in use again."
        if request.json:
            say_json({"format": 1, "page": "new-year", "begun": False, "did": [said]})
        else:
            say(f"{said}\n")
        return 0


def _days_off_in(name: str) -> tuple[DayOff, ...]:
    """Days off from a text file, one a line as behind --off. Lines that begin with # are remarks."""
    path = Path(name).expanduser()
    try:
        if path.stat().st_size > MOST_BYTES:
            raise NotUnderstood(f"--days-off: {clean(name)} is far too large for a list of days off.")
        lines = path.read_text("utf-8-sig").splitlines()
    except OSError as error:
        why = error.strerror or "no reason told"
        raise NotUnderstood(f"--days-off: {clean(name)} cannot be read ({why}).") from None
    except UnicodeDecodeError:
        raise NotUnderstood(f"--days-off: {clean(name)} is not saved as UTF-8 text.") from None
    found = []
    for number, line in enumerate(lines, 1):
        text = line.strip()
        if text and not text.startswith("#"):
            try:
                found.append(read_days_off(text))
            except ValueError as problem:
                raise NotUnderstood(f"--days-off: {clean(name)}, line {number}: {clean(text)} {problem}.") from None
    return tuple(found)
