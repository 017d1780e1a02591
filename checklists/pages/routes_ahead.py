"""The routes of the coming days, and what would help over the year, as plain text and as fields for scripts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checklists.lines.containers import name_of
from checklists.lines.records import Visit
from checklists.pages.fields import Fields
from checklists.pages.morning import named_day
from checklists.pages.plain import pad, ruled, two_ends, wrap
from checklists.pages.route import WHAT_TAKES_ROOM, say_changes
from checklists.plan.records import Plan
from checklists.route.coming import ComingRoute
from checklists.route.smallest_changes import too_much_at
from checklists.route.told import RouteStop, RouteWay
from checklists.route.what_if import AS_IT_IS, Sums, Tried, WhatIf, YearOfRoutes
from checklists.words import clock, join_words, plural, say_date, say_room

Section = tuple[str, tuple[str, ...]]
"""A heading, and what is said under it."""
COLUMNS = ("no way", "late", "stops", "ahead")
_LABEL, _FIGURE = 28, 6
YEAR_TAKES = "Going through the year takes some seconds."


def coming_page(plan: Plan, routes: Sequence[ComingRoute]) -> str:
    """The coming days, 80 columns wide."""
    parts = [two_ends(f"ROUTES  {say_days_of(routes)}", say_how_many(routes)), "=" * 80]
    for title, rows in coming_sections(plan, routes):
        parts += ["", ruled(title), *(line for row in rows for line in wrap(row, first="  ", indent=4))]
    parts += ["", *(line for row in say_well(routes) for line in wrap(row))]
    open_one = next((each.day for each in routes if not each.is_well), None)
    if open_one is not None:
        parts.append(f"All of one day: trundle route --date {open_one.date.isoformat()}")
    return "\n".join(parts) + "\n"


def say_days_of(routes: Sequence[ComingRoute]) -> str:
    """ "Mon 5 Oct to Fri 9 Oct"."""
    first, last = routes[0].day.date, routes[-1].day.date
    return say_date(first) if first == last else f"{say_date(first)} to {say_date(last)}"


def say_how_many(routes: Sequence[ComingRoute]) -> str:
    """ "6 days with visits, 2 to see to"."""
    open_ones = sum(not each.is_well for each in routes)
    return f"{plural(len(routes), 'day')} with visits, {open_ones or 'none'} to see to"


def say_well(routes: Sequence[ComingRoute]) -> Iterator[str]:
    """How many days there is nothing to say of."""
    well = sum(each.is_well for each in routes)
    if well:
        days = "every one of them" if well == len(routes) else plural(well, "other day")
        yield f"All is well on {days}: everything rides, nothing is late, no stop is needed but in the breaks."


def coming_sections(plan: Plan, routes: Sequence[ComingRoute]) -> tuple[Section, ...]:
    """Each day on which there is something to see to."""
    return tuple((named_day(each.day), tuple(_rows_of(plan, each))) for each in routes if not each.is_well)


def _rows_of(plan: Plan, coming: ComingRoute) -> Iterator[str]:
    """What does not fit, then what is to be done or is late in the order of the day."""
    visits = coming.day.visits
    if not coming.fits:
        yield from _no_way(plan, coming)
    rows = [(stop.before, _leave_ahead(plan, visits, stop)) for stop in coming.leaving_ahead]
    rows += [(stop.before, _by_store(visits, stop)) for stop in coming.stops]
    rows += [(way.visit, _late(visits, way)) for way in coming.late]
    yield from (row for _, row in sorted(rows, key=lambda each: each[0]))


def _by_store(visits: Sequence[Visit], stop: RouteStop) -> str:
    return f"Go by the store between {_of(visits[stop.before - 1])} and {_of(visits[stop.before])}: {stop.minutes} min."


def _late(visits: Sequence[Visit], way: RouteWay) -> str:
    """ "V2 1-P begins 1 min late, unless V1 K-M ends at 8:44.": what is to be done about it."""
    before, late = visits[way.visit - 1], -way.spare
    by = ", by the store" if way.by_store else ""
    return (
        f"{_of(visits[way.visit])} begins {late} min late{by}, unless {_of(before)} ends at {clock(before.end - late)}."
    )


def _of(visit: Visit) -> str:
    return f"{visit.name} {visit.class_id}"


def _no_way(plan: Plan, coming: ComingRoute) -> Iterator[str]:
    day, problem = coming.day, coming.route.problem
    over = too_much_at(problem)
    what = "Not everything fits on the cart"
    if over is not None:
        what += f": {_of(day.visits[over[0]])} alone needs {plural(over[1], 'half slot')} more"
    yield f"{what}."
    help_ = coming.would_help
    if help_ is None:
        yield "No single small change would help: give something back."
    else:
        yield f"What would help: {' '.join(say_changes(plan, day, problem, (help_,)))}"


def _leave_ahead(plan: Plan, visits: Sequence[Visit], stop: RouteStop) -> str:
    """ "Before school leave Box 1 in Room 9 and Box 2 in Room 11: 10 min there and back."."""
    when = f"In the break after {_of(visits[stop.before - 1])}" if stop.before else "Before school"
    each = (
        f"{join_words(name_of(plan, one) for one in trip.containers)} in {say_room(trip.room)}" for trip in stop.trips
    )
    return f"{when} leave {join_words(each)}: {sum(trip.minutes for trip in stop.trips)} min there and back."


# ------------------------------------------------------------------------------------------------------- the year


def year_page(year: YearOfRoutes) -> str:
    """What would help over the year, 80 columns wide."""
    parts = [two_ends(f"ROUTES  {say_date(year.first)} to {say_date(year.last)}", say_days(year)), "=" * 80, ""]
    parts += year_table(year)
    for row in (*year_rows(year), ""):
        parts += wrap(row, indent=2) if row else [""]
    return "\n".join(parts).rstrip() + "\n"


def say_days(year: YearOfRoutes) -> str:
    """ "150 days with visits"."""
    return f"{plural(year.days, 'day')} with visits"


def year_table(year: YearOfRoutes) -> tuple[str, ...]:
    """A row for each change with its sums, 52 columns wide."""
    head = pad("", _LABEL) + "".join(f"{each:>{_FIGURE}}" for each in COLUMNS)
    return (head, *(_table_row(year, each) for each in year.tried))


def _table_row(year: YearOfRoutes, tried: Tried) -> str:
    sums = tried.sums
    figures = (sums.not_fitting, sums.late, sums.stops, sums.ahead)
    return pad(_row_label(year, tried.what), _LABEL) + "".join(f"{each:>{_FIGURE}}" for each in figures)


def _row_label(year: YearOfRoutes, what: WhatIf) -> str:
    if what.before_school:
        return f"{what.before_school} min more before school"
    if what.between:
        return f"{what.between} min more between bells"
    slots = plural(max(0, year.half_slots + what.half_slots), "half slot")
    return f"{slots}, as it is" if what == AS_IT_IS else slots


def year_rows(year: YearOfRoutes) -> Iterator[str]:
    """What each change does, in words, and what the columns mean."""
    yield ""
    for each in year.tried:
        if each.what != AS_IT_IS:
            yield f"{_say_change(year, each.what)}: {_say_more(each.more)}."
    yield ""
    yield (
        "No way: days on which not everything can be taken along; they count in no other column. Late: minutes, all"
        " visits together. Stops: by the store outside a break. Ahead: boxes and kits left in a room before their"
        f" visit. Of the half slots {WHAT_TAKES_ROOM}."
    )


def _say_change(year: YearOfRoutes, what: WhatIf) -> str:
    if what.before_school:
        return f"{what.before_school} min more before school for leaving things ahead"
    if what.between:
        return f"{what.between} min more between any two classes"
    more = "more" if what.half_slots > 0 else "fewer"
    return f"{plural(abs(what.half_slots), 'half slot')} {more} ({_row_label(year, what)})"


def _say_more(more: Sums) -> str:
    said = []
    if more.not_fitting:
        said.append(f"{_more_or_fewer(more.not_fitting, 'day')} with no way")
    if more.late:
        said.append(f"{abs(more.late)} min {'more' if more.late > 0 else 'less'} late")
    if more.stops:
        said.append(_more_or_fewer(more.stops, "stop"))
    if more.ahead:
        said.append(f"{abs(more.ahead)} {'more' if more.ahead > 0 else 'fewer'} left ahead")
    return ", ".join(said) or "changes nothing"


def _more_or_fewer(count: int, noun: str) -> str:
    return f"{plural(abs(count), noun)} {'more' if count > 0 else 'fewer'}"


# -------------------------------------------------------------------------------------------------------- as JSON


def coming_as_json(routes: Sequence[ComingRoute]) -> Fields:
    """The page "routes ahead": ``well`` counts the days with nothing to see to, ``days`` has the others.

    A day: ``date day fits late stops ahead help``; of ``late`` ``visit minutes by_store``, of ``stops`` ``after before
    minutes``, of ``ahead`` ``after room containers minutes`` (``after`` is a visit, or null before school). ``help`` is
    null, or ``kind container session by`` as in the page "route". Visits by key.
    """
    return {
        "format": 1,
        "page": "routes ahead",
        "date": routes[0].day.date.isoformat(),
        "last": routes[-1].day.date.isoformat(),
        "well": sum(each.is_well for each in routes),
        "days": [_day_fields(each) for each in routes if not each.is_well],
    }


def _day_fields(coming: ComingRoute) -> Fields:
    keys = [visit.key for visit in coming.day.visits]
    help_ = coming.would_help
    return {
        "date": coming.day.date.isoformat(),
        "day": coming.day.day_name,
        "fits": coming.fits,
        "late": [{"visit": keys[way.visit], "minutes": -way.spare, "by_store": way.by_store} for way in coming.late],
        "stops": [
            {"after": keys[stop.before - 1], "before": keys[stop.before], "minutes": stop.minutes}
            for stop in coming.stops
        ],
        "ahead": [
            {
                "after": keys[stop.before - 1] if stop.before else None,
                "room": trip.room,
                "containers": list(trip.containers),
                "minutes": trip.minutes,
            }
            for stop in coming.leaving_ahead
            for trip in stop.trips
        ],
        "help": None
        if help_ is None
        else {"kind": help_.kind, "container": help_.container, "session": help_.session, "by": help_.by},
    }


def year_as_json(year: YearOfRoutes) -> Fields:
    """The page "routes over the year": ``days`` with visits from ``date`` to ``last``, ``half_slots`` of the cart.

    ``tried``: ``half_slots before_school between`` (what is more; all 0: as it is), ``late stops ahead not_fitting``
    and the same in ``more``, than as it is, over the days that fit both ways.
    """
    return {
        "format": 1,
        "page": "routes over the year",
        "date": year.first.isoformat(),
        "last": year.last.isoformat(),
        "days": year.days,
        "half_slots": year.half_slots,
        "tried": [
            {
                "half_slots": each.what.half_slots,
                "before_school": each.what.before_school,
                "between": each.what.between,
                **_sums_fields(each.sums),
                "more": _sums_fields(each.more),
            }
            for each in year.tried
        ],
    }


def _sums_fields(sums: Sums) -> Fields:
    return {"late": sums.late, "stops": sums.stops, "ahead": sums.ahead, "not_fitting": sums.not_fitting}
