"""Walks in words: how long one is, who says so, and which ones the day's route asks for."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from checklists.lines.records import Day
from checklists.pages.fields import Fields
from checklists.pages.plain import wrap
from checklists.plan.records import Plan
from checklists.route.unknown_walks import UnknownWalk
from checklists.walks import is_said, say_place, walk_between, why_assumed
from checklists.words import say_date


class WalkKnown(Struct, frozen=True):
    """A walk of a usual day: its minutes, and where they come from if nobody has said them."""

    start: str
    end: str
    minutes: int
    assumed: str = ""
    """ "rooms of one wing"; empty: she has said it."""

    @property
    def told(self) -> str:
        """ "1 min, assumed (rooms of one wing)"."""
        return f"{self.minutes} min" + (f", assumed ({self.assumed})" if self.assumed else ", said by you")


def walk_known(plan: Plan, start: str, end: str) -> WalkKnown:
    """How long a walk is on a usual day."""
    assumed = "" if is_said(plan, start, end) else why_assumed(plan, start, end)
    return WalkKnown(start, end, walk_between(plan, start, end), assumed)


def say_way_between(start: str, end: str) -> str:
    """ "Room 9 to Room 12", "the store to Room 4"."""
    return f"{say_place(start)} to {say_place(end)}"


def walks_page(day: Day, plan: Plan, asked: Iterable[UnknownWalk]) -> str:
    """The walks that nobody has said and that matter to the day's route, with what to type for one."""
    asked = tuple(asked)
    if not asked:
        return f"{say_date(day.date)}: no walk that nobody has said makes a difference to the route.\n"
    rows = wrap(f"{say_date(day.date)}: the route depends on how long these walks are. Nobody has said so yet.")
    for each in asked:
        known = walk_known(plan, each.start, each.end)
        rows.append(f"  {say_way_between(each.start, each.end)}: {known.told}")
    first = asked[0]
    rows.append(f"Say one like this: trundle walk {first.start} {first.end} {max(1, first.assumed)}")
    return "\n".join(rows) + "\n"


def walk_fields(walk: WalkKnown) -> Fields:
    """``from``, ``to``, ``minutes`` of a usual day, ``said`` (by her, or else assumed), ``why`` it is assumed so."""
    return {
        "from": walk.start,
        "to": walk.end,
        "minutes": walk.minutes,
        "said": not walk.assumed,
        "why": walk.assumed,
    }


def walk_as_json(day: Day, walks: Iterable[WalkKnown], before: WalkKnown | None, follows: Iterable[str]) -> Fields:
    """The page "walk": ``walks`` as they are now; ``before`` as the one said was until then, else null; ``follows`` in
    words.
    """
    return {
        "format": 1,
        "page": "walk",
        "date": day.date.isoformat(),
        "walks": [walk_fields(each) for each in walks],
        "before": walk_fields(before) if before is not None else None,
        "follows": list(follows),
    }
