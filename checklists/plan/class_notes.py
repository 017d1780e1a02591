"""Notes about a class: what it avoids, needs, has, and how many it is. From one file of classes to the next.

Children are class-list numbers and counts. When one leaves, the numbers of the others do not shift, so that what is
written down about them stays theirs. What cannot be noted raises ``CannotNote``, in words for a teacher.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping

from msgspec import Struct, structs

from checklists.plan.records import Classes, Need, Plan, SchoolClass
from checklists.words import plural

MOST_STUDENTS = 400
MOST_WITH_A_NEED = 60
MOST_ADULTS = 6
_SIZE = re.compile(r"^(?P<about>about|a|~)?\s*(?P<count>\d{1,4})$", re.IGNORECASE)


class CannotNote(ValueError):  # noqa: N818 - read as a sentence where it is caught
    """Something that cannot be so; the message says why, and what can be."""


class Known(Struct, frozen=True):
    """A thing a class can avoid, need or have: the word in the file, and what it is called."""

    word: str
    name: str
    meaning: str = ""


# ------------------------------------------------------------------------------------------------------- changing


def classes_of(plan: Plan) -> Classes:
    """The file of classes as the plan has it."""
    return Classes(classes=plan.every_class, timetable=plan.timetable, teaching=plan.teaching)


def avoid(classes: Classes, class_id: str, word: str) -> Classes:
    """The class must not come near this from now on."""
    return _changed(classes, class_id, lambda each: structs.replace(each, avoid=_with(each.avoid, word)))


def avoid_no_more(classes: Classes, class_id: str, word: str) -> Classes:
    return _changed(classes, class_id, lambda each: structs.replace(each, avoid=_without(each.avoid, word)))


def need(classes: Classes, class_id: str, word: str, count: int) -> Classes:
    """So many children need it; 0: nobody any more. At which tables they sit stays as it was."""
    if not 0 <= count <= MOST_WITH_A_NEED:
        raise CannotNote(f"{count} children with one need are too many: 0 to {MOST_WITH_A_NEED}.")

    def change(each: SchoolClass) -> SchoolClass:
        if each.headcount and count > each.headcount:
            raise CannotNote(f"{each.id} has {plural(each.headcount, 'child')}: {count} cannot need it.")
        if not count:
            return structs.replace(each, needs=tuple(old for old in each.needs if old.need != word))
        before = next((old for old in each.needs if old.need == word), None)
        if before is None:
            return structs.replace(each, needs=(*each.needs, Need(word, count)))
        new = structs.replace(before, count=count)
        return structs.replace(each, needs=tuple(new if old is before else old for old in each.needs))

    return _changed(classes, class_id, change)


def have(classes: Classes, class_id: str, supply: str) -> Classes:
    """The room or the children have this of their own: only a back-up goes along."""
    return _changed(classes, class_id, lambda each: structs.replace(each, has=_with(each.has, supply)))


def have_no_more(classes: Classes, class_id: str, supply: str) -> Classes:
    return _changed(classes, class_id, lambda each: structs.replace(each, has=_without(each.has, supply)))


def size(classes: Classes, class_id: str, students: int | str) -> Classes:
    """How many children the class has: 25, or "about 25" while nobody knows for sure."""
    return _changed(classes, class_id, lambda each: structs.replace(each, students=students))


def leave(classes: Classes, class_id: str, number: int) -> Classes:
    """The child with this class-list number has left: one fewer, and the number is not given again."""

    def change(each: SchoolClass) -> SchoolClass:
        if number in each.left:
            raise CannotNote(f"Number {number} of {each.id} left before.")
        if not 1 <= number <= (MOST_STUDENTS if each.is_about else last_number(each)):
            raise CannotNote(f"{each.id} has no number {number}: its list goes to {last_number(each)}.")
        gone = tuple(sorted((*each.left, number)))
        return structs.replace(each, left=gone, students=_sized(each, each.headcount - 1))

    return _changed(classes, class_id, change)


def come_back(classes: Classes, class_id: str, number: int) -> Classes:
    """The child with this number has not left after all."""

    def change(each: SchoolClass) -> SchoolClass:
        if number not in each.left:
            raise CannotNote(f"Number {number} of {each.id} has not left.")
        still = tuple(old for old in each.left if old != number)
        return structs.replace(each, left=still, students=_sized(each, each.headcount + 1))

    return _changed(classes, class_id, change)


def adults(classes: Classes, class_id: str, count: int) -> Classes:
    """How many adults are usually in the room, the teacher among them."""
    if not 1 <= count <= MOST_ADULTS:
        raise CannotNote(f"Adults in the room, you among them: 1 to {MOST_ADULTS}.")
    return _changed(classes, class_id, lambda each: structs.replace(each, adults=count))


def put_back(classes: Classes, before: SchoolClass) -> Classes:
    """The class as it was."""
    return _changed(classes, before.id, lambda _: before)


def _changed(classes: Classes, class_id: str, change: Callable[[SchoolClass], SchoolClass]) -> Classes:
    if class_id not in {each.id for each in classes.classes}:
        raise CannotNote(f"There is no class {class_id} in the plan.")
    return structs.replace(
        classes, classes=tuple(change(each) if each.id == class_id else each for each in classes.classes)
    )


def _with(words: tuple[str, ...], word: str) -> tuple[str, ...]:
    return words if word in words else (*words, word)


def _without(words: tuple[str, ...], word: str) -> tuple[str, ...]:
    return tuple(each for each in words if each != word)


def _sized(each: SchoolClass, headcount: int) -> int | str:
    """The new number, about where it was about; 0 cannot be about."""
    return f"about {headcount}" if each.is_about and headcount > 0 else max(0, headcount)


# -------------------------------------------------------------------------------------------------------- reading


def last_number(each: SchoolClass) -> int:
    """The highest class-list number: one for every child, those who left included."""
    return each.headcount + len(each.left)


def size_typed(text: str) -> int | str:
    """ "25" is 25; "about 24", "a24" and "~24" are about 24."""
    found = _SIZE.match(text.strip())
    count = int(found["count"]) if found else -1
    if found is None or not (1 if found["about"] else 0) <= count <= MOST_STUDENTS:
        raise CannotNote(f"A number of children is written 25, or about 24; at most {MOST_STUDENTS}.")
    return f"about {count}" if found["about"] else count


def things_to_avoid(plan: Plan, avoidable: Mapping[str, str], marks: Mapping[str, str]) -> tuple[Known, ...]:
    """What a class can avoid: what rules know of, then what her supplies are marked with, then each supply.

    ``avoidable`` and ``marks`` are the words of the rules with what they mean.
    """
    found = {word: Known(word, name, marks.get(word, "")) for word, name in avoidable.items()}
    for supply in plan.supplies:
        for mark in supply.marks:
            found.setdefault(mark, Known(mark, mark.replace("-", " "), marks.get(mark, "")))
    for class_ in plan.classes:
        for word in class_.avoid:
            found.setdefault(word, Known(word, word.replace("-", " ")))
    return (*found.values(), *(Known(each.id, each.name) for each in plan.supplies if each.id not in found))


def things_to_need(plan: Plan, needs: Mapping[str, str]) -> tuple[Known, ...]:
    """The needs that rules know of, and those the plan has besides."""
    words = {word: Known(word, word.replace("-", " "), meaning) for word, meaning in needs.items()}
    for class_ in plan.classes:
        for each in class_.needs:
            words.setdefault(each.need, Known(each.need, each.need.replace("-", " ")))
    return tuple(words.values())


def things_to_have(plan: Plan) -> tuple[Known, ...]:
    """Supplies that a room or its children can have of their own."""
    return tuple(Known(each.id, each.name) for each in plan.supplies)


def narrowed(known: Iterable[Known], typed: str) -> tuple[Known, ...]:
    """Those that begin with what was typed, then those with a word that does, each in their order."""
    letters = " ".join(typed.casefold().split())
    if not letters:
        return tuple(known)
    ranked: list[list[Known]] = [[], [], []]
    for each in known:
        name, word = each.name.casefold(), each.word.casefold()
        if name.startswith(letters) or word.startswith(letters):
            ranked[0].append(each)
        elif any(part.startswith(letters) for part in re.split(r"[\s-]+", f"{name} {word}")):
            ranked[1].append(each)
        elif any(part.startswith(letters) for part in re.split(r"[\s,-]+", each.meaning.casefold())):
            ranked[2].append(each)
    return tuple(each for rank in ranked for each in rank)
