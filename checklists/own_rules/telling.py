"""A rule in full, in words: what it asks for, what it does, where it comes from, whether it is on."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from checklists.own_rules.times import words_for
from checklists.plan.records import Plan
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
    TaskFor,
    Warn,
)
from checklists.words import plural, say_number


class RuleTold(Struct, frozen=True):
    """A rule as it is shown."""

    id: str
    title: str
    asks: str
    """When it counts, in words."""
    does: tuple[str, ...]
    because: str
    """The sentence as written; what stands in braces is filled in for each visit."""
    source: str
    own: bool
    safety: bool
    private: bool
    on: bool
    """Whether it is used at all; what is switched off for a class or a lesson is told beside it."""


def tell_rule(rule: Rule, plan: Plan, rules: RuleSet, *, own: bool) -> RuleTold:
    """One rule in full."""
    return RuleTold(
        id=rule.id,
        title=rule.title,
        asks=words_for(rule.when, plan, rules),
        does=tuple(_say_all(rule, plan, rules)),
        because=rule.because,
        source=rule.source,
        own=own,
        safety=rule.safety,
        private=rule.private,
        on=rule.on,
    )


def _say_all(rule: Rule, plan: Plan, rules: RuleSet) -> Iterator[str]:
    for given in rule.gives:
        plain = " ".join(given.split())
        mark = plain.removeprefix("item is ")
        if mark != plain:
            yield f"marks such a supply as: {rules.vocabulary.marks.get(mark, mark)}"
        else:
            yield f"tags the visit {plain}"
    for action in actions_of(rule):
        yield _say(action, plan, rules)


def _say(action: Action, plan: Plan, rules: RuleSet) -> str:
    match action:
        case Add():
            critical = ", critical" if action.critical else ""
            return f"adds {plan.name_of_supply(action.supply)}, {_say_quantity(action)}{critical}"
        case Replace():
            how_many = "all of" if action.everything else f"{_say_quantity(action)} of"
            return f"puts {plan.name_of_supply(action.supply)} in place of {how_many} {_what(action.what, plan, rules)}"
        case Forbid():
            instead = f", with {plan.name_of_supply(action.instead)} instead" if action.instead else ""
            return f"keeps {_what(action.what, plan, rules)} at the store{instead}"
        case Raise():
            return _say_raise(action, _what(action.what, plan, rules))
        case TaskFor():
            return f"asks for preparation: {action.what} ({_say_minutes(action)}, {_say_due(action)})"
        case CheckFor():
            where = "at the store" if action.at == "store" else "in the room"
            return f"asks {where}: {action.what}"
        case NextPart():
            return f"says when the next part may be taught{': ' + action.why if action.why else ''}"
        case Warn():
            stops = "; the part is not taught so" if action.stops else "; what to do is asked" if action.asks else ""
            return f"warns: {action.text}{stops}"


def say_basis(per: str) -> str:
    """What a quantity is counted by: "per child", "per table", "per child with the need fine-motor"."""
    names = {
        "student": "per child",
        "pair": "per pair",
        "table": "per table",
        "class": "per class",
        "lesson": "for all classes of a lesson",
        "piece": "per piece to dry",
    }
    return names.get(per, f"per child with the need {per.removeprefix('need ')}")


def _say_quantity(action: Quantity) -> str:
    need = action.per.removeprefix("need ")
    said = f"{_number(action.count)} {say_basis(action.per)}"
    if action.each_holds != 1 and action.count == 1:
        said = (
            f"one for every {_number(action.each_holds)} {_SEVERAL.get(action.per, f'children with the need {need}')}"
        )
    elif action.each_holds != 1:
        said = f"one for every {_number(action.each_holds)} of {said}"
    return f"{said} and {_number(action.plus)} more" if action.plus else said


_SEVERAL = {
    "student": "children",
    "pair": "pairs",
    "table": "tables",
    "class": "classes",
    "lesson": "classes of a lesson",
    "piece": "pieces to dry",
}


def _say_raise(action: Raise, what: str) -> str:
    if action.spare is not None:
        percent = f" or {_number(action.spare.percent)} %" if action.spare.percent else ""
        return f"keeps at least {_number(action.spare.at_least)}{percent} of {what} to spare"
    if action.sets:
        return f"adds {_number(action.sets)} times what one child gets of {what}"
    return f"takes {_number(action.times)} times as much of {what}"


def _say_minutes(action: TaskFor) -> str:
    each = f" and {_number(action.minutes_each)} a child" if action.minutes_each else ""
    return f"{_number(action.minutes)} min{each}"


def _say_due(task: TaskFor) -> str:
    days = task.days_before
    school_days = f"{plural(abs(days), 'school day')} {'before' if days > 0 else 'after'}"
    if task.after_days:
        passed = f"{plural(task.after_days, 'day')} after"
        return f"{passed} and {plural(abs(days), 'school day')} more" if days else passed
    return school_days if days else "on the day"


def _number(value: float | str) -> str:
    return value if isinstance(value, str) else say_number(value)


def _what(what: str, plan: Plan, rules: RuleSet) -> str:
    if what in plan.supply_by_id:
        return plan.name_of_supply(what)
    if what == "item":
        return "it"
    return rules.vocabulary.marks.get(what, what)
