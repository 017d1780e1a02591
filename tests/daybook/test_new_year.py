"""What a school year leaves to the next one. (Situation T12 of a real year; common practice, no source.)"""

from __future__ import annotations

from datetime import date

from checklists.daybook import state
from checklists.daybook.rollover import new_year
from checklists.daybook.state import (
    Away,
    Carried,
    Case,
    Loan,
    Order,
    Owed,
    Place,
    Progress,
    State,
    Unfinished,
    Unsure,
)

JUNE, FIRST_DAY, OCTOBER = date(2027, 6, 10), date(2027, 8, 30), date(2027, 10, 4)
KEPT = State(
    contents={"box-3": {"yarn-ball": 38}, "cart": {"scissors": 29}},
    places={"printing": Place("11", JUNE, "P5")},
    on_hand={"yarn-ball": 140},
    counted={"yarn-ball": JUNE},
    levels={"glue-stick": "low"},
    orders=(Order("white-12x18", 12, 4, JUNE),),
    carried=(
        Carried("put right/printing", "not put right", "Printing kit: rinse", JUNE, container="printing"),
        Carried("count/2027-06-10/P1 3-B/scissors", "count pending", "13 scissors", JUNE, "cart", "scissors", 13),
        Carried("short/box-3/yarn-ball", "short", "Box 3: 4 yarn balls short", JUNE, "box-3", "yarn-ball", 4),
    ),
    cases=(Case("case", "scissors", 1, JUNE, "12", "P1", "3-B", 13, 12),),
    lent=(Loan("loan", "scissors", 5, JUNE, "9:00", to="the library"),),
    announced={OCTOBER.isoformat(): "B"},
    testing=(state.TestedDays(("3",), OCTOBER, OCTOBER),),
    standing_seen={"box-3": JUNE},
)


def test_what_she_has_and_what_is_missing_or_out_stays() -> None:
    assert new_year(KEPT, FIRST_DAY) == KEPT


def test_where_classes_were_and_what_they_are_owed_starts_afresh() -> None:
    of_last_year = State(
        **{name: getattr(KEPT, name) for name in KEPT.__struct_fields__}
        | {
            "contents": {**KEPT.contents, "catch-up 3-B": {"yarn-ball": 2}},
            "carried": (
                *KEPT.carried,
                Carried("catch-up/3-B", "catch-up not handed out", "Catch-up kit", JUNE, "box-3", for_class="3-B"),
                Carried("hanging/3-B", "work away", "12 pieces hang", JUNE, count=12),
                Carried("new child/3-B/25", "new child", "No. 25 is new", JUNE, for_class="3-B"),
                Carried("prep/3-B/birds/1/0", "preparation", "wind yarn", JUNE, for_class="3-B"),
            ),
            "progress": {"3-B": Progress("birds", 3)},
            "unsure": {"3-B": (Unsure(JUNE, "P1 3-B", "birds", 3),)},
            "owed": {"3-B": (Owed("birds", 2, JUNE, (4, 11)),)},
            "unfinished": {"3-B": (Unfinished("birds", 2, 3, JUNE),)},
            "work_away": {"3-B": Away(12, JUNE)},
            "prepared": ("prep/3-B/birds/3/0",),
            "cautioned": ("caution/3-B/birds/needles",),
            "lost_days": (JUNE,),
            "announced": {JUNE.isoformat(): "A", **KEPT.announced},
            "testing": (state.TestedDays(("3",), JUNE, JUNE), *KEPT.testing),
            "came_short": {"yarn-ball": 7},
        }
    )
    assert new_year(of_last_year, FIRST_DAY) == KEPT
