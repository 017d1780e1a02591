"""What happens to single children and their work, by class-list number: from entries to how things stand at once.

A child joins or leaves, is excused, a pot breaks, work hangs on a wall. What follows is known from the moment it is
said: the day's own list is made from the opening state with this in it, and so is its closing.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from msgspec import structs

from checklists.class_places import parts_done, progress_in, with_class_places
from checklists.daybook import entries as book
from checklists.daybook.marks import Marks
from checklists.daybook.owing import in_short_version, with_owed, without_number
from checklists.daybook.said_of_children import say_hanging
from checklists.daybook.state import Away, Carried, Owed, State, Unfinished
from checklists.daybook.testing import with_testing
from checklists.lines.catch_up import children_in, how_made_up, part_of
from checklists.lines.containers import folder_of
from checklists.lines.records import Visit
from checklists.plan.records import Plan
from checklists.rules.read import vocabulary
from checklists.words import plural

KIT: Final = "catch-up not handed out"


def as_told(plan: Plan, day: date, marks: Marks, opening: State) -> State:
    """The opening state with what was said on the day of classes, single children and their work, and of testing."""
    opening = with_class_places(with_testing(opening, marks.testing), marks.class_places)
    state = _without_those_gone(plan, opening)
    for entry in marks.children:
        match entry:
            case book.Joined():
                state = _joined(plan, day, entry, state)
            case book.Left():
                state = _left(plan, day, entry, state)
            case book.Excused():
                state = _owing(state, entry.class_id, _settled(state.owed.get(entry.class_id, ()), entry))
            case book.Broken():
                broken = Owed(entry.lesson, entry.part, day, entry.numbers, entry.count, broken=True)
                state = _owing(state, entry.class_id, with_owed(state.owed.get(entry.class_id, ()), broken))
            case book.WorkAway():
                state = _work_away(plan, day, entry, state)
    return _without_kits_of_nobody(opening, _without_those_gone(plan, state))


def _without_those_gone(plan: Plan, state: State) -> State:
    """Whoever has left a class is owed nothing, however that was told."""
    for class_id, owed in state.owed.items():
        class_ = plan.class_by_id.get(class_id)
        for number in class_.left if class_ is not None else ():
            if any(number in each.numbers for each in owed):
                state = _owing(state, class_id, without_number(state.owed.get(class_id, ()), number))
    return state


def _without_kits_of_nobody(opening: State, state: State) -> State:
    """The matter of a kit that was not handed out, for those who are still owed something; none: there is none."""
    if state.owed == opening.owed or not any(each.kind == KIT for each in state.carried):
        return state
    carried: list[Carried] = []
    for each in state.carried:
        now = children_in(state.owed.get(each.for_class, ()))
        before = children_in(opening.owed.get(each.for_class, ()))
        if each.kind == KIT and now < before:
            each = structs.replace(each, what=each.what.replace(_for_so_many(before), _for_so_many(now)))
        if each.kind != KIT or each.for_class in state.owed:
            carried.append(each)
    return structs.replace(state, carried=tuple(carried))


def _for_so_many(children: int) -> str:
    return f" for {plural(children, 'child')} "


def _owing(state: State, class_id: str, owed: tuple[Owed, ...]) -> State:
    others = {each: left for each, left in state.owed.items() if each != class_id}
    return structs.replace(state, owed=others | {class_id: owed} if owed else others)


def _carrying(state: State, fresh: Carried) -> State:
    return structs.replace(state, carried=(*(each for each in state.carried if each.key != fresh.key), fresh))


# ------------------------------------------------------------------------------------------- joining and leaving


def _joined(plan: Plan, day: date, entry: book.Joined, state: State) -> State:
    owed = state.owed.get(entry.class_id, ())
    for lesson, part in parts_so_far(plan, state, entry.class_id):
        owed = with_owed(owed, Owed(lesson, part, day, (entry.number,), new=True))
    if _has_folder(plan, state, entry.class_id):
        what = f"No. {entry.number} is new in {entry.class_id}: 1 more label for {folder_of(entry.class_id)}"
        key = f"new child/{entry.class_id}/{entry.number}"
        state = _carrying(state, Carried(key, "new child", what, day, for_class=entry.class_id))
    return _owing(state, entry.class_id, owed)


def parts_so_far(plan: Plan, state: State, class_id: str) -> Iterator[tuple[str, int]]:
    """Lesson and number of the parts of its present lesson that a class has behind it and that can be made up."""
    progress = progress_in(plan, state, class_id)
    if progress is None:
        return
    for number in parts_done(progress):
        part = part_of(plan, progress.lesson, number)
        if part is not None and part.catch_up != "none":
            yield progress.lesson, number


def _has_folder(plan: Plan, state: State, class_id: str) -> bool:
    """Whether work of the class waits in its folder: it is in the middle of a lesson."""
    progress = progress_in(plan, state, class_id)
    return progress is not None and (bool(parts_done(progress)) or progress.again)


def _left(plan: Plan, day: date, entry: book.Left, state: State) -> State:
    class_id, number = entry.class_id, entry.number
    state = _owing(state, class_id, without_number(state.owed.get(class_id, ()), number))
    unfinished = tuple(kept for each in state.unfinished.get(class_id, ()) for kept in _without(each, number))
    others = {each: left for each, left in state.unfinished.items() if each != class_id}
    state = structs.replace(state, unfinished=others | {class_id: unfinished} if unfinished else others)
    new = f"new child/{class_id}/{number}"
    state = structs.replace(state, carried=tuple(each for each in state.carried if each.key != new))
    if not _has_folder(plan, state, class_id):
        return state
    what = f"No. {number} has left {class_id}: take its work out of {folder_of(class_id)}"
    return _carrying(state, Carried(f"gone/{class_id}/{number}", "left the class", what, day, for_class=class_id))


def _without(unfinished: Unfinished, number: int) -> Iterator[Unfinished]:
    if number not in unfinished.numbers:
        yield unfinished
    elif unfinished.count > 1:
        numbers = tuple(each for each in unfinished.numbers if each != number)
        yield structs.replace(unfinished, count=unfinished.count - 1, numbers=numbers)


# ------------------------------------------------------------------------------------- excused, short, at home


def _settled(owed: tuple[Owed, ...], entry: book.Excused) -> tuple[Owed, ...]:
    if entry.how == "short version":
        return in_short_version(owed, entry.number, entry.lesson)
    return without_number(owed, entry.number, entry.lesson)


def owed_before_settling(plan: Plan, day: date, marks: Marks, opening: State) -> dict[str, tuple[Owed, ...]]:
    """What each class is owed with everything said on the day, but nothing decided about it."""
    undecided = [entry for entry in marks.children if not isinstance(entry, book.Excused)]
    return as_told(plan, day, structs.replace(marks, children=undecided), opening).owed


def without_those_settled(owed: tuple[Owed, ...], class_id: str, marks: Marks) -> tuple[Owed, ...]:
    """What is owed at the end of a day, without what was settled on it: also where the child was absent that day."""
    for entry in marks.children:
        if isinstance(entry, book.Excused) and entry.class_id == class_id:
            owed = _settled(owed, entry)
    return owed


# ------------------------------------------------------------------------------------------------- broken pieces


def is_held(plan: Plan, visit: Visit, owed: Owed) -> bool:
    """Whether something owed waits for another visit, one in which its medium is out, so that it was not along."""
    part = part_of(plan, owed.lesson, owed.part)
    return part is not None and how_made_up(plan, owed, part, visit, vocabulary().media) == "held"


def made_last(plan: Plan, state: State, class_id: str) -> tuple[str, int] | None:
    """Lesson and part in which a class made its newest pieces that can break: of clay, else whatever it did last."""
    progress = progress_in(plan, state, class_id)
    if progress is None:
        return None
    done = [(progress.lesson, number) for number in sorted(parts_done(progress), reverse=True)]
    for lesson in reversed(progress.lessons_done):
        known = plan.lesson_by_id.get(lesson)
        done += [(lesson, number) for number in range(len(known.parts) if known is not None else 0, 0, -1)]
    of_clay = (step for step in done if "clay" in _tags(plan, step))
    return next(of_clay, next(iter(done), None))


def _tags(plan: Plan, step: tuple[str, int]) -> tuple[str, ...]:
    part = part_of(plan, *step)
    return part.tags if part is not None else ()


# ---------------------------------------------------------------------------------------- work out of the folder


def _work_away(plan: Plan, day: date, entry: book.WorkAway, state: State) -> State:
    key = hanging_key(entry.class_id)
    others = {each: away for each, away in state.work_away.items() if each != entry.class_id}
    state = structs.replace(state, work_away=others, carried=tuple(each for each in state.carried if each.key != key))
    if not entry.count:
        return state
    progress = progress_in(plan, state, entry.class_id)
    needed = _has_folder(plan, state, entry.class_id) and progress is not None
    away = Away(entry.count, day, entry.until, progress.lesson if needed and progress is not None else "")
    state = structs.replace(state, work_away=others | {entry.class_id: away})
    if entry.until is None:
        return state
    what = f"{say_hanging(away)} of {entry.class_id}: take down, back into {folder_of(entry.class_id)}"
    return _carrying(state, Carried(key, "work away", what, day, not_before=entry.until, count=entry.count))


def hanging_key(class_id: str) -> str:
    """The key of the matter that work of a class is to be taken down."""
    return f"hanging/{class_id}"


def work_away_after(marks: Marks, opening: State) -> dict[str, Away]:
    """Work that is still away when the day ends: what was taken down is back in its folder."""
    back = {*marks.seen_to, *marks.let_go}
    return {class_id: away for class_id, away in opening.work_away.items() if hanging_key(class_id) not in back}
