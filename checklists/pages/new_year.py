"""What a new school year would do, class by class, as text and as JSON. Needs of children are never told here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from checklists.calendar import calendar_of
from checklists.daybook.rollover import STARTS_AFRESH, STAYS
from checklists.pages.fields import Fields
from checklists.pages.plain import WIDTH, pad, wrap
from checklists.plan.next_year import Move, NextYear
from checklists.plan.records import DayOff
from checklists.words import join_words, plural, say_date, say_full_date, say_room


def new_year_page(year: NextYear, not_closed: Iterable[date], days_left: int, done: str = "") -> str:
    """What would happen or, where ``done`` says where the year before is kept, what did."""
    rows = [f"THE SCHOOL YEAR {_span(year)}", *wrap(say_year(year))]
    rows += [row for each in warnings(year, not_closed, days_left) for row in wrap(each, first="! ", indent=2)]
    rows += ["", "CLASSES", *class_rows(year), ""]
    rows += ["STAYS", *_listed(STAYS), "", "STARTS AFRESH", *_listed(STARTS_AFRESH), ""]
    rows += wrap((done and say_done(done)) or "Nothing is changed yet. Leave out --try to begin the year.")
    return "\n".join(rows) + "\n"


def say_done(kept: str) -> str:
    """What was written, where the files before are, and how to go back."""
    return (
        f"Done. school.toml and classes.toml are written anew, without remarks; those of last year are in {kept}."
        " The days of last year stay in the daybook as they are."
        " Until something is told in the new year, trundle new-year --undo takes it back."
    )


def say_year(year: NextYear) -> str:
    """ "Mon 30 Aug 2027 to Thu 15 Jun 2028, 190 school days, 4 days off or breaks"."""
    days = len(calendar_of(year.school).planned)
    off = plural(len(year.school.days_off), "day off or break", "days off or breaks")
    return f"{_span(year)}: {plural(days, 'school day')}, {off if year.school.days_off else 'no days off noted'}."


def _span(year: NextYear) -> str:
    first, last = year.school.first_day, year.school.last_day
    return f"{say_full_date(first)} to {say_full_date(last)}"


def warnings(year: NextYear, not_closed: Iterable[date], days_left: int) -> Iterator[str]:
    """What to look at before the year is begun; ``days_left`` are school days of the present one."""
    if days_left:
        yield f"This school year has {plural(days_left, 'school day')} left: they have no lists once the next is begun."
    still = list(not_closed)
    if still:
        what = f"{join_words(say_date(day) for day in still[-3:])} {'is' if len(still) == 1 else 'are'} not closed"
        yield f"{what}: close first, or what was used then is not taken off the stock."
    if not year.school.days_off:
        yield "No day off is noted: every Monday to Friday counts as a school day. Add them with --off."
    if year.unplaced:
        yield f"{join_words(year.unplaced)}: no class one grade up has this letter; those children are in no class."


def class_rows(year: NextYear, page: int = WIDTH) -> list[str]:
    """Class by class whose children it has, and who leaves the school."""
    width = max((len(each.class_id) for each in year.moves), default=0)
    room = max((len(say_room(each.room)) for each in year.moves), default=0)
    rows = [f"  {pad(each.class_id, width)}  {pad(say_room(each.room), room)}  {say_move(each)}" for each in year.moves]
    if year.finished:
        rows += wrap(f"The children of {join_words(year.finished)} leave the school.", first="  ", indent=2, width=page)
    note = "What is noted of needs and of what to avoid goes with the children; tables, adults, timetable stay."
    return [*rows, *wrap(note, first="  ", indent=2, width=page)]


def say_move(move: Move) -> str:
    """ "24 children of 2-B", "about 24 children, not known yet: there is no class 2-Z"."""
    children = f"{move.students} child{'' if move.students == 1 else 'ren'}"
    if move.of:
        return f"{children} of {move.of}"
    return f"{children}, not known yet" + (f": there is no class {move.wanted}" if move.wanted else "")


def _listed(words: Iterable[str]) -> list[str]:
    return [row for each in words for row in wrap(each, first="  - ", indent=4)]


# -------------------------------------------------------------------------------------------------------- as JSON


def new_year_as_json(year: NextYear, not_closed: Iterable[date], kept: str) -> Fields:
    """The page "new-year".

    ``begun`` says whether it was done; ``first_day last_day school_days``; ``days_off`` have ``first last reason``;
    ``classes`` have ``class room from students wanted`` (``from`` empty: not known yet); ``finished`` and ``unplaced``
    are classes; ``stays`` and ``starts_afresh`` in words; ``not_closed`` are dates; ``kept`` is the folder of the files
    of the year before, empty where nothing was changed.
    """
    return {
        "format": 1,
        "page": "new-year",
        "begun": bool(kept),
        "first_day": year.school.first_day.isoformat(),
        "last_day": year.school.last_day.isoformat(),
        "school_days": len(calendar_of(year.school).planned),
        "days_off": [_day_off_fields(each) for each in year.school.days_off],
        "classes": [
            {
                "class": each.class_id,
                "room": each.room,
                "from": each.of,
                "students": each.students,
                "wanted": each.wanted,
            }
            for each in year.moves
        ],
        "finished": list(year.finished),
        "unplaced": list(year.unplaced),
        "stays": list(STAYS),
        "starts_afresh": list(STARTS_AFRESH),
        "not_closed": [day.isoformat() for day in not_closed],
        "kept": kept,
    }


def _day_off_fields(each: DayOff) -> Fields:
    return {"first": each.first.isoformat(), "last": (each.last or each.first).isoformat(), "reason": each.reason}
