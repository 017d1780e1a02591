"""What is asked about one day of the timetable: who comes in each period, and what their grades are doing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from checklists.first_start.question import Asking, NotTaken, Option, Question, ask, option_typed
from checklists.first_start.typed_classes import (
    ClassTyped,
    RoomTyped,
    Students,
    read_class,
    read_room,
    say_class,
    say_room_and_students,
)
from checklists.plan.usual_sizes import usual_size
from checklists.words import say_grade

NOBODY = "nobody"
EMPTY = ("nobody", "none", "no", "-")
BOXES = (
    Option("yes", "yes: a box for each grade"),
    Option("no", "no: everything goes straight onto the cart"),
)


class LessonChoice(Struct, frozen=True):
    """A kind of lesson to begin with, and what its parts are called."""

    id: str
    title: str
    parts: tuple[str, ...]
    grades: tuple[str, ...] = ()
    """For which it usually is; none: for all."""


class DayAsked(Struct, frozen=True):
    """A day of the timetable to be asked about, and what is known already."""

    name: str
    called: str
    """In words: "Mon", "day A"."""
    periods: tuple[tuple[str, str], ...]
    """Periods nobody comes in so far, each with its times in words."""
    rooms: Mapping[str, str] = {}
    """Class -> its room, of the classes there are."""
    grades: tuple[str, ...] = ()
    """Grades that have a lesson."""


class VisitSaid(Struct, frozen=True):
    """Who comes in a period. Of a class that is known already only its id is told."""

    period: str
    class_id: str
    grade: str
    room: str = ""
    students: Students = ""


class LessonSaid(Struct, frozen=True):
    """What a grade is doing: the kind of lesson, and which part is next."""

    grade: str
    choice: str
    part: int = 1


class DaySaid(Struct, frozen=True):
    """What was said of a day."""

    name: str
    visits: tuple[VisitSaid, ...]
    lessons: tuple[LessonSaid, ...]


class _LessonTyped(Struct, frozen=True):
    choice: LessonChoice
    part: int | None = None


def ask_day(day: DayAsked, choices: Sequence[LessonChoice]) -> Asking[DaySaid]:
    """Ask who comes, then what each grade that has no lesson is doing."""
    visits = yield from _ask_visits(day)
    new = dict.fromkeys(each.grade for each in visits if each.grade not in day.grades)
    lessons = []
    for grade in new:
        lessons.append((yield from _ask_lesson(grade, choices)))
    return DaySaid(day.name, visits, tuple(lessons))


def ask_boxes() -> Asking[bool]:
    """Whether she has a box for each grade."""
    question = Question(
        "boxes",
        "Boxes",
        "Have you a box for each grade?",
        "Type y or n.",
        "yes",
        lambda typed: option_typed(typed, BOXES),
        lambda option: option.label,
        BOXES,
    )
    return (yield from ask(question)).key == "yes"


# ----------------------------------------------------------------------------------------------------- the visits


def _ask_visits(day: DayAsked) -> Asking[tuple[VisitSaid, ...]]:
    rooms = dict(day.rooms)
    visits: list[VisitSaid] = []
    for period, times in day.periods:
        said = yield from ask(_class(day, period, times, rooms))
        if said is None:
            continue
        if said.id in rooms:
            visits.append(VisitSaid(period, said.id, said.grade))
            continue
        room, students = said.room, said.students
        if not room:
            told = yield from ask(_room(said.id))
            room, students = told.room, told.students
        rooms[said.id] = room
        visits.append(VisitSaid(period, said.id, said.grade, room, students or usual_size(said.grade)))
    return tuple(visits)


def _class(day: DayAsked, period: str, times: str, rooms: Mapping[str, str]) -> Question[ClassTyped | None]:
    def read(text: str) -> ClassTyped | None:
        if text.casefold() in EMPTY:
            return None
        said = read_class(text)
        known = next((each for each in rooms if each.casefold() == said.id.casefold()), None)
        if known is None:
            return said
        if said.room and said.room.casefold() != rooms[known].casefold():
            raise NotTaken(f"{known} is in room {rooms[known]} already. Another room for one day is said on its list.")
        return ClassTyped(said.grade, known)

    def say(said: ClassTyped | None) -> str:
        if said is None:
            return NOBODY
        if said.id in rooms:
            return f"{said.id}, room {rooms[said.id]}"
        if said.room and said.students is None:
            return f"{say_class(said)}, {usual_size(said.grade)} children"
        return say_class(said)

    return Question(
        f"{day.name}/{period}",
        period,
        f"{day.called}, {period}, {times}: which class, and in which room?",
        "Type 3-B 12, or 3-B 12 24 with how many children. About so many: 3-B 12 ~24.",
        NOBODY,
        read,
        say,
    )


def _room(class_id: str) -> Question[RoomTyped]:
    return Question(
        f"room of {class_id}",
        class_id,
        f"In which room is {class_id}, and how many children are there?",
        "Type 12 24, or ~24 for about 24. The room alone is enough. Enter: the room is called like the class.",
        class_id,
        read_room,
        say_room_and_students,
    )


# ---------------------------------------------------------------------------------------------------- the lessons


def _ask_lesson(grade: str, choices: Sequence[LessonChoice]) -> Asking[LessonSaid]:
    said = yield from ask(_lesson(grade, choices))
    part = said.part
    if part is None:
        part = (yield from ask(_part(grade, said.choice))) if len(said.choice.parts) > 1 else 1
    return LessonSaid(grade, said.choice.id, part)


def lesson_id(grade: str) -> str:
    """The id of the question what a grade is doing."""
    return f"lesson of {grade}"


def _lesson(grade: str, choices: Sequence[LessonChoice]) -> Question[_LessonTyped]:
    options = tuple(Option(each.id, each.title) for each in choices)
    by_key = {each.id: each for each in choices}

    def read(text: str) -> _LessonTyped:
        word, _, number = text.rpartition(" ")
        if word and number.isdecimal():
            choice = by_key[option_typed(word.strip(), options).key]
            if not 1 <= int(number) <= len(choice.parts):
                raise NotTaken(f"{choice.title} has {len(choice.parts)} parts.")
            return _LessonTyped(choice, int(number))
        return _LessonTyped(by_key[option_typed(text, options).key])

    def say(said: _LessonTyped) -> str:
        parts = len(said.choice.parts)
        usual = said.choice.grades
        older = f"; usually for grades {usual[0]} to {usual[-1]}" if usual and grade not in usual else ""
        if said.part is not None:
            return f"{said.choice.title}, part {said.part} of {parts}{older}"
        return f"{said.choice.title}, {'1 part' if parts == 1 else f'{parts} parts'}{older}"

    return Question(
        lesson_id(grade),
        say_grade(grade).capitalize(),
        f"What is {say_grade(grade)} doing?",
        "Type its number or first letters; a part behind it: 4 2. What it needs comes along, and can be changed.",
        choices[0].id,
        read,
        say,
        options,
    )


def _part(grade: str, choice: LessonChoice) -> Question[int]:
    parts = len(choice.parts)
    options = tuple(Option(str(n), f"{title}") for n, title in enumerate(choice.parts, 1))
    return Question(
        f"part of {choice.id} of {grade}",
        f"{say_grade(grade).capitalize()}, part",
        f"Which part of {choice.title} comes next for {say_grade(grade)}?",
        "Type its number. A class that is at another one is put right on its page later: k on the list.",
        "1",
        lambda text: int(option_typed(text, options).key),
        lambda part: f"part {part} of {parts}: {choice.parts[part - 1]}",
        options,
    )
