"""Going through the questions: which comes next, taking an answer, going back. Functions of the answers and the clock."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any, TypeVar

from msgspec import Struct, structs

from checklists.first_start.answers import Answers
from checklists.first_start.asking_day import DayAsked, DaySaid, LessonChoice, ask_boxes, ask_day
from checklists.first_start.asking_school import SchoolSaid, ask_school
from checklists.first_start.bell_times import period_times
from checklists.first_start.question import Asking, NotTaken, Question
from checklists.words import clean, clock

T = TypeVar("T")


class AllSaid(Struct, frozen=True):
    """Everything a first plan is made from."""

    school: SchoolSaid
    day: DaySaid
    has_boxes: bool


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
    """Go through questions with the answers there are, up to the first that has none, or to the one she went back to."""
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


def day_asked(school: SchoolSaid) -> DayAsked:
    """The day whose list is the first, as it is asked about."""
    called = f"Day {school.day_name}" if school.rotation.kind == "cycle" else school.day_name
    times = (each for n, each in enumerate(period_times(school.shape), 1) if n != school.shape.planning)
    return DayAsked(
        school.day_name, called, tuple((name, f"{clock(start)}-{clock(end)}") for name, start, end in times)
    )


def answered(answers: Answers, question: Question[Any], typed: str) -> Answers:
    """The answers with one more. Raises NotTaken in words; the question she went back to is then answered, too."""
    text = clean(typed).strip() or question.default
    answer = question.understood(text)
    text = question.keep(answer) if question.keep is not None else text
    return Answers(answers.said | {question.id: text})


def gone_back(answers: Answers, way: Way) -> Answers | None:
    """The same, at the question before the one that is open; None: it is the first one."""
    return structs.replace(answers, again=way.answered[-1].question.id) if way.answered else None
