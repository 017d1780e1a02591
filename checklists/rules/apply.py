"""From the facts of a visit to what the rules make of them: effects, each with its reason and its chain of facts.

What rules add or put in place becomes a supply of the visit, which may call for more (scissors are counted out and
back), so the rules are run again until no supply is new. The effects are those of the last run. "lists …" always speaks
of what the part itself lists.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache

from msgspec import Struct

from checklists.rules.asked import Asked, asked_without
from checklists.rules.clauses import actions_of, applies, text_of
from checklists.rules.conditions import AVOID_ITEM, CLASS_IS, LESSON_IS
from checklists.rules.engine import Atom
from checklists.rules.fixpoint import Derived, derive
from checklists.rules.read import RuleSet
from checklists.rules.records import Action, Add, Effect, Forbid, Raise, Replace, SwitchedOff, VisitFacts
from checklists.rules.telling import Telling
from checklists.rules.vocabulary import blanks_in


def effects_for(
    rules: RuleSet,
    facts: VisitFacts,
    *,
    date: datetime.date,
    marks_of: Callable[[str], frozenset[str]],
    name_of: Callable[[str], str] | None = None,
    switched_off: Iterable[SwitchedOff] = (),
) -> tuple[Effect, ...]:
    """What the rules make of a visit, in the order of the rules.

    ``marks_of`` gives the marks of a supply that a rule brings in, ``name_of`` what a supply is called in a sentence
    (its id without one). ``switched_off`` is beside what the rule set itself has switched off. An action that speaks of
    "item" comes once for each supply, with ``item`` set; any other, also one that names {items}, once for the visit.
    """
    applied = _reason(rules, facts, date, marks_of, switched_off)
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
    applied = _reason(rules, facts, date, marks_of, switched_off)
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
    switched_off: Iterable[SwitchedOff],
) -> _Applied:
    left_out = frozenset([each.rule for each in (*rules.off, *switched_off) if _is_off(each, facts, date)])
    asked = asked_without(rules, left_out)
    atoms = _given_atoms(asked, facts) | _item_atoms(asked, facts, facts.items)
    known = set(facts.items)
    while True:
        derived = derive(asked.program, frozenset(atoms))
        places = sorted([rules.places[each] for each in rules.places.keys() & derived.relations.keys()])
        brought = {supply for place in places for supply in _brought_by(rules, place)}
        new = brought - known
        if not new:
            return _Applied(asked, derived, places)
        known |= new
        atoms |= _item_atoms(asked, facts, {supply: marks_of(supply) for supply in new})


def _is_off(entry: SwitchedOff, facts: VisitFacts, date: datetime.date) -> bool:
    return (
        entry.class_id in ("", facts.class_id)
        and entry.lesson in ("", facts.lesson)
        and (entry.until is None or date <= entry.until)
    )


def _given_atoms(asked: Asked, facts: VisitFacts) -> set[Atom]:
    said = {*facts.tags, f"{CLASS_IS}{facts.class_id}", f"{LESSON_IS}{facts.lesson}"}
    atoms: set[Atom] = {(tag,) for tag in said & asked.predicates}
    atoms.update([(asked.needs[need],) for need, count in facts.needs.items() if count > 0 and need in asked.needs])
    atoms.update([(asked.avoid[word],) for word in asked.avoid.keys() & facts.avoid])
    atoms.update([(each.sentence,) for each in asked.comparisons if each.holds(facts.numbers)])
    for supply, marks in facts.items.items():
        atoms.update([(asked.lists[mark],) for mark in asked.lists.keys() & marks])
        if supply in asked.lists:
            atoms.add((asked.lists[supply],))
    return atoms


def _item_atoms(asked: Asked, facts: VisitFacts, items: Mapping[str, frozenset[str]]) -> set[Atom]:
    atoms: set[Atom] = set()
    for supply, marks in items.items():
        atoms.update([(asked.marks[mark], supply) for mark in asked.marks.keys() & marks])
        if supply in asked.marks:
            atoms.add((asked.marks[supply], supply))
        if supply in facts.avoid or not facts.avoid.isdisjoint(marks):
            atoms.add((AVOID_ITEM, supply))
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


@lru_cache(maxsize=4096)
def _brought_by(rules: RuleSet, place: int) -> tuple[str, ...]:
    """Supplies that a rule of a set brings in."""
    rule = rules.rules[place]
    return (*(each.supply for each in rule.add), *(each.supply for each in rule.replace))


def _speaks_of_item(action: Action, text: str) -> bool:
    if isinstance(action, Replace | Forbid | Raise):
        return action.what == "item"
    return not isinstance(action, Add) and "item" in blanks_in(text)
