"""Every surprise of a real week, told by command: undone it is as if it had never been said, and told by a program that
dies before it has put its papers away it is the same as told in peace.

What each situation must do to the list, with numbers, is in the other modules of this folder; the numbers T01 … are
theirs. The school is the reference school; common practice, no source.
"""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import Any

import pytest
from msgspec import Struct

from checklists.book import Book
from checklists.daybook.line_states import LineState, state_of
from checklists.daybook.state import State
from checklists.lines.records import Day
from tests.commandline.running import trundle
from tests.days import MONDAY, NEXT_DAY_A, TUESDAY, opened
from tests.schools import reference_school, reference_supplies

DAYS = (MONDAY, TUESDAY, NEXT_DAY_A)
STOCK = {"on_hand": 400, "counted": MONDAY, "pack": 50}


class Situation(Struct, frozen=True):
    """What is typed, each on its date (Mon 5 Oct unless --date says otherwise), at ten past three."""

    typed: tuple[str, ...]
    school: dict[str, Any] = {}


def a_situation(*typed: str, **school: Any) -> Situation:
    return Situation(typed, school)


STOCKED = [{**each, **STOCK} if each["kind"] == "paper" else each for each in reference_supplies()]
SITUATIONS = {
    "T01 snow day": a_situation("tick 11 12 13", "change --no-school"),
    "T02 snow day, letters fixed": a_situation("tick 11 12", "change --no-school", lost_day="fixed"),
    "T03 the office names the day": a_situation("tick 11 12", "change --day C"),
    "T04 two-hour delay": a_situation("tick 11 12 13", "change --bells 'two hours later'"),
    "T13 trip, two stay": a_situation("change --away 3-B --with 3-B:3-K=2", "report 3-K --as-planned", "close"),
    "T15 new child": a_situation("joined 3-B"),
    "T16 a child leaves": a_situation("left 3-K 7"),
    "T18 absent again": a_situation("report 3-B --missed 4", "close", "report 3-B --missed 4 --date 2026-10-14"),
    "T20 nothing told": a_situation("tick 11", "close", "report 3-B --missed unknown --as-planned"),
    "T21 substitute": a_situation("change --substitute yes", "close", school={"habits": {"filler": "leaf-rubbings"}}),
    "T23 goes on": a_situation("report 3-K --reached 3 --missed 9", "close"),
    "T26 out for half": a_situation("report 3-B --half 6 --not-done 9", "close"),
    "T30 one more came": a_situation("report 3-B --as-planned --students 25"),
    "T31 left overnight": a_situation("report 2-R --as-planned --stands printing=11", "close"),
    "T32 one short": a_situation("report 3-B --as-planned --count scissors=13/12", "close"),
    "T33 found": a_situation(
        "report 3-B --as-planned --count scissors=13/12", "close", 'answer "scissors missing" found'
    ),
    "T35 dry glue sticks": a_situation("tick box-5/glue-stick --short 17", supplies=reference_supplies()),
    "T39 delivered in part": a_situation(
        'order "white paper 9x12" 12', 'delivered "white paper 9x12" 8', "orders", supplies=STOCKED
    ),
    "T47 broke in the kiln": a_situation("report 4-D --as-planned", "close", "broken 4-D 6,19 --date 2026-10-14"),
    "T49 lesson swapped": a_situation("tick 20 21", "change --lesson V5=leaf-rubbings"),
    "T52 half": a_situation("report 3-B --outcome half", "close"),
    "T54 not closed": a_situation("report V1 --as-planned", "report V5 --outcome not-taught"),
    "T56 three wrong ticks": a_situation("tick 11", "tick 12", "tick 13"),
    "T59 corrected later": a_situation(
        "report 3-B --as-planned", "close", "tick 11 --date 2026-10-14", "report 3-B --missed 5"
    ),
    "T63 work on the wall": a_situation("hanging 3-B 12 --until 2026-10-30"),
    "a class away": a_situation("change --away 1-P,2-R"),
    "filled for the week": a_situation("change --fill cycle", "tick box-1 --all"),
    "taken out by count": a_situation("count yarn-ball 30 --in box-3", "low glue-stick"),
}


def say(data: Path, typed: str) -> None:
    words = shlex.split(typed)
    when = () if "--date" in words else ("--date", MONDAY.isoformat())
    ran = trundle(*words, *when, "--at", "15:10", data=data)
    assert ran.status in (0, 1) and not ran.err, f"{typed}: {ran.err}"


def lists(data: Path) -> list[tuple[Day, dict[str, LineState], State]]:
    """The lists of today, tomorrow and the next day A with what is packed, and that the chain of closings holds."""
    with Book.open(data, write=False, today=MONDAY) as book:
        assert book.check_chain() == ()
        days = [book.day(day) for day in DAYS]
        return [
            (day, {line.key: state_of(line, book.marks(day.date)) for line in day.lines}, book.opening(day.date))
            for day in days
        ]


@pytest.mark.parametrize("name", SITUATIONS)
def test_undone_it_is_as_if_it_had_never_been_said(tmp_path: Path, name: str) -> None:
    data = reference_school(tmp_path, **SITUATIONS[name].school)
    before = lists(data)
    for typed in SITUATIONS[name].typed:
        say(data, typed)
    with opened(data) as book:
        for day in (NEXT_DAY_A, MONDAY):
            while book.undo(day) is not None:
                pass
    assert lists(data) == before


@pytest.mark.parametrize("name", SITUATIONS)
def test_told_by_programs_that_die_before_they_fold_it_is_the_same(
    tmp_path: Path, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    in_peace = reference_school(tmp_path / "peace", **SITUATIONS[name].school)
    dying = reference_school(tmp_path / "dying", **SITUATIONS[name].school)
    for typed in SITUATIONS[name].typed:
        say(in_peace, typed)
    with monkeypatch.context() as killed:
        killed.setattr(Book, "fold", lambda _: None)  # a killed program leaves its journals as they are
        for typed in SITUATIONS[name].typed:
            say(dying, typed)
    assert lists(dying) == lists(in_peace)
