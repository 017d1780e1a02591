"""The rules as rows: what is switched off, those behind the line in hand, hers, then the built-in ones by subject."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from checklists.lines.records import Because, Day
from checklists.own_rules.subjects import rules_by_subject
from checklists.pages.reasons import Thing
from checklists.plan.records import Plan
from checklists.rules.read import RuleSet
from checklists.rules.records import Rule, RuleFile, SwitchedOff
from checklists.rules.switching import is_over, offs_of, say_scope
from tui.rows import Row

OFF, BEHIND = "off ", "behind "
"""How the keys of rows begin that stand above the list of all rules; a number or the rule's id follows."""


class Around(NamedTuple):
    """Where she came from: the rules behind the line in hand, and the classes and lessons it is for."""

    name: str = ""
    rules: tuple[str, ...] = ()
    classes: tuple[str, ...] = ()
    lessons: tuple[str, ...] = ()


def around_thing(name: str, thing: Thing, day: Day, *, private: bool) -> Around:
    """The rules behind something on a day's list; those that tell of a child's need only where they were asked for."""
    because: tuple[Because, ...] = getattr(thing, "because", ())
    told = [each for each in because if each.rule and (private or not each.private)]
    keys = {*getattr(thing, "visits", ()), getattr(thing, "visit", "")}
    visits = [visit for visit in day.visits if visit.key in keys]
    lessons = [step.lesson for visit in visits for step in visit.steps]
    return Around(
        name,
        tuple(dict.fromkeys(each.rule for each in told)),
        tuple(dict.fromkeys(visit.class_id for visit in visits)),
        tuple(dict.fromkeys(lessons)),
    )


def rule_rows(rules: RuleSet, own: RuleFile, plan: Plan, day: date, around: Around) -> list[Row]:
    """Every rule, with where it is switched off."""
    by_id = {rule.id: rule for rule in rules.rules}
    rows: list[Row] = []
    off = [(index, each) for index, each in enumerate(rules.off) if each.rule in by_id]
    if off:
        rows.append(heading("Switched off"))
        rows += [off_row(f"{OFF}{index}", by_id[each.rule], each, plan, day) for index, each in off]
    behind = [by_id[ident] for ident in around.rules if ident in by_id]
    if behind:
        rows.append(heading(f"Behind {around.name}"))
        rows += [rule_row(f"{BEHIND}{rule.id}", rule, rules, plan, day) for rule in behind]
    hers = frozenset(rule.id for rule in own.rules)
    for subject, of_subject in rules_by_subject(rules, hers).items():
        rows.append(heading(subject))
        rows += [rule_row(rule.id, rule, rules, plan, day) for rule in of_subject]
    return rows


def heading(title: str) -> Row:
    return Row("heading", f"heading {title}", title, tone="heading")


def rule_row(key: str, rule: Rule, rules: RuleSet, plan: Plan, day: date) -> Row:
    state = state_text(rule, rules, plan, day)
    return Row("matter", key, rule.title, state=state, tone="plain" if state == "on" else "quiet")


def state_text(rule: Rule, rules: RuleSet, plan: Plan, day: date) -> str:
    """ "on", "off", "off for 3-B until Fri 30 Oct", "off for 3-B and 1 more"."""
    if not rule.on:
        return "off"
    off = offs_of(rule.id, rules.off, day)
    if not off:
        return "on"
    more = f" and {len(off) - 1} more" if len(off) > 1 else ""
    return f"off {say_scope(off[0], plan)}{more}"


def off_row(key: str, rule: Rule, off: SwitchedOff, plan: Plan, day: date) -> Row:
    over = ", is over" if is_over(off, day) else ""
    return Row("matter", key, rule.title, state=f"{say_scope(off, plan)}{over}", tone="quiet" if over else "plain")


def rule_of(key: str, rules: RuleSet) -> Rule | None:
    """The rule a row is about."""
    if key.startswith(OFF):
        off = off_of(key, rules)
        ident = off.rule if off is not None else ""
    else:
        ident = key.removeprefix(BEHIND)
    return next((rule for rule in rules.rules if rule.id == ident), None)


def off_of(key: str, rules: RuleSet) -> SwitchedOff | None:
    """The switching off that a row is about."""
    index = key.removeprefix(OFF)
    return rules.off[int(index)] if key.startswith(OFF) and int(index) < len(rules.off) else None


def found_rows(rules: Iterable[Rule], typed: str) -> list[Row]:
    """Rules whose title has a word that begins with what was typed."""
    return [Row("matter", rule.id, rule.title) for rule in rules if begins(rule.title, typed)]


def begins(text: str, typed: str) -> bool:
    """Whether every word typed begins a word of the text."""
    words = text.casefold().replace("-", " ").split()
    return all(any(word.startswith(each) for word in words) for each in typed.casefold().split())
