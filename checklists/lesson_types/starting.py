"""A lesson of her own made from a type: what enters her plan with it, and what of hers is used instead."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from checklists.lesson_types.shipped import SAMPLE, LessonType, lesson_type, shipped_kits, shipped_supplies
from checklists.lesson_types.swapping import with_other_supplies
from checklists.plan.new_ids import new_id
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Kit, Lesson, Supply
from checklists.words import clean

LONGEST_TITLE = 400


class Started(Struct, frozen=True):
    """Her plan with the new lesson, and what else is new in it."""

    files: PlanFiles
    lesson: Lesson
    supplies: tuple[Supply, ...]
    """What entered her catalogue."""
    kits: tuple[Kit, ...]


def start_from(files: PlanFiles, type_id: str, *, title: str = "", grade: str = "") -> tuple[PlanFiles, str]:
    """Her plan with a lesson of her own made from a type, and the lesson's id. Raises KeyError for an unknown type."""
    started = what_enters(files, type_id, title=title, grade=grade)
    return started.files, started.lesson.id


def what_enters(files: PlanFiles, type_id: str, *, title: str = "", grade: str = "") -> Started:
    """The same, with what entered beside the lesson.

    A supply or kit that she has, by its id or under the same name, is used as it is; the others come in with plenty on
    hand. ``grade`` chooses what that grade takes; without one the lesson is for every grade of the type.
    """
    kind = lesson_type(type_id)
    title = " ".join(clean(title).split())[:LONGEST_TITLE] or kind.title
    ident = new_id(title, [each.id for each in files.lessons], kind.id)
    of_type = kind.lesson_for(grade)
    sample = replace(shipped_supplies()[SAMPLE], id=f"sample-{ident}", name=f"sample: {title}"[:LONGEST_TITLE])
    known = {**shipped_supplies(), SAMPLE: sample}

    kit_of = {each: _kit_of_hers(files, shipped_kits()[each]) for each in of_type.kits}
    new_kits = [shipped_kits()[each] for each, hers in kit_of.items() if hers is None]
    listed = [item.supply for item in of_type.items_from(1)]
    needed = dict.fromkeys((*listed, *(held for kit in new_kits for held in kit.holds)))
    hers_of = {each: _supply_of_hers(files, known[each]) or known[each].id for each in needed}

    has = {each.id for each in files.supplies}
    entering = tuple(replace(known[each], on_hand="plenty") for each, used in hers_of.items() if used not in has)
    kits = tuple(replace(kit, holds={hers_of[held]: count for held, count in kit.holds.items()}) for kit in new_kits)
    lesson = replace(
        with_other_supplies(of_type, hers_of, {each: hers for each, hers in kit_of.items() if hers}),
        id=ident,
        title=title,
        grades=_grades(kind, grade),
    )
    plan = replace(
        files,
        supplies=(*files.supplies, *entering),
        kits=replace(files.kits, kits=(*files.kits.kits, *kits)),
        lessons=tuple(sorted((*files.lessons, lesson), key=lambda each: each.id)),
    )
    return Started(plan, lesson, entering, kits)


def _grades(kind: LessonType, grade: str) -> tuple[str, ...]:
    """The grades that take the same as ``grade``; those of the type where none was said."""
    if not grade:
        return kind.grades
    taken = kind.for_grade.get(grade, {})
    alike = tuple(each for each in kind.grades if kind.for_grade.get(each, {}) == taken)
    return alike if grade in alike else (grade, *alike)


def _supply_of_hers(files: PlanFiles, wanted: Supply) -> str | None:
    return _of_hers(((each.id, each.name) for each in files.supplies), wanted.id, wanted.name)


def _kit_of_hers(files: PlanFiles, wanted: Kit) -> str | None:
    """Hers may be called "Clay" or "Clay kit"."""
    named = ((each.id, _without_kit(each.name)) for each in files.kits.kits)
    return _of_hers(named, wanted.id, _without_kit(wanted.name))


def _of_hers(named: Iterable[tuple[str, str]], ident: str, name: str) -> str | None:
    """The id of what she has: the same id first, else the first of the same name."""
    by_id = list(named)
    if any(each == ident for each, _ in by_id):
        return ident
    return next((each for each, called in by_id if _alike(called) == _alike(name)), None)


def _alike(name: str) -> str:
    return " ".join(name.casefold().split())


def _without_kit(name: str) -> str:
    return " ".join(word for word in name.split() if word.casefold() != "kit")
