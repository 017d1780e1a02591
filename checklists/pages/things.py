"""Where things are, what is missing and what is left of it: plain text and fields for scripts."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.daybook.said_of_cases import say_case
from checklists.daybook.state import Case
from checklists.daybook.what_is_left import Left
from checklists.daybook.whereabouts import NOT_SAID, Whereabouts
from checklists.lines.records import Day
from checklists.pages.fields import Fields
from checklists.pages.plain import ruled, two_ends, wrap
from checklists.plan.records import Plan
from checklists.words import say_date

_TITLES = {True: "NOT WHERE IT LIVES", False: "AT THE STORE"}


def where_page(plan: Plan, day: Day, things: Iterable[Whereabouts]) -> str:
    """Each thing with its last known place, what is elsewhere first."""
    every = tuple(things)
    parts = [two_ends(plan.school.name, say_date(day.date))]
    for is_elsewhere, title in _TITLES.items():
        rows = [each for each in every if each.is_elsewhere == is_elsewhere]
        if rows:
            parts += ["", ruled(title), *(row for each in rows for row in wrap(each.words, first="  ", indent=6))]
    parts += ["", 'say where one is: trundle where "printing kit" --is 11 (a room, or store)']
    return "\n".join(parts) + "\n"


def where_as_json(day: Day, things: Iterable[Whereabouts]) -> Fields:
    """The page "where": ``things``, each ``key kind name place where since elsewhere``; ``place`` is store, a room, or
    empty; ``since`` in words, empty where nobody has said."""
    return {"format": 1, "page": "where", "date": day.date.isoformat(), "things": [where_fields(one) for one in things]}


def where_fields(thing: Whereabouts) -> Fields:
    return {
        "key": thing.key,
        "kind": thing.kind,
        "name": thing.name,
        "place": thing.place,
        "where": thing.where,
        "since": "" if thing.since == NOT_SAID else thing.since,
        "elsewhere": thing.is_elsewhere,
    }


def cases_page(plan: Plan, day: Day, cases: Iterable[Case]) -> str:
    """What is missing, the oldest first."""
    rows = [row for each in cases for row in wrap(say_case(plan, each), first="  ", indent=4)]
    ways = 'found: trundle case scissors --found "a desk in Room 12" --by "Mr Hale"' if rows else ""
    parts = [two_ends(plan.school.name, say_date(day.date)), "", *(rows or ["Nothing is missing."])]
    return "\n".join([*parts, *(["", ways] if ways else [])]) + "\n"


def cases_as_json(plan: Plan, day: Day, cases: Iterable[Case]) -> Fields:
    """The page "case": ``cases``."""
    return {"format": 1, "page": "case", "date": day.date.isoformat(), "cases": [case_fields(plan, c) for c in cases]}


def case_fields(plan: Plan, case: Case) -> Fields:
    """``key supply name count date room period class out back reported_to reported_when text``."""
    return {
        "key": case.key,
        "supply": case.supply,
        "name": plan.name_of_supply(case.supply),
        "count": case.count,
        "date": case.date.isoformat(),
        "room": case.room,
        "period": case.period,
        "class": case.school_class,
        "out": case.out,
        "back": case.back,
        "reported_to": case.reported_to,
        "reported_when": case.reported_when,
        "text": say_case(plan, case),
    }


def left_fields(left: Left) -> Fields:
    """``visit name needs left short share``: what one visit still to come needs, and how many there are for it."""
    return {
        "visit": left.visit.key,
        "name": left.visit.name,
        "needs": left.needs,
        "left": left.there,
        "short": left.short,
        "share": left.share,
    }
