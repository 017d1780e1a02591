"""The rules as they would be with one thing different: made ready, not written. What does not fit raises NotSaved."""

from __future__ import annotations

from typing import Literal

from msgspec import structs

from checklists.book import Book, NotSaved
from checklists.files.plan_folder import compiled_rules
from checklists.files.rule_file import without_rule
from checklists.rules.read import RuleSet
from checklists.rules.records import Rule, RuleFile, SwitchedOff, SwitchedOn


def rules_with(book: Book, rule: Rule) -> RuleSet:
    """With one more rule of her own."""
    return _compiled(book, structs.replace(book.own_rules, rules=(*book.own_rules.rules, rule)))


def rules_less(book: Book, rule: str) -> RuleSet:
    """Without one of her own, by its id."""
    return _compiled(book, without_rule(book.own_rules, rule))


def rules_without(book: Book, off: SwitchedOff) -> RuleSet:
    """With a rule switched off."""
    own = book.own_rules
    if any(each.rule == off.rule for each in own.on) and not off.class_id and not off.lesson and off.until is None:
        return _compiled(book, structs.replace(own, on=tuple(each for each in own.on if each.rule != off.rule)))
    return _compiled(book, structs.replace(own, off=(*own.off, off)))


def rules_used_again(book: Book, *off: SwitchedOff) -> RuleSet:
    """With a rule switched on again, or one used that comes switched off."""
    own = book.own_rules
    used = tuple(SwitchedOn(each.rule) for each in off if each not in own.off)
    left = tuple(each for each in own.off if each not in off)
    return _compiled(book, structs.replace(own, off=left, on=(*own.on, *used)))


def rules_set(book: Book, name: str, value: float | Literal["K", "PK"] | None) -> RuleSet:
    """With a setting at another value; None: as built in."""
    settings = {key: each for key, each in book.own_rules.settings.items() if key != name}
    if value is not None:
        settings[name] = value
    return _compiled(book, structs.replace(book.own_rules, settings=settings))


def _compiled(book: Book, own: RuleFile) -> RuleSet:
    rules, problems = compiled_rules(book.plan, own)
    if problems:
        raise NotSaved(f"That does not fit: {problems[0].what.rstrip('.')}. {problems[0].to_do}".rstrip())
    return rules
