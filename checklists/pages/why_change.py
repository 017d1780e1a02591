"""How a thing on the list can be changed: today, or in the plan for good."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checklists.lines.records import Because, Check, Day, Decision, Line, Matter, TakeOut, Task
from checklists.pages.reasons import Thing
from checklists.plan.records import Plan
from checklists.rules.records import Rule
from checklists.words import join_words

MOST_LESSONS = 3
"""Lesson files named; a line of a whole day may come from more."""


def ways_to_change(thing: Thing, rules: Iterable[Rule], plan: Plan, day: Day) -> tuple[str, ...]:
    """What can be done about it, the nearest first: a sentence each. ``rules`` are those it comes from."""
    return (*_today(thing), *_in_the_lessons(thing, plan, day), *(_of_rule(rule) for rule in rules), *_habits(thing))


def _today(thing: Thing) -> Iterator[str]:
    number = getattr(thing, "number", 0)
    if isinstance(thing, Line) and thing.forbidden:
        yield f"Taken out: n and a digit on the screen, or trundle tick {number} --not-needed other."
    elif isinstance(thing, Line):
        yield (
            "Today: a number and Enter says how many are in it, n and a digit crosses it off"
            f" (trundle tick {number} --count 18, or --not-needed other)."
        )
    elif isinstance(thing, TakeOut):
        yield f"Enter or trundle tick {number} says it is out; n and a digit leaves it in."
    elif isinstance(thing, Decision):
        yield 'Choose by digit on the screen, or with trundle answer "words of it" "the choice".'
    elif isinstance(thing, Matter):
        yield "It ends when it is done, let go, or moved to a date: on the screen, or with trundle answer."
    elif isinstance(thing, Task | Check):
        yield f"Seen to: Enter, or trundle tick {number}."


def _in_the_lessons(thing: Thing, plan: Plan, day: Day) -> Iterator[str]:
    """The parts whose own items or preparations it comes from."""
    if not isinstance(thing, Line | Task):
        return
    own = {key for because in thing.because if _is_of_a_lesson(because) for key in because.visits}
    steps = dict.fromkeys(step for visit in day.visits if visit.key in own for step in visit.steps)
    titled = [
        f"{plan.lesson_by_id[step.lesson].title}, part {step.part} (lessons/{step.lesson}.toml)"
        for step in steps
        if step.lesson in plan.lesson_by_id
    ]
    if titled:
        yield f"For good: what a part needs stands with its lesson: {join_words(titled[:MOST_LESSONS])}."


def _is_of_a_lesson(because: Because) -> bool:
    return not because.rule and bool(because.visits)


def _of_rule(rule: Rule) -> str:
    reason = " It is a safety rule, so say why." if rule.safety else ""
    how = f"the rules key on the screen, or trundle rule off {rule.id}"
    return f"The rule “{rule.title}” can be switched off for a class, a lesson or altogether: {how}.{reason}"


def _habits(thing: Thing) -> Iterator[str]:
    if not isinstance(thing, Line):
        return
    margins = [each.text for each in thing.because if not each.rule and not each.visits]
    if any("spare" in text or "in reserve" in text for text in margins):
        yield "How much is spare or in reserve stands under habits in school.toml, or with the supply itself."
