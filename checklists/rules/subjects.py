"""Rules as a list to look through: hers first, then the built-in ones by subject; and what each does, in words."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from functools import lru_cache
from pathlib import Path

from msgspec import Struct

from checklists.plan.records import Spare
from checklists.rules.clauses import actions_of
from checklists.rules.read import RuleSet
from checklists.rules.records import (
    Action,
    Add,
    CheckFor,
    Forbid,
    NextPart,
    Quantity,
    Raise,
    Replace,
    Rule,
    RuleFile,
    TaskFor,
    Warn,
)
from checklists.rules.vocabulary import Vocabulary, fill
from checklists.words import join_words, plural, say_number

OWN = "Your own"
_FOLDER = Path(__file__).parent / "builtin"
_TITLES = {
    "parts": "Parts, folders, those who finish early",
    "rooms": "Rooms and the way",
    "water": "Water, wet work, drying",
    "cutting": "Cutting and sharp tools",
    "hot_tools": "Hot tools",
    "labels": "What the label says",
    "materials": "Materials",
    "clay_and_print": "Clay and print",
    "textile_and_paste": "Textile and paste",
    "avoiding": "What a class avoids",
    "differentiation": "Children's needs",
}
"""File of built-in rules -> what its rules are about."""


class Subject(Struct, frozen=True):
    title: str
    rules: tuple[Rule, ...]


def rules_by_subject(rules: RuleSet, own: RuleFile) -> tuple[Subject, ...]:
    """Every rule under its subject, in the order in which they are applied; her own first, also where one of hers
    stands in for a built-in one."""
    hers = {rule.id for rule in own.rules}
    found: dict[str, list[Rule]] = {OWN: []}
    about = _subjects()
    for rule in rules.rules:
        title = OWN if rule.id in hers else about.get(rule.id, "Other")
        found.setdefault(title, []).append(rule)
    return tuple(Subject(title, tuple(each)) for title, each in found.items() if each)


@lru_cache(maxsize=1)
def _subjects() -> dict[str, str]:
    """Id of a built-in rule -> its subject. Read only where somebody looks through the rules."""
    about: dict[str, str] = {}
    for path in sorted(_FOLDER.glob("*.toml")):
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        title = _TITLES.get(path.stem, path.stem.replace("_", " ").capitalize())
        listed = table.get("rules", [])
        about |= {each["id"]: title for each in listed if isinstance(each, dict)} if isinstance(listed, list) else {}
    return about


# ------------------------------------------------------------------------------------------------------ in words


def say_when(rule: Rule) -> str:
    """When a rule applies, in the sentences it is written in: "wet, not sink"."""
    return ", ".join(rule.when) or "at every visit"


def say_reason(rule: Rule, words: Vocabulary) -> str:
    """Its reason, for no visit in particular."""
    return _for_any_visit(rule.because, words)


def say_actions(rule: Rule, words: Vocabulary, name_of: Callable[[str], str]) -> tuple[str, ...]:
    """What a rule does, a phrase each: "adds scissors, 1 for each student". ``name_of`` gives the name of a supply."""
    said = [text for action in actions_of(rule) for text in _say_action(action, words, name_of)]
    given = [each.removeprefix("item is ") for each in rule.gives]
    return (*said, f"tells other rules: {join_words(given)}") if given else tuple(said)


def _say_action(action: Action, words: Vocabulary, name_of: Callable[[str], str]) -> Iterator[str]:
    match action:
        case Add():
            yield f"adds {name_of(action.supply)}, {_say_quantity(action)}{', critical' if action.critical else ''}"
        case Replace(everything=True):
            yield f"{name_of(action.supply)} in place of {_say_mark(action.what)}"
        case Replace():
            yield f"{name_of(action.supply)} in place of {_say_mark(action.what)}, {_say_quantity(action)}"
        case Forbid():
            use = f"; {name_of(action.instead)} instead" if action.instead else ""
            yield f"{_say_mark(action.what)} must not come along{use}"
        case Raise():
            yield f"more of {_say_mark(action.what)}: {_say_raise(action)}"
        case TaskFor():
            when = _say_days(action.days_before)
            yield f"to prepare, {when}: {_for_any_visit(action.what, words)}"
        case CheckFor():
            yield f"to check {'at the store' if action.at == 'store' else 'in the room'}: " + _for_any_visit(
                action.what, words
            )
        case NextPart():
            yield f"the next part {_say_next(action)}"
        case Warn():
            stops = "not taught so: " if action.stops else "caution: "
            yield stops + _for_any_visit(action.text, words)


def _say_quantity(quantity: Quantity) -> str:
    """ "1 for each student", "1 for each 4 tables and 2 more"."""
    need = quantity.per.removeprefix("need ")
    unit = f"child with the need {need.replace('-', ' ')}" if need != quantity.per else quantity.per
    each = plural(quantity.each_holds, unit) if quantity.each_holds != 1 else unit
    more = f" and {say_number(quantity.plus)} more" if quantity.plus else ""
    return f"{say_number(quantity.count)} for each {each}{more}"


def _say_raise(action: Raise) -> str:
    said = [f"{say_number(action.times)} times as much"] if action.times != 1 else []
    said += [f"{plural(action.sets, 'set')} more"] if action.sets else []
    said += [_say_spare(action.spare)] if action.spare is not None else []
    return join_words(said)


def _say_spare(spare: Spare) -> str:
    return f"spare at least {spare.at_least} and {say_number(spare.percent)} %"


def _say_days(days_before: int) -> str:
    if days_before < 0:
        return f"{plural(-days_before, 'school day')} after"
    return f"{plural(days_before, 'school day')} before" if days_before else "on the day"


def _say_next(action: NextPart) -> str:
    said = [f"not before {plural(action.not_before_days, 'day')}"] if action.not_before_days else []
    said += [plural(action.not_before_school_days, "school day")] if action.not_before_school_days else []
    later = f"not after {plural(action.not_after_days, 'day')}" if action.not_after_days is not None else ""
    return ", ".join(part for part in (" and ".join(said), later) if part)


def _say_mark(what: str) -> str:
    return "it" if what == "item" else what.replace("-", " ")


def _for_any_visit(sentence: str, words: Vocabulary) -> str:
    """The sentence where no visit is meant: blanks say what kind of thing stands there."""

    def word_for(blank: str) -> str:
        if blank in ("item", "items"):
            return "it"
        if blank.startswith("need "):
            return "so many children"
        return words.words.get(blank, "so many" if blank in words.numbers else blank)

    return fill(sentence, word_for)
