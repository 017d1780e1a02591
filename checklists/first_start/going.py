"""Going through the questions: which comes next, taking an answer, going back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any, TypeVar

from msgspec import Struct, structs

from checklists.calendar import WEEKDAYS
from checklists.first_start.answers import Answers
from checklists.first_start.asking_day import DayAsked, DaySaid, LessonChoice, ask_boxes, ask_day, lesson_id
from checklists.first_start.asking_school import SchoolSaid, ask_school
from checklists.first_start.bell_times import period_times
from checklists.first_start.question import Asking, NotTaken, Question
from checklists.words import clean, clock

T = TypeVar("T")


class AllSaid(Struct, frozen=True):
    """Everything a first plan is made from. ``other_days`` were asked about on an earlier date, and not to the end."""

    school: SchoolSaid
    day: DaySaid
    has_boxes: bool
    other_days: tuple[DaySaid, ...] = ()


class Answered(Struct, frozen=True):
    """A question that has its answer, and the answer in words."""

    question: Question[Any]
    words: str


class Way(Struct, frozen=True):
    """How far she is: what is answered, in order, and the question that is open, with what Enter takes.

    ``said`` is what it came to, once nothing is open. ``why`` tells why an answer of before is asked again.
    """

    answered: tuple[Answered, ...]
    open: Question[Any] | None
    said: Any = None
    why: str = ""


def go_through(asking: Asking[Any], answers: Answers) -> Way:
    """Go through questions with the answers there are, up to the first without one, or to the one she went back to."""
    answered: list[Answered] = []
    value: Any = None
    while True:
        try:
            question = asking.send(value)
        except StopIteration as end:
            return Way(tuple(answered), None, end.value)
        text = answers.said.get(question.id)
        if text is None:
            return Way(tuple(answered), question)
        try:
            value = question.understood(text)
        except NotTaken as problem:
            return Way(tuple(answered), question, why=f'"{text}" does not fit any more. {problem}')
        if question.id == answers.again:
            return Way(tuple(answered), structs.replace(question, default=text))
        answered.append(Answered(question, question.say(value)))


def ask_all(now: datetime, choices: Sequence[LessonChoice]) -> Asking[AllSaid]:
    """Every question of the first start, in order."""
    school = yield from ask_school(now)
    day = yield from ask_day(day_asked(school), choices)
    boxes = (yield from ask_boxes()) if day.visits else True
    return AllSaid(school, day, boxes)


def with_other_days(said: AllSaid, answers: Answers, choices: Sequence[LessonChoice]) -> AllSaid:
    """The same with what was said of other days, when setting up was begun on one of these and went on later.

    What was not answered of them stays unsaid: nobody comes, no lesson is begun.
    """
    names = said.school.rotation.days or WEEKDAYS
    begun = {each.partition("/")[0] for each in answers.said if "/" in each}
    days = []
    for name in names:
        if name in begun and name != said.school.day_name:
            told: DaySaid = _with_defaults(ask_day(day_asked(said.school, name), choices), answers)
            lessons = tuple(each for each in told.lessons if lesson_id(each.grade) in answers.said)
            days.append(structs.replace(told, lessons=lessons))
    return structs.replace(said, other_days=tuple(days))


def _with_defaults(asking: Asking[T], answers: Answers) -> T:
    """What questions come to with the answers there are, and with what Enter takes for the others."""
    value: Any = None
    while True:
        try:
            question = asking.send(value)
        except StopIteration as end:
            result: T = end.value
            return result
        try:
            value = question.understood(answers.said.get(question.id, ""))
        except NotTaken:
            value = question.understood("")


def day_asked(school: SchoolSaid, name: str = "") -> DayAsked:
    """A day of the timetable as it is asked about; by default that whose list is the first."""
    name = name or school.day_name
    called = f"Day {name}" if school.rotation.kind == "cycle" else name
    times = (each for n, each in enumerate(period_times(school.shape), 1) if n != school.shape.planning)
    return DayAsked(name, called, tuple((period, f"{clock(start)}-{clock(end)}") for period, start, end in times))


def answered(answers: Answers, question: Question[Any], typed: str) -> Answers:
    """The answers with one more. Raises NotTaken in words; the question she went back to is then answered, too."""
    text = clean(typed).strip() or question.default
    answer = question.understood(text)
    text = question.keep(answer) if question.keep is not None else text
    return Answers(answers.said | {question.id: text})


def gone_back(answers: Answers, way: Way) -> Answers | None:
    """The same, at the question before the one that is open; None: it is the first one."""
    return structs.replace(answers, again=way.answered[-1].question.id) if way.answered else None
