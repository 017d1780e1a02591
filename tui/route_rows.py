"""A day's route as rows of a list: the timeline, walks nobody has said, her wishes, and what would help."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from checklists.lines.records import Day
from checklists.pages.plain import wrap
from checklists.pages.route import say_too_much, say_whether_any
from checklists.pages.route_layout import at_both_ends, lay_out
from checklists.pages.route_timeline import TimelineRow
from checklists.pages.route_wishes import HELPER_CAUTION, WayOut, say_pin, say_wish
from checklists.pages.walks import say_way_between
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute, PinCost
from checklists.route.pins import HELPER, Pin
from checklists.route.unknown_walks import UnknownWalk
from checklists.walks import why_assumed
from tui.rows import Row, RowKind, Tone

BAR = ("█", "░")


def timeline_rows(rows: Sequence[TimelineRow], width: int) -> Iterator[Row]:
    """Stops and visits can be stood on, and what is fetched after school; what belongs to them is passed over."""
    before = None
    for n, (row, line) in enumerate(lay_out(rows, width, BAR)):
        is_first = row is not before
        before = row
        kind: RowKind = "reading" if is_first and row.kind != "note" else "text"
        yield Row(kind, row.key if is_first else f"{row.key}/{n}", line, tone=_tone(row))


def _tone(row: TimelineRow) -> Tone:
    if row.when == "over" or row.is_over:
        return "quiet"
    return "critical" if row.is_late else "plain"


def way_out_key(n: int) -> str:
    return f"way out/{n}"


def ways_out_rows(day: Day, route: DayRoute, ways: Sequence[WayOut], width: int) -> Iterator[Row]:
    """Where nothing fits: what is too much, then what would make a plan; what can be said here has a digit."""
    for said in (*say_too_much(day, route.problem), say_whether_any([way.words for way in ways])):
        yield from _texts(said, said, width)
    for n, way in enumerate(ways):
        digit = str(n + 1) if way.pin is not None and n < 9 else "-"
        yield from _row(way_out_key(n), f"{digit} {way.words}", way.then, width)
    if any(way.pin is not None and way.pin.how == HELPER and not way.back for way in ways):
        yield from _texts("caution", HELPER_CAUTION, width)


def walk_key(walk: UnknownWalk) -> str:
    return f"walk/{walk.start}/{walk.end}"


def walk_rows(plan: Plan, walks: Sequence[UnknownWalk], width: int) -> Iterator[Row]:
    """Walks that nobody has said and that the route depends on."""
    if walks:
        yield Row("heading", "heading not known", "NOT KNOWN, and the route depends on it", tone="heading")
    for each in walks:
        why = why_assumed(plan, each.start, each.end)
        way = say_way_between(each.start, each.end)
        said = f"{way[:1].upper()}{way[1:]}: {each.assumed} min is assumed ({why}). How many?"
        yield from _row(walk_key(each), said, "", width)


def wish_key(pin: Pin) -> str:
    return f"wish/{pin.kind}/{pin.about}"


def wish_rows(plan: Plan, day: Day, costs: Sequence[PinCost], left_out: Iterable[Pin], width: int) -> Iterator[Row]:
    """The wishes that hold, each with what it costs, then those for good that do not hold on this day."""
    out = tuple(left_out)
    if costs or out:
        yield Row("heading", "heading wishes", "YOUR WISHES: Enter takes one back", tone="heading")
    for each in costs:
        yield from _row(wish_key(each.pin), say_wish(plan, day, each), "", width)
    for pin in out:
        said = f"Left out this day: {say_pin(plan, day, pin)}; Enter: it holds again"
        yield from _row(wish_key(pin), said, "", width)
    if any(each.pin.how == HELPER for each in costs):
        yield from _texts("caution", HELPER_CAUTION, width)


def without_second_caution(rows: Iterable[Row]) -> Iterator[Row]:
    """A caution that stands on the page already is not said again further down."""
    seen: set[str] = set()
    for row in rows:
        if not (row.key.startswith("caution/") and row.key in seen):
            yield row
        seen.add(row.key)


def _row(key: str, left: str, right: str, width: int) -> Iterator[Row]:
    """A row to stand on, with as many below it as it needs."""
    if right:
        first, *more = at_both_ends(left, right, width)
    else:
        first, *more = wrap(left, width=width - 2)
        more = [f"  {each}" for each in more]
    yield Row("reading", key, first)
    for n, each in enumerate(more):
        yield Row("text", f"{key}/{n}", each)


def _texts(key: str, said: str, width: int) -> Iterator[Row]:
    for n, each in enumerate(wrap(said, width=width)):
        yield Row("text", f"{key}/{n}", each, tone="quiet" if key == "caution" else "plain")
