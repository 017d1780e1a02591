"""The facts of a visit: every word that rules may ask of one comes from a real one, and no built-in rule is dead."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from msgspec import structs

from checklists.daybook.entries import Guests
from checklists.daybook.state import Owed, State
from checklists.lines.facts import Surroundings, facts_of
from checklists.lines.records import Step, Visit
from checklists.plan.records import (
    Bells,
    Kit,
    Lesson,
    Part,
    Plan,
    Room,
    School,
    SchoolClass,
)
from checklists.rules.read import read_builtin_rules, vocabulary
from checklists.rules.records import VisitFacts
from tests.rules.builtin_situations import SITUATIONS
from tests.schools import MONDAY

WORDS = vocabulary()
ROOM = Room("12", sink=True, carpet=True, projector=True, drying_places=30)
VISIT = Visit(
    key="P3 3-B",
    number=3,
    class_id="3-B",
    grade="3",
    period="P3",
    room="12",
    start=575,
    end=620,
    students=24,
    about=False,
    tables=6,
    steps=(Step("birds", 2),),
    walk_before=1,
    gap_before=60,
    gap_after=5,
    swap_minutes_before=6,
    is_first=False,
    is_last=False,
)
NEXT = structs.replace(VISIT, key="P4 3-K", class_id="3-K", steps=(Step("owls", 1),))
EARLIER, LATER = date(2026, 10, 1), date(2026, 10, 15)


def facts(
    *,
    room: dict[str, Any] | None = None,
    part: int = 2,
    adults: int = 2,
    adults_today: int = 2,
    room_of_visit: str = "12",
    owed: tuple[Owed, ...] = (),
    around: Surroundings | None = None,
    **visit: Any,
) -> VisitFacts:
    """The second of three parts of Birds with 3-B (24 children, 6 tables, two adults) on Mon 5 Oct in its own room."""
    parts = tuple(Part(title, tags=("stitching",)) for title in ("draw", "stitch", "finish"))
    plan = Plan(
        school=School(
            1,
            "Any",
            date(2026, 8, 31),
            date(2027, 6, 11),
            (Bells("regular"),),
            rooms=(structs.replace(ROOM, **(room or {})),),
        ),
        classes=tuple(SchoolClass(each, "3", "12", 24, adults=adults) for each in ("3-B", "3-K")),
        timetable={},
        teaching={},
        supplies=(),
        boxes=(),
        kits=(Kit("stitching", "Stitching", reset_minutes=10),),
        lessons=(
            Lesson("birds", "Birds", parts, kits=("stitching",)),
            Lesson("owls", "Owls", parts[:1], kits=("stitching",)),
        ),
    )
    state = State(owed={"3-B": owed})
    taught = structs.replace(VISIT, room=room_of_visit, adults=adults_today, **visit)
    return facts_of(plan, state, taught, Step(taught.steps[0].lesson, part), MONDAY, around or Surroundings())


SAID: dict[str, VisitFacts] = {
    "hard floor": facts(room={"carpet": False}),
    "kit shared next": facts(around=Surroundings(next_visit=NEXT)),
    "rides on cart": facts(room={"drying_places": 12}),
    "no mess": facts(around=Surroundings(no_mess=True)),
    "guests": facts(guests=(Guests("3-K", "3-B", 2),)),
    "fewer adults": facts(adults=2, adults_today=1),
    "sink": facts(),
    "no sink": facts(room={"sink": False}),
    "carpet": facts(),
    "projector": facts(),
    "no projector": facts(room={"projector": False}),
    "single desks": facts(tables=24),
    "away from own room": facts(room_of_visit="14"),
    "first part": facts(part=1),
    "last part": facts(part=3),
    "several parts": facts(),
    "first visit": facts(is_first=True),
    "last visit": facts(is_last=True),
    "short period": facts(end=575 + 30),
    "no time to swap": facts(gap_before=5),
    "same kit next": facts(around=Surroundings(next_visit=NEXT)),
    "drying short": facts(room={"drying_places": 12}),
    "too early": facts(around=Surroundings(not_before=LATER)),
    "too late": facts(around=Surroundings(not_after=EARLIER)),
    "next too early": facts(around=Surroundings(next_date=EARLIER, next_not_before=LATER)),
    "next too late": facts(around=Surroundings(next_date=LATER, next_not_after=EARLIER)),
    "substitute": facts(substitute=True),
    "one adult": facts(adults=1, adults_today=1),
    "absences unknown": facts(owed=(Owed("birds", 1, EARLIER, unknown=True),)),
    "owed": facts(owed=(Owed("birds", 1, EARLIER, numbers=(4,)),)),
}
"""Tag of a visit -> a visit of which it is said."""


@pytest.mark.parametrize("tag", WORDS.visit)
def test_every_tag_of_a_visit_is_said_of_some_visit(tag: str) -> None:
    assert tag in SAID[tag].tags


def test_nothing_is_said_of_a_visit_that_the_vocabulary_does_not_know() -> None:
    known = {*WORDS.visit, *WORDS.part}
    assert {tag for each in SAID.values() for tag in each.tags} <= known
    assert {number for each in SAID.values() for number in each.numbers} == set(WORDS.numbers)
    assert {word for each in SAID.values() for word in each.words} == set(WORDS.words)


@pytest.mark.parametrize(
    ("tables", "single"), [(6, False), (23, False), (24, True), (28, True)], ids=lambda each: str(each)
)
def test_children_who_are_no_more_than_the_tables_sit_at_single_desks(tables: int, single: bool) -> None:
    # Common practice, no source: a room of single desks has one for every child.
    assert ("single desks" in facts(tables=tables).tags) is single


@pytest.mark.parametrize("ident", [rule.id for rule in read_builtin_rules()])
def test_no_built_in_rule_is_dead(ident: str) -> None:
    """What makes it apply is made of words that a lesson, a class or the facts of a visit can bring."""
    applies, _ = SITUATIONS[ident]
    marks = {mark for held in applies.items.values() for mark in held}
    assert applies.tags <= {*WORDS.part, *WORDS.visit}
    assert set(applies.numbers) <= {*WORDS.numbers}
    assert set(applies.needs) <= {*WORDS.needs}
    assert applies.avoid <= {*WORDS.avoid}
    assert marks <= {*WORDS.marks, "paper", "material", "tool", "sample", "sheet"}
