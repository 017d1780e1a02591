"""Plans whose parts do not fit together: every misfit is told, all at once, with the right word beside it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import msgspec
import pytest

from checklists.files.plan_folder import read_plan
from checklists.plan.check import BEFORE_NEXT_PART, problems_of
from checklists.plan.records import (
    Bells,
    Box,
    Break,
    DayOff,
    Habits,
    Item,
    Kit,
    Lesson,
    Need,
    Part,
    Period,
    Plan,
    Room,
    Rotation,
    School,
    SchoolClass,
    Supply,
    Wait,
    Walk,
)
from checklists.rules.read import vocabulary
from checklists.rules.vocabulary import Words
from tests.schools import reference_school

WORDS = Words(
    tags=frozenset({"wet", "cutting"}),
    needs=frozenset({"fine-motor", "left-handed"}),
    avoid=frozenset({"latex"}),
    marks=frozenset({"scissors"}),
)
SCHOOL = School(
    format=1,
    name="Tansy Hollow",
    first_day=date(2026, 8, 31),
    last_day=date(2027, 6, 11),
    bells=(Bells(id="regular", periods=(Period("P1", "8:00", "8:45"), Period("P2", "8:45", "9:30"))),),
    rooms=(Room("12"), Room("14")),
)
CLASS = SchoolClass(id="3-B", grade="3", room="12", students=24)
LESSON = Lesson(id="birds", title="Birds", parts=(Part(title="one", items=(Item(supply="yarn"),)),))
YARN = (Supply(id="yarn", name="yarn"), Supply(id="needle", name="needle", kind="tool"))


def a_plan(**changed: Any) -> Plan:
    """A plan in which everything fits, but for what is changed."""
    fitting: dict[str, Any] = {
        "school": SCHOOL,
        "classes": (CLASS,),
        "timetable": {"Mon": {"P1": "3-B"}},
        "teaching": {"3": ("birds",)},
        "supplies": YARN,
        "boxes": (Box(grade="3"),),
        "kits": (Kit(id="stitching", name="Stitching"),),
        "lessons": (LESSON,),
    }
    return Plan(**{**fitting, **changed})


def a_school(**changed: Any) -> School:
    return msgspec.structs.replace(SCHOOL, **changed)


def a_class(**changed: Any) -> SchoolClass:
    return msgspec.structs.replace(CLASS, **changed)


def a_lesson(**changed: Any) -> Lesson:
    return msgspec.structs.replace(LESSON, **changed)


def bells(*periods: tuple[str, str, str], ident: str = "regular") -> Bells:
    return Bells(id=ident, periods=tuple(Period(*each) for each in periods))


def told(plan: Plan) -> list[str]:
    return [str(each) for each in problems_of(plan, WORDS)]


def test_a_plan_in_which_everything_fits_has_no_problem() -> None:
    assert told(a_plan()) == []


IN_SCHOOL = [
    ({"first_day": date(2027, 8, 31)}, "school.toml: The last day, Fri 11 Jun 2027, is before the first"),
    ({"days_off": (DayOff(date(2026, 11, 27), date(2026, 11, 26)),)}, "It ends on Thu 26 Nov 2026, before it begins."),
    ({"days_off": (DayOff(date(2025, 11, 27)),)}, "Thu 27 Nov 2025 is not within the school year."),
    ({"rotation": Rotation(kind="cycle")}, "rotation: It is a cycle, and its days are missing."),
    (
        {"bells": (bells(("P1", "8:00", "8:45"), ("P1", "8:45", "9:30")),)},
        "bells regular, period P1: It is there already",
    ),
    (
        {"bells": (bells(("P1", "8:45", "8:00"), ("P2", "8:45", "9:30")),)},
        "bells regular, period P1: It ends at 8:00, and begins at 8:45.",
    ),
    (
        {"bells": (bells(("P1", "8:00", "8:46"), ("P2", "8:45", "9:30")),)},
        "bells regular, period P2: It begins before P1 ends.",
    ),
    ({"bells": (SCHOOL.bells[0], bells(ident="regular"))}, "bells regular: It is there already"),
    (
        {"bells": (Bells("regular", SCHOOL.bells[0].periods, (Break("lunch", "12:00", "11:30"),)),)},
        "bells regular, break lunch: It ends at 11:30, and begins at 12:00.",
    ),
    (
        {"bells": (SCHOOL.bells[0], bells(("P 1", "10:00", "10:30"), ident="delayed"))},
        'bells delayed, period P 1: The timetable has no such period. Is "P1" meant?',
    ),
    ({"rooms": (Room("12"), Room("14"), Room("12"))}, "room 12: It is there already"),
    ({"rooms": (Room("12"), Room("14", wing="12"))}, 'room 14: "12" is the name of a room as well as of its wing.'),
    ({"walks": (Walk(between=("store", "41"), minutes=2),)}, 'walk store to 41: There is no room "41".'),
    (
        {"cart": msgspec.structs.replace(SCHOOL.cart, standing={"yran": 3})},
        'There is no supply "yran". Is "yarn" meant?',
    ),
    ({"habits": Habits(filler="bird")}, 'habits: There is no lesson "bird". Is "birds" meant?'),
]


@pytest.mark.parametrize(("changed", "said"), IN_SCHOOL)
def test_what_does_not_fit_in_a_school_is_told(changed: dict[str, Any], said: str) -> None:
    [problem] = told(a_plan(school=a_school(**changed)))
    assert said in problem


def test_days_of_a_cycle_are_there_once_and_the_timetable_uses_them() -> None:
    rotation = Rotation(kind="cycle", days=("A", "B", "A"))
    problems = told(a_plan(school=a_school(rotation=rotation), timetable={"A": {"P1": "3-B"}, "C": {"P1": "3-B"}}))
    assert 'school.toml: rotation: The day "A" is there twice. Each day has its own name.' in problems
    assert any('There is no timetable day "C". Known are A and B.' in each for each in problems)


IN_CLASSES = [
    ({"room": "41"}, 'class 3-B: There is no room "41". Known are 12 and 14.'),
    ({"needs": (Need("fine-moter"),)}, 'class 3-B: There is no need "fine-moter". Is "fine-motor" meant?'),
    ({"needs": (Need("fine-motor", count=25),)}, "fine-motor is needed by 25 of 24 students."),
    ({"avoid": ("latx",)}, 'There is no thing to avoid "latx". Is "latex" meant?'),
    ({"has": ("yran",)}, 'class 3-B: There is no supply "yran". Is "yarn" meant?'),
]


@pytest.mark.parametrize(("changed", "said"), IN_CLASSES)
def test_what_does_not_fit_in_a_class_is_told(changed: dict[str, Any], said: str) -> None:
    [problem] = told(a_plan(classes=(a_class(**changed),)))
    assert problem.startswith("classes.toml: class 3-B: ")
    assert said in problem


def test_a_mark_or_a_supply_can_be_avoided_too() -> None:
    assert told(a_plan(classes=(a_class(avoid=("latex", "scissors", "yarn")),))) == []


IN_TIMETABLE = [
    ({"Mo": {"P1": "3-B"}}, 'timetable: There is no timetable day "Mo". Is "Mon" meant?'),
    ({"Mon": {"P9": "3-B"}}, 'timetable Mon, P9: There is no period "P9". Known are P1 and P2.'),
    ({"Mon": {"P1": "3-B", "P2": "3B"}}, 'timetable Mon, P2: There is no class "3B". Is "3-B" meant?'),
]


@pytest.mark.parametrize(("timetable", "said"), IN_TIMETABLE)
def test_what_does_not_fit_in_the_timetable_is_told(timetable: dict[str, dict[str, str]], said: str) -> None:
    problems = told(a_plan(timetable={"Tue": {"P1": "3-B"}, **timetable}))
    assert problems == [f"classes.toml: {said}"]


def test_a_class_cannot_be_taught_in_two_periods_at_the_same_time() -> None:
    regular = bells(("P1", "8:00", "8:45"), ("early band", "8:30", "9:15"))
    problems = told(a_plan(school=a_school(bells=(regular,)), timetable={"Mon": {"P1": "3-B", "early band": "3-B"}}))
    assert any("timetable Mon, early band: Class 3-B is taught in P1 at the same time." in each for each in problems)


def test_a_class_nobody_visits_is_noted_only() -> None:
    [problem] = problems_of(a_plan(classes=(CLASS, a_class(id="3-K"))), WORDS)
    assert (problem.entry, problem.level) == ("class 3-K", "note")


def test_a_lesson_for_other_grades_and_a_grade_without_a_class_are_noted_only() -> None:
    plan = a_plan(lessons=(a_lesson(grades=("4", "5")),), teaching={"3": ("birds",), "6": ()})
    assert [(each.entry, each.what, each.level) for each in problems_of(plan, WORDS)] == [
        ("teaching, grade 3", "The lesson birds is for grades 4 and 5.", "note"),
        ("teaching, grade 6", "No class has this grade.", "note"),
    ]


OTHERS = [
    ({"classes": (CLASS, CLASS)}, "classes.toml: class 3-B: It is there already"),
    ({"teaching": {"3": ("bird",)}}, 'classes.toml: teaching, grade 3: There is no lesson "bird". Is "birds" meant?'),
    (
        {"supplies": (Supply(id="yarn", name="a"), Supply(id="yarn", name="b"))},
        "supplies.toml: supply yarn: It is there already",
    ),
    (
        {"supplies": (Supply(id="yarn", name="a", instead="yarn"),)},
        "supplies.toml: supply yarn: It is to be replaced by itself.",
    ),
    (
        {"supplies": (Supply(id="yarn", name="a", instead="yarrn"),)},
        'supplies.toml: supply yarn: There is no supply "yarrn". Is "yarn" meant?',
    ),
    ({"kits": (Kit("a", "A"), Kit("a", "A"))}, "kits.toml: kit a: It is there already"),
    ({"kits": (Kit("cart", "C"),)}, 'kits.toml: kit cart: "cart" is the name of something else.'),
    (
        {"kits": (Kit("a", "A", holds={"needles": 9}),)},
        'kits.toml: kit a: There is no supply "needles". Is "needle" meant?',
    ),
    ({"classes": (a_class(id="3/B"),), "timetable": {"Mon": {"P1": "3/B"}}}, 'classes.toml: class 3/B: A "/" cannot'),
    ({"supplies": (*YARN, Supply(id="white/12x18", name="w"))}, 'supplies.toml: supply white/12x18: A "/" cannot'),
    ({"supplies": (*YARN, Supply(id="folder 3-B", name="f"))}, "supplies.toml: supply folder 3-B: Ids that begin with"),
    ({"kits": (Kit("ink/print", "I"),)}, 'kits.toml: kit ink/print: A "/" cannot stand in an id.'),
    ({"kits": (Kit("box-3", "B"),)}, 'kits.toml: kit box-3: Ids that begin with "box-" are kept'),
    ({"kits": (Kit("catch-up 3-B", "C"),)}, 'kits.toml: kit catch-up 3-B: Ids that begin with "catch-up " are kept'),
    ({"kits": (Kit("folder 3-B", "F"),)}, 'kits.toml: kit folder 3-B: Ids that begin with "folder " are kept'),
    ({"boxes": (Box("3"), Box("3"))}, "kits.toml: box 3: It is there already"),
    ({"boxes": (Box("4"),)}, "kits.toml: box 4: No class has this grade."),
    (
        {"boxes": (Box("3", standing={"needles": 9}),)},
        'kits.toml: box 3: There is no supply "needles". Is "needle" meant?',
    ),
]


@pytest.mark.parametrize(("changed", "said"), OTHERS)
def test_what_does_not_fit_elsewhere_is_told(changed: dict[str, Any], said: str) -> None:
    [problem] = told(a_plan(**changed))
    assert problem.startswith(said)


IN_LESSON = [
    ({"kits": ("stiching",)}, 'lesson birds: There is no kit "stiching". Is "stitching" meant?'),
    ({"dry_version": "birds"}, "lesson birds: It is its own dry version."),
    ({"dry_version": "bird"}, 'lesson birds: There is no lesson "bird". Is "birds" meant?'),
    (
        {"extension": (Item(supply="yran"),)},
        'lesson birds, extension, item 1: There is no supply "yran". Is "yarn" meant?',
    ),
    (
        {"parts": (Part("one", items=(Item(supply="yarn"), Item(supply="yran"))),)},
        'lesson birds, part 1, item 2: There is no supply "yran". Is "yarn" meant?',
    ),
    (
        {"parts": (Part("one"), Part("two", short_version=(Item(supply="yarn", into="stiching"),)))},
        'lesson birds, part 2, short version, item 1: There is no container "stiching". Is "stitching" meant?',
    ),
    (
        {"parts": (Part("one", tags=("cuting",)),)},
        'lesson birds, part 1: There is no tag "cuting". Is "cutting" meant?',
    ),
    ({"id": "birds/2"}, 'A "/" cannot stand in an id. Write it as "birds-2".'),
    ({"parts": (Part("one", minutes=30),)}, "It needs at least 35 minutes and is planned for 30."),
    ({"parts": (Part("one", wait=Wait(days=9, at_most_days=2)),)}, "after 9 days at least and 2 at most."),
]


@pytest.mark.parametrize(("changed", "said"), IN_LESSON)
def test_what_does_not_fit_in_a_lesson_is_told(changed: dict[str, Any], said: str) -> None:
    lesson = a_lesson(**changed)
    [problem] = told(a_plan(lessons=(lesson,), teaching={"3": (lesson.id,)}))
    assert problem.startswith(f"lessons/{lesson.id}.toml: lesson birds")
    assert said in problem


@pytest.mark.parametrize("tag", BEFORE_NEXT_PART)
def test_what_becomes_of_the_pieces_before_the_next_part_cannot_be_said_of_the_last_one(tag: str) -> None:
    words = msgspec.structs.replace(WORDS, tags=frozenset(vocabulary().part))
    parts = Part("pinch", tags=("clay", tag)), Part("glaze", tags=("glaze", tag))
    [problem] = problems_of(a_plan(lessons=(a_lesson(parts=parts),)), words)
    assert (problem.entry, problem.level) == ("lesson birds, part 2", "note")
    assert problem.what == f'The tag "{tag}" speaks of the next part, and this is the last one.'


def test_everything_that_does_not_fit_is_told_at_once() -> None:
    plan = a_plan(
        school=a_school(first_day=date(2028, 1, 1)),
        classes=(a_class(room="41", avoid=("latx",)),),
        kits=(Kit("stitching", "S", holds={"needles": 2}),),
        lessons=(a_lesson(kits=("clay",)),),
    )
    assert [each.split(":")[0] for each in told(plan)] == [
        "school.toml",
        "classes.toml",
        "classes.toml",
        "kits.toml",
        "lessons/birds.toml",
    ]


def test_in_a_folder_both_lines_of_a_class_that_is_there_twice_are_named(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    text = (
        '[[classes]]\nid = "3-B"\ngrade = "3"\nroom = "12"\nstudents = 24\n'
        '\n[[classes]]\nid = "3-B"\ngrade = "3"\nroom = "12"\nstudents = 25\n'
    )
    (folder / "classes.toml").write_text(text, encoding="utf-8")
    problems = [str(each) for each in read_plan(folder).problems]
    assert (
        "classes.toml, line 7: class 3-B: It is there already in line 1. Rename one of the two, or take it out."
        in problems
    )
