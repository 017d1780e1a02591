"""Find the rule, condition or setting that was meant; say the nearest one where it is not there."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.book import Book
from checklists.commandline.finding import find_class
from checklists.commandline.request import NotUnderstood, Request
from checklists.plan.records import Plan
from checklists.rules.conditions import CLASS_IS, LESSON_IS
from checklists.rules.read import RuleSet, settings_of
from checklists.rules.records import Rule, Setting
from checklists.words import join_words, nearest

_MOST_NAMED = 6


def find_rule(word: str, rules: RuleSet) -> Rule:
    """A rule by its id or its title; words of them are enough where only one rule has them."""
    typed = word.casefold().strip()
    for each in rules.rules:
        if typed in (each.id.casefold(), each.title.casefold()):
            return each
    said = typed.replace("-", " ").split()
    within = [each for each in rules.rules if all(one in _words_of(each) for one in said)]
    if len(within) == 1:
        return within[0]
    if within:
        raise NotUnderstood(f"{word} may be {join_words((each.id for each in within[:_MOST_NAMED]), 'or')}. Say which.")
    known = [name for each in rules.rules for name in (each.id, each.title)]
    raise NotUnderstood(f"There is no rule called {word}." + _meant(word, known, "trundle rules shows them."))


def _words_of(rule: Rule) -> str:
    return f"{rule.id.replace('-', ' ')} {rule.title}".casefold()


def find_setting(word: str, rules: RuleSet) -> Setting:
    """A setting by its name; dashes do for the lines between words."""
    typed = word.casefold().replace("-", "_").replace(" ", "_")
    every = settings_of(rules)
    for each in every:
        if each.name.casefold() == typed:
            return each
    names = [each.name for each in every]
    raise NotUnderstood(f"There is no setting {word}." + _meant(typed, names, "trundle rules --settings shows them."))


def find_lesson(word: str, plan: Plan) -> str:
    """The id of a lesson, by id or title."""
    typed = word.casefold().strip()
    for each in plan.lessons:
        if typed in (each.id.casefold(), each.title.casefold()):
            return each.id
    known = [name for each in plan.lessons for name in (each.id, each.title)]
    first = f"The lessons are {join_words(each.id for each in plan.lessons[:_MOST_NAMED])} …"
    raise NotUnderstood(f"There is no lesson {word} in the plan." + _meant(word, known, first))


def need_sentence(typed: str) -> str:
    """A need as a condition of a rule."""
    return f"need {typed.casefold().strip().replace(' ', '-')}"


def _condition(typed: str, book: Book) -> str:
    """What was typed behind `--when` as a condition: a word that is no tag may be a mark, a need or what is avoided."""
    denied = "not " if typed.startswith("not ") else ""
    word = typed.removeprefix("not ")
    words = book.rules.vocabulary
    if word in {*words.part, *words.visit, *words.given, *(each for rule in book.rules.rules for each in rule.gives)}:
        return typed
    if any(word in part.tags for lesson in book.plan.lessons for part in lesson.parts):
        return typed
    if word in words.marks or word in book.plan.supply_by_id or any(word in each.marks for each in book.plan.supplies):
        return f"no item is {word}" if denied else f"some item is {word}"
    if word in words.needs:
        return f"{denied}need {word}"
    return f"{denied}avoid {word}" if word in words.avoid else typed


def conditions_of(request: Request, book: Book) -> tuple[str, ...]:
    """The conditions that were typed, as sentences of a rule."""
    found = [_condition(" ".join(each.split()), book) for each in request.when]
    if request.need:
        found.append(need_sentence(request.need))
    if request.grade:
        found.append(request.grade)
    if request.lesson:
        found.append(f"{LESSON_IS}{find_lesson(request.lesson, book.plan)}")
    if request.for_class:
        found.append(f"{CLASS_IS}{find_class(request.for_class, book.plan)}")
    return tuple(dict.fromkeys(found))


def _meant(word: str, known: Iterable[str], otherwise: str) -> str:
    near = nearest(word, known)
    return f" Did you mean {near}?" if near else f" {otherwise}"
