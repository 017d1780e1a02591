"""The lesson types: all of them, one in full, and what a lesson made from one brought with it; as text and as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from checklists.lesson_types import LessonType, Started
from checklists.lesson_types.shipped import shipped_supplies
from checklists.lesson_types.shown import CHILDREN, TABLES, PartShown
from checklists.lines.records import Line
from checklists.pages.fields import Fields
from checklists.pages.plain import pad, wrap
from checklists.plan.records import Part, grade_number
from checklists.words import join_words, plural

LABELS = (
    'Look at the label before children use it: it should say "conforms to ASTM D4236", show no caution and not be for '
    "adults only. Then say so with the supply. Local rules, the nurse and the building's safety person decide."
)
"""Source: 15 USC 1277; 16 CFR 1500.14(b)(8), as the built-in rules about labels have it."""


def say_grades(grades: Iterable[str]) -> str:
    """ "PK-5", "3-5", "K, 2"."""
    numbered = sorted(grades, key=grade_number)
    runs = [list(run) for _, run in groupby(enumerate(numbered), lambda each: grade_number(each[1]) - each[0])]
    return ", ".join(run[0][1] if len(run) == 1 else f"{run[0][1]}-{run[-1][1]}" for run in runs)


def types_page(types: Sequence[LessonType]) -> str:
    """Every type with what the children make."""
    rows = ["LESSON TYPES", ""]
    for each in types:
        parts = plural(len(each.lesson.parts), "part")
        rows += wrap(
            f"{each.title}, {parts}, grades {say_grades(each.grades)}.", first=f"  {pad(each.id, 16)} ", indent=19
        )
        rows += wrap(f"{each.description}.", indent=19)
    rows += [
        "",
        *wrap(f"One in full: trundle lesson-types --show {types[0].id}. A lesson of yours: --start and its id."),
    ]
    return "\n".join(rows) + "\n"


# ------------------------------------------------------------------------------------------------------ one in full


def type_page(kind: LessonType, grade: str, parts: Sequence[PartShown]) -> str:
    """A type with everything it takes, part by part."""
    head = f"{kind.title.upper()}  {kind.id}"
    counted = f"For {CHILDREN} children of grade {grade} at {TABLES} tables, in a room with a sink, spares included."
    said = f"{kind.description}. {plural(len(parts), 'part')}, grades {say_grades(kind.grades)}. {counted}"
    rows = [head, *wrap(said), ""]
    for number, shown in enumerate(parts, 1):
        rows += [*_part_rows(number, shown), ""]
    rows += _label_rows(kind, grade)
    rows += wrap(f"trundle lesson-types --start {kind.id} makes a lesson of yours of it.")
    return "\n".join(rows) + "\n"


def _part_rows(number: int, shown: PartShown) -> Iterator[str]:
    part = shown.part
    yield from wrap(
        f"{_capital(part.title)}, {part.minutes} min, at least {part.least_minutes}", first=f"{number}  ", indent=3
    )
    for line in shown.lines:
        yield from wrap(say_line(line), first=f"  {line.need:>4}  ", indent=8)
    for what, minutes in shown.tasks:
        yield from wrap(f"{_capital(what)}, {minutes} min", first="  to do: ", indent=9)
    if shown.days_after:
        yield from wrap(f"{plural(shown.days_after, 'day')} later at the earliest", first="  next part: ", indent=13)
    yield from wrap(say_catch_up(part), first="  who missed it: ", indent=17)
    for caution in shown.cautions:
        yield from wrap(caution, first="  ! ", indent=4)


def say_line(line: Line) -> str:
    """ "blunt metal needle, large eye: critical, counted"."""
    marks = [word for word, holds in (("critical", line.critical), ("counted", line.counted)) if holds]
    return f"{line.name}: {', '.join(marks)}" if marks else line.name


def say_catch_up(part: Part) -> str:
    if part.short_version:
        names = [shipped_supplies()[item.supply].name for item in part.short_version]
        return f"short version with {join_words(names)}"
    return "nothing to make up" if part.catch_up == "none" else "makes it up in full"


def say_labels(kind: LessonType, grade: str) -> str:
    """Which labels to look at, and for what; nothing where the type has no art material."""
    names = [shipped_supplies()[each].name for each in kind.labels_for(grade)]
    return f"{_capital(join_words(names))}. {LABELS}" if names else ""


def _label_rows(kind: LessonType, grade: str) -> list[str]:
    said = say_labels(kind, grade)
    return wrap(said, first="Labels: ", indent=8) if said else []


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


# ------------------------------------------------------------------------------------------------------ made hers


def started_page(kind: LessonType, started: Started, grade: str) -> str:
    """What is new in her plan."""
    lesson = started.lesson
    parts = plural(len(lesson.parts), "part")
    said = f"{lesson.title} is a lesson of yours now: {parts}, grades {say_grades(lesson.grades)}."
    rows = wrap(f"{said} Its id is {lesson.id}.")
    names = [each.name for each in started.supplies]
    if names:
        rows += ["", f"New in your catalogue, taken to be there in plenty ({len(names)})"]
        rows += [row for name in names for row in wrap(name, indent=2)]
    if started.kits:
        rows += wrap(f"New kit: {join_words(each.name for each in started.kits)}.")
    rows += ["", *_label_rows(kind, grade)] if kind.labels_for(grade) else []
    rows += ["", *wrap("On the screen u takes it back. Which grade does it when: Tab, Set up and change.")]
    return "\n".join(rows) + "\n"


# -------------------------------------------------------------------------------------------------------- as JSON


def types_as_json(types: Sequence[LessonType]) -> Fields:
    """The page "lesson-types": ``types``, each ``id title description grades parts``."""
    return {"format": 1, "page": "lesson-types", "types": [_type_fields(each) for each in types]}


def type_as_json(kind: LessonType, grade: str, parts: Sequence[PartShown]) -> Fields:
    """The page "lesson-type": ``id title description grades parts`` with ``grade children tables labels taught``.

    Each of ``taught`` is a part: ``title minutes least_minutes tags lines tasks cautions days_after catch_up``; a
    line is ``supply name need critical counted``, a task ``what minutes``.
    """
    return {
        "format": 1,
        "page": "lesson-type",
        **_type_fields(kind),
        "grade": grade,
        "children": CHILDREN,
        "tables": TABLES,
        "labels": list(kind.labels_for(grade)),
        "taught": [_part_fields(each) for each in parts],
    }


def started_as_json(kind: LessonType, started: Started, grade: str) -> Fields:
    """The page "lesson-started": ``type lesson title grades parts supplies kits labels``; what is new by id."""
    lesson = started.lesson
    return {
        "format": 1,
        "page": "lesson-started",
        "type": kind.id,
        "lesson": lesson.id,
        "title": lesson.title,
        "grades": list(lesson.grades),
        "parts": len(lesson.parts),
        "supplies": [each.id for each in started.supplies],
        "kits": [each.id for each in started.kits],
        "labels": list(kind.labels_for(grade)),
    }


def _type_fields(kind: LessonType) -> Fields:
    return {
        "id": kind.id,
        "title": kind.title,
        "description": kind.description,
        "grades": list(kind.grades),
        "parts": len(kind.lesson.parts),
    }


def _part_fields(shown: PartShown) -> Fields:
    part = shown.part
    return {
        "title": part.title,
        "minutes": part.minutes,
        "least_minutes": part.least_minutes,
        "tags": list(part.tags),
        "lines": [
            {
                "supply": line.supply,
                "name": line.name,
                "need": line.need,
                "critical": line.critical,
                "counted": line.counted,
            }
            for line in shown.lines
        ],
        "tasks": [{"what": what, "minutes": minutes} for what, minutes in shown.tasks],
        "cautions": list(shown.cautions),
        "days_after": shown.days_after,
        "catch_up": say_catch_up(part),
    }
