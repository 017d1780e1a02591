"""From the last closing of a school year to the first opening of the next: what stays, what starts afresh."""

from __future__ import annotations

from datetime import date

from msgspec import structs

from checklists.daybook.state import Carried, State
from checklists.lines.containers import CATCH_UP_KIT

OF_CLASSES = ("work away", "new child", "left the class", "catch-up not handed out", "preparation")
"""Kinds of carried matters that are about a class's children and lessons, also where no class is named in them."""
STAYS = (
    "supplies, stock and what containers hold",
    "kits, lessons, rooms and rules",
    "open cases of missing sharps, and counts that are pending",
    "what is lent, what is on order, where containers stand",
)
STARTS_AFRESH = (
    "where each class is: the first lesson of its grade",
    "who missed what, catch-up kits, who is not done, work on walls",
    "what nobody has told about last year's visits",
    "cautions shown, preparations done, lost days, announced days, what came up short how often",
)


def new_year(state: State, first_day: date) -> State:
    """How things stand when a school year begins, from how the one before left them.

    What was announced for days of the new year already, its testing for one, stays.
    """
    return structs.replace(
        state,
        contents={key: held for key, held in state.contents.items() if not key.startswith(CATCH_UP_KIT)},
        progress={},
        unsure={},
        owed={},
        unfinished={},
        work_away={},
        carried=tuple(each for each in state.carried if not _is_of_a_class(each)),
        prepared=(),
        cautioned=(),
        lost_days=tuple(day for day in state.lost_days if day >= first_day),
        announced={day: name for day, name in state.announced.items() if date.fromisoformat(day) >= first_day},
        testing=tuple(each for each in state.testing if each.last >= first_day),
        came_short={},
    )


def _is_of_a_class(carried: Carried) -> bool:
    return bool(carried.for_class) or carried.kind in OF_CLASSES
