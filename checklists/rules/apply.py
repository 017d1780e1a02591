"""From the facts of a visit to what the rules make of them: effects, each with its reason and its chain of facts.

What rules add or put in place becomes a supply of the visit, which may call for more (scissors are counted out and
back), so the rules are run again with what they called for, until they call for just that. A supply that was called for
only because another was not there yet so goes again. Rules that call for a supply because it is not there never come to
rest; then all that any run called for counts as there. "lists …" always speaks of what the part itself lists, so a rule
that brings what is missing asks that.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache

from msgspec import Struct

from checklists.rules.asked import Asked, asked_without
from checklists.rules.clauses import actions_of, applies, text_of
from checklists.rules.conditions import AVOID_ITEM
from checklists.rules.engine import Atom
from checklists.rules.fixpoint import Derived, derive
from checklists.rules.read import RuleSet
from checklists.rules.records import Action, Add, Effect, Forbid, Raise, Replace, SwitchedOff, VisitFacts
from checklists.rules.telling import Telling
from checklists.rules.vocabulary import blanks_in

MOST_RUNS = 100
"""Runs after which rules are taken never to come to rest. Far more than any chain of supplies that call for more."""


def effects_for(
    rules: RuleSet,
    facts: VisitFacts,
    *,
    date: datetime.date,
    marks_of: Callable[[str], frozenset[str]],
    name_of: Callable[[str], str] | None = None,
    instead_of: Callable[[str], str] | None = None,
    switched_off: Iterable[SwitchedOff] = (),
) -> tuple[Effect, ...]:
    """What the rules make of a visit, in the order of the rules.

    ``marks_of`` gives the marks of a supply that a rule brings in, ``name_of`` what a supply is called in a sentence
    (its id without one), ``instead_of`` what she uses where a supply must not come along ("" for nothing): that is
    looked at like everything else. ``switched_off`` is beside what the rule set itself has switched off. An action that
    speaks of "item" comes once for each supply, with ``item`` set; any other, also one that names {items}, once for the
    visit.
    """
    applied = _reason(rules, facts, date, marks_of, instead_of, switched_off)
    return tuple(_effects(rules, facts, applied, name_of))


def tags_for(
    rules: RuleSet,
    facts: VisitFacts,
    *,
    date: datetime.date,
    marks_of: Callable[[str], frozenset[str]],
    switched_off: Iterable[SwitchedOff] = (),
) -> frozenset[str]:
    """The tags of a visit, those that rules give it included."""
    applied = _reason(rules, facts, date, marks_of, None, switched_off)
    return facts.tags | (applied.asked.tags_given & applied.derived.relations.keys())


class _Applied(Struct, frozen=True, eq=False):
    """What the rules were asked with, what followed, and which of them apply: those places in the set, in order."""

    asked: Asked
    derived: Derived
    places: list[int]


class _Doing(Struct, frozen=True, eq=False):
    """One action of a rule, its own sentence, and whether it speaks of "item"."""

    action: Action
    text: str
    of_item: bool


def _reason(
    rules: RuleSet,
    facts: VisitFacts,
    date: datetime.date,
    marks_of: Callable[[str], frozenset[str]],
    instead_of: Callable[[str], str] | None,
    switched_off: Iterable[SwitchedOff],
) -> _Applied:
    left_out = frozenset([each.rule for each in (*rules.off, *switched_off) if _is_off(each, facts, date)])
    asked = asked_without(rules, left_out)
    given = _given_atoms(asked, facts) | _item_atoms(asked, facts, facts.items)
    brought: frozenset[str] = frozenset()
    tried: set[frozenset[str]] = set()
    goes_round = False
    while True:
        came = _item_atoms(asked, facts, {supply: marks_of(supply) for supply in brought})
        derived = derive(asked.program, frozenset(given | came))
        places = sorted([rules.places[each] for each in rules.places.keys() & derived.relations.keys()])
        calling = [place for place in places if place in _calling(rules)]
        supplies = [each for place in calling for each in _called_for(rules, place, derived, facts, instead_of)]
        called_for = frozenset([each for each in supplies if each not in facts.items])
        if called_for == brought or (goes_round and called_for < brought):
            return _Applied(asked, derived, places)
        goes_round = goes_round or called_for in tried or len(tried) == MOST_RUNS
        tried.add(called_for)
        brought = called_for | brought if goes_round else called_for


def _is_off(entry: SwitchedOff, facts: VisitFacts, date: datetime.date) -> bool:
    return (
        entry.class_id in ("", facts.class_id)
        and entry.lesson in ("", facts.lesson)
        and (entry.until is None or date <= entry.until)
    )


def _given_atoms(asked: Asked, facts: VisitFacts) -> set[Atom]:
    atoms: set[Atom] = {(tag,) for tag in facts.tags & asked.predicates}
    atoms.update([(each.sentence,) for each in asked.comparisons if each.holds(facts.numbers)])
    if facts.class_id in asked.classes:
        atoms.add((asked.classes[facts.class_id],))
    if facts.lesson in asked.lessons:
        atoms.add((asked.lessons[facts.lesson],))
    if asked.needs:
        atoms.update([(asked.needs[need],) for need, count in facts.needs.items() if count > 0 and need in asked.needs])
    if asked.avoid:
        atoms.update([(asked.avoid[word],) for word in asked.avoid.keys() & facts.avoid])
    if asked.lists:
        listed = set(facts.items).union(*facts.items.values())
        atoms.update([(asked.lists[mark],) for mark in asked.lists.keys() & listed])
    return atoms


def _item_atoms(asked: Asked, facts: VisitFacts, items: Mapping[str, frozenset[str]]) -> set[Atom]:
    atoms: set[Atom] = set()
    for supply, marks in items.items() if asked.marks else ():
        atoms.update([(asked.marks[mark], supply) for mark in asked.marks.keys() & marks])
        if supply in asked.marks:
            atoms.add((asked.marks[supply], supply))
    if facts.avoid and AVOID_ITEM in asked.predicates:
        avoided = [each for each, marks in items.items() if each in facts.avoid or not facts.avoid.isdisjoint(marks)]
        atoms.update([(AVOID_ITEM, supply) for supply in avoided])
    return atoms


def _effects(
    rules: RuleSet, facts: VisitFacts, applied: _Applied, name_of: Callable[[str], str] | None
) -> Iterable[Effect]:
    telling = Telling(rules, facts, applied.derived, name_of)
    for place in applied.places:
        rule = rules.rules[place]
        atoms = tuple(sorted(applied.derived.relations[applies(rule)]))
        told = {atom: telling.chain_of(atom) for atom in atoms}
        for doing in _doings(rules, place):
            for group in [(atom,) for atom in atoms] if doing.of_item else (atoms,):
                items = tuple([term for atom in group for term in atom[1:]])
                yield Effect(
                    rule=rule,
                    action=doing.action,
                    item=items[0] if items and doing.of_item else "",
                    because=telling.filled(rule.because, items),
                    text=telling.filled(doing.text, items),
                    facts=tuple(dict.fromkeys([fact for atom in group for fact in told[atom]])),
                )


@lru_cache(maxsize=4096)
def _doings(rules: RuleSet, place: int) -> tuple[_Doing, ...]:
    """What a rule of a set does, made ready once."""
    made = ((action, text_of(action)) for action in actions_of(rules.rules[place]))
    return tuple(_Doing(action, text, _speaks_of_item(action, text)) for action, text in made)


@lru_cache(maxsize=32)
def _calling(rules: RuleSet) -> frozenset[int]:
    """Places of the rules that may call for a supply."""
    return frozenset(place for place, rule in enumerate(rules.rules) if rule.add or rule.replace or rule.forbid)


def _called_for(
    rules: RuleSet, place: int, derived: Derived, facts: VisitFacts, instead_of: Callable[[str], str] | None
) -> Iterable[str]:
    """Supplies that a rule which applies brings in, those that come in place of what it forbids among them."""
    rule = rules.rules[place]
    yield from [each.supply for each in rule.add]
    yield from [each.supply for each in rule.replace]
    for action in rule.forbid:
        if action.what == "item":
            forbidden = [atom[1] for atom in derived.relations[applies(rule)] if len(atom) > 1]
        else:
            forbidden = [each for each, marks in facts.items.items() if action.what == each or action.what in marks]
        for supply in forbidden:
            instead = action.instead or (instead_of(supply) if instead_of is not None else "")
            if instead:
                yield instead


def _speaks_of_item(action: Action, text: str) -> bool:
    if isinstance(action, Replace | Forbid | Raise):
        return action.what == "item"
    return not isinstance(action, Add) and "item" in blanks_in(text)
