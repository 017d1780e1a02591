"""A newcomer who answers the questions of the first start, and how many there were."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from msgspec import Struct

from checklists.first_start.answers import Answers
from checklists.first_start.going import AllSaid, Way, answered, ask_all, go_through, with_other_days
from checklists.first_start.making import choices_to_begin_with, made_from
from checklists.first_start.question import Question
from checklists.plan.plan_files import PlanFiles

MONDAY_AT_7_20 = datetime(2026, 11, 30, 7, 20)
"""A Monday in the middle of the year, before school."""
CHOICES = choices_to_begin_with()
Newcomer = Callable[[Question[Any]], str]
"""What she types for a question; nothing: Enter alone."""


class Run(Struct):
    """What a run through the questions came to. Keys are letters, digits and one Enter for each question."""

    answers: Answers
    said: AllSaid
    asked: list[str]
    keys: int


def way_of(answers: Answers, now: datetime = MONDAY_AT_7_20) -> Way:
    return go_through(ask_all(now, CHOICES), answers)


def run_through(newcomer: Newcomer, now: datetime = MONDAY_AT_7_20, answers: Answers | None = None) -> Run:
    """Answer question after question until there is none."""
    answers = answers if answers is not None else Answers()
    asked, keys = [], 0
    while (question := (way := way_of(answers, now)).open) is not None:
        typed = newcomer(question)
        keys += len(typed) + 1
        asked.append(question.id)
        answers = answered(answers, question, typed)
    return Run(answers, way.said, asked, keys)


def by_question(**typed: str) -> Newcomer:
    """Types these texts, by the id of the question with "_" for every space and sign; Enter alone for all others."""

    def newcomer(question: Question[Any]) -> str:
        return typed.get("".join(sign if sign.isalnum() else "_" for sign in question.id), "")

    return newcomer


def said_in(answers: Answers, now: datetime) -> AllSaid:
    """What complete answers say."""
    said = way_of(answers, now).said
    assert isinstance(said, AllSaid), "a question is open"
    return with_other_days(said, answers, CHOICES)


def plan_from(answers: Answers, now: datetime) -> PlanFiles:
    """The plan that complete answers come to."""
    return made_from(said_in(answers, now)).files
