"""A rule as clauses of the engine, and the mistakes in it: words nobody knows, items nobody names."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.rules.conditions import ITEM, Mistake, condition_from, head_from
from checklists.rules.engine import Atom, Clause, Condition
from checklists.rules.records import (
    Action,
    Add,
    CheckFor,
    Forbid,
    NextPart,
    Raise,
    Replace,
    Rule,
    TaskFor,
    Warn,
)
from checklists.rules.vocabulary import KnownWords, ask_for_nearest, blanks_in

_BASES = frozenset({"student", "pair", "table", "class", "lesson", "piece"})
EACH_CHILD = "for each child"
"""What a raise may speak of beside marks: all that a part lists per student or per pair."""
MOST_DAYS_BEFORE, MOST_DAYS_AFTER, MOST_DAYS_DRYING = 20, 40, 120
"""School days before a visit, and after it, on which preparation may fall due: a month, and two for what dries."""


def applies(rule: Rule | str) -> str:
    """Predicate that says that a rule applies."""
    return f"rule {rule if isinstance(rule, str) else rule.id}"


def actions_of(rule: Rule) -> tuple[Action, ...]:
    """What a rule does, in the order of its fields."""
    return (
        *rule.add,
        *rule.replace,
        *rule.forbid,
        *rule.raises,
        *rule.tasks,
        *rule.checks,
        *rule.next_part,
        *rule.cautions,
    )


def text_of(action: Action) -> str:
    """The action's own sentence; empty where it has none."""
    if isinstance(action, TaskFor | CheckFor):
        return action.what
    if isinstance(action, NextPart):
        return action.why
    return action.text if isinstance(action, Warn) else ""


def clauses_of(rule: Rule, known: KnownWords) -> tuple[tuple[Clause, ...], tuple[Mistake, ...]]:
    """The clauses of a rule, and its mistakes."""
    meant = [condition_from(sentence, known) for sentence in rule.when]
    heads = [head_from(sentence, known) for sentence in rule.gives]
    mistakes = [each for each in (*meant, *heads) if isinstance(each, Mistake)]
    body = tuple(each for each in meant if isinstance(each, Condition))
    has_item = any(not each.negated and ITEM in each.atom for each in body)
    made: list[Atom] = [each for each in heads if not isinstance(each, Mistake)]
    if actions_of(rule):
        made.append((applies(rule), ITEM) if has_item else (applies(rule),))
    clauses = tuple(Clause(head, body, rule.id) for head in made)
    if not mistakes and not has_item and any(ITEM in (*clause.head, *_terms(clause)) for clause in clauses):
        mistakes.append(Mistake("speaks of an item that no condition names", 'Add a condition "item is MARK".'))
    mistakes.extend(_mistakes_in_actions(rule, known, has_item))
    mistakes.extend(_mistakes_in_days(rule))
    return clauses, tuple(dict.fromkeys(mistakes))


def _terms(clause: Clause) -> Iterator[str]:
    for condition in clause.body:
        yield from condition.atom


def _mistakes_in_actions(rule: Rule, known: KnownWords, has_item: bool) -> Iterator[Mistake]:
    sentences = [("because", rule.because)]
    if not rule.gives and not actions_of(rule):
        yield Mistake("does nothing", "Give it a tag to give, a supply to add, a check or a caution.")
    for action in actions_of(rule):
        sentences.append(("a text", text_of(action)))
        named = [action.supply] if isinstance(action, Add | Replace) else []
        if isinstance(action, Forbid) and action.instead:
            named.append(action.instead)
        for supply in named:
            if supply not in known.supplies:
                yield Mistake(f'unknown supply "{supply}"', ask_for_nearest(supply, known.supplies))
        if isinstance(action, Add | Replace):
            yield from _mistakes_in_basis(action.per, known)
            if action.each_holds <= 0:
                yield Mistake('"each_holds" must be more than 0')
        if isinstance(action, Replace | Forbid | Raise):
            if action.what == EACH_CHILD and isinstance(action, Raise):
                continue
            if action.what == "item" and not has_item:
                yield Mistake("speaks of an item that no condition names", 'Add a condition "item is MARK".')
            elif action.what == EACH_CHILD:
                yield Mistake(f'"{EACH_CHILD}" can only be raised', 'Name a mark, or say "item".')
            elif action.what != "item" and action.what not in known.marks:
                proposed = known.marks | {EACH_CHILD} if isinstance(action, Raise) else known.marks
                yield Mistake(f'unknown mark "{action.what}"', ask_for_nearest(action.what, proposed))
    for place, sentence in sentences:
        for blank in blanks_in(sentence):
            yield from _mistakes_in_blank(place, blank, known, has_item)


def _mistakes_in_days(rule: Rule) -> Iterator[Mistake]:
    """What falls due after a visit is told until the next part is taught, so there must be a next one."""
    asked = {" ".join(sentence.split()) for sentence in rule.when}
    for task in rule.tasks:
        if not -MOST_DAYS_AFTER <= task.days_before <= MOST_DAYS_BEFORE:
            what = f'"days_before" of a task is {task.days_before}'
            yield Mistake(what, f"At most {MOST_DAYS_BEFORE}; after the visit, down to -{MOST_DAYS_AFTER}.")
        if task.after_days > MOST_DAYS_DRYING:
            what = f'"after_days" of a task is {task.after_days}'
            yield Mistake(what, f"At most {MOST_DAYS_DRYING}.")
        if task.is_after and "last part" in asked:
            what = 'a task falls due after the "last part", and no part comes after that'
            yield Mistake(what, "Make it days_before = 0, or let a part follow in which the pieces come back.")


def _mistakes_in_basis(per: str, known: KnownWords) -> Iterator[Mistake]:
    need = per.removeprefix("need ")
    if need != per and need not in known.needs:
        yield Mistake(f'unknown need "{need}"', ask_for_nearest(need, known.needs))
    if need == per and per not in _BASES:
        yield Mistake(f'nothing can be counted per "{per}"', ask_for_nearest(per, _BASES))


def _mistakes_in_blank(place: str, blank: str, known: KnownWords, has_item: bool) -> Iterator[Mistake]:
    need = blank.removeprefix("need ")
    if need != blank:
        if need not in known.needs:
            yield Mistake(f'unknown need "{need}" in {place}', ask_for_nearest(need, known.needs))
    elif blank in ("item", "items") and not has_item:
        yield Mistake(f"{{{blank}}} in {place}, but no condition names an item", 'Add a condition "item is MARK".')
    elif blank not in known.fields:
        yield Mistake(f"unknown field {{{blank}}} in {place}", ask_for_nearest(blank, known.fields))
