"""How it stands, as text in one page and as JSON. Class-list numbers and counts only, and no needs."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from checklists.daybook.look_back import LookBack, Standing
from checklists.daybook.said_of_children import say_hanging
from checklists.daybook.state import Case, Loan
from checklists.lines.catch_up import say_owed
from checklists.pages.fields import Fields
from checklists.pages.plain import WIDTH, pad, width_of, wrap
from checklists.plan.records import Plan
from checklists.words import plural, say_date, say_full_date, say_room

Section = tuple[str, list[str]]
"""A heading, and what stands below it."""


def look_back_page(plan: Plan, look: LookBack) -> str:
    """The whole of it for 80 columns."""
    rows = [f"HOW IT STANDS  {say_when(look)}", ""]
    for heading, below in look_back_sections(plan, look, WIDTH - 2):
        rows += [heading.upper() if not heading.startswith("Grade") else heading, *(f"  {row}" for row in below), ""]
    return "\n".join(rows)


def say_when(look: LookBack) -> str:
    """ "at the end of Mon 5 Oct, since Mon 31 Aug"."""
    moment = "at the end of" if look.at_the_end else "when it opens on"
    since = f", since {say_date(look.since)}" if look.since is not None else ""
    return f"{moment} {say_full_date(look.until)}{since}"


def look_back_sections(plan: Plan, look: LookBack, width: int) -> Iterator[Section]:
    """Section by section; what there is nothing of is left out."""
    yield from _grades(look, width)
    owed = [f"{class_id}: {say_owed(each)}" for class_id, each in look.owed.items()]
    missed = [f"{each.class_id} no. {each.number}: {plural(each.parts, 'part')}" for each in look.missed]
    walls = [f"{class_id}: {say_hanging(away)}" for class_id, away in look.on_walls.items()]
    short = [f"{plan.name_of_supply(each)}: {plural(days, 'day')}" for each, days in look.came_short]
    lost = [f"{say_date(each.day)}: {plural(each.visits, 'visit')} planned" for each in look.lost]
    for heading, texts in (
        ("Missed 2 or more", missed),
        ("Owed, by class-list number", owed),
        ("Missing", [_say_case(plan, each) for each in look.cases]),
        ("Lent", [_say_loan(plan, each) for each in look.lent]),
        ("Work on walls", walls),
        ("Came up short, days", short),
        ("Days lost", lost),
    ):
        if texts:
            yield heading, [row for text in texts for row in _hanging(text, width)]


def _hanging(text: str, width: int) -> list[str]:
    """The text in lines, all but the first of them indented."""
    first, *rest = wrap(text, indent=2, width=width)
    return [first.lstrip(), *rest]


def _grades(look: LookBack, width: int) -> Iterator[Section]:
    behind = TOLD if any(each.not_told for each in look.standings) else 0
    for grade, of_grade in groupby(look.standings, key=lambda each: each.grade):
        yield f"Grade {grade}", [standing_row(each, width, behind) for each in of_grade]


TOLD = 12
"""Cells behind a row that say how many visits nobody has told of."""


def standing_row(each: Standing, width: int, behind: int = TOLD) -> str:
    """ "3-B    Burlap Birds     2 of 4   plan -2   grade -2   1 not told"; ``behind``: cells for the last of these."""
    told = f"  {each.not_told} not told" if each.not_told else ""
    part = f"{each.part} of {each.parts}" if each.lesson else ""
    end = f" {part:>7}  plan {signed(each.to_plan):>3}  grade {signed(each.to_furthest):>3}{told:<{behind}}"
    room = max(4, width - width_of(end) - 8)
    lesson = each.lesson or "no lesson left"
    return f"{pad(each.class_id[:7], 7)} {pad(_cut(lesson, room), room)}{end}".rstrip()


def signed(parts: int) -> str:
    """ "-2", "0", "+1"."""
    return f"{parts:+d}" if parts else "0"


def _cut(text: str, width: int) -> str:
    while width_of(text) > width:
        text = text[:-2] + "…"
    return text


def _say_case(plan: Plan, case: Case) -> str:
    told = f", reported to {case.reported_to}" if case.reported_to else ", not reported yet"
    where = f"{say_room(case.room)}, {say_date(case.date)} {case.period} {case.school_class}"
    return f"{case.count} {plan.name_of_supply(case.supply)}: {where}{told}"


def _say_loan(plan: Plan, loan: Loan) -> str:
    to = f" to {loan.to}" if loan.to else ""
    where = f", {say_room(loan.place)}" if loan.place else ""
    what = f"{loan.count} {plan.name_of_supply(loan.supply)}{to}{where}"
    return f"{what}, since {say_date(loan.since)} {loan.time}".rstrip()


# -------------------------------------------------------------------------------------------------------- as JSON


def look_back_as_json(plan: Plan, look: LookBack) -> Fields:
    """The page "look-back".

    ``date``, ``at_the_end`` (of it, else as it opens), ``since`` (null: nothing is told yet). ``classes``, by grade,
    most behind first, have ``class grade lesson part parts planned to_plan to_furthest not_told``; ``to_plan`` and
    ``to_furthest`` (of its grade) are parts, below nothing where it is behind. ``owed`` has ``class lesson part numbers
    count unknown broken since``; ``missed``, those who are owed two or more, ``class number parts``. ``cases lent
    on_walls came_short lost_days`` are what is missing, lent, hanging, short on so many days, and days lost.
    """
    return {
        "format": 1,
        "page": "look-back",
        "date": look.until.isoformat(),
        "at_the_end": look.at_the_end,
        "since": look.since.isoformat() if look.since is not None else None,
        "classes": [_standing_fields(each) for each in look.standings],
        "owed": [
            {
                "class": class_id,
                "lesson": each.lesson,
                "part": each.part,
                "numbers": list(each.numbers),
                "count": each.count,
                "unknown": each.unknown,
                "broken": each.broken,
                "since": each.since.isoformat(),
            }
            for class_id, owed in look.owed.items()
            for each in owed
        ],
        "missed": [{"class": each.class_id, "number": each.number, "parts": each.parts} for each in look.missed],
        "cases": [_say_case(plan, each) for each in look.cases],
        "lent": [
            {"supply": each.supply, "count": each.count, "to": each.to, "since": each.since.isoformat()}
            for each in look.lent
        ],
        "on_walls": [{"class": class_id, "count": each.count} for class_id, each in look.on_walls.items()],
        "came_short": [{"supply": supply, "days": days} for supply, days in look.came_short],
        "lost_days": [{"date": each.day.isoformat(), "visits": each.visits} for each in look.lost],
    }


def _standing_fields(each: Standing) -> Fields:
    return {
        "class": each.class_id,
        "grade": each.grade,
        "lesson": each.lesson,
        "part": each.part,
        "parts": each.parts,
        "planned": each.planned,
        "to_plan": each.to_plan,
        "to_furthest": each.to_furthest,
        "not_told": each.not_told,
    }
