"""From the facts of a visit to what the rules make of them: effects, each with its reason and its chain of facts.

What rules add or put in place becomes a supply of the visit, which may call for more (scissors are counted out and
back), so the rules are run again until no supply is new. The effects are those of the last run. "lists …" always speaks
of what the part itself lists.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable

from checklists.rules.clauses import actions_of, applies, text_of
from checklists.rules.conditions import AVOID_ITEM
from checklists.rules.engine import Atom, Derived, derive
from checklists.rules.read import RuleSet, program_without
from checklists.rules.records import Action, Add, Effect, Forbid, Raise, Replace, Rule, SwitchedOff, VisitFacts
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
    derived, applying = _reason(rules, facts, date, marks_of, switched_off)
    return tuple(_effects(rules, facts, derived, applying, name_of))


def tags_for(
    rules: RuleSet,
    facts: VisitFacts,
    *,
    date: datetime.date,
    marks_of: Callable[[str], frozenset[str]],
    switched_off: Iterable[SwitchedOff] = (),
) -> frozenset[str]:
    """The tags of a visit, those that rules give it included."""
    derived, _ = _reason(rules, facts, date, marks_of, switched_off)
    return frozenset(predicate for predicate, atoms in derived.relations.items() if (predicate,) in atoms)


def _reason(
    rules: RuleSet,
    facts: VisitFacts,
    date: datetime.date,
    marks_of: Callable[[str], frozenset[str]],
    switched_off: Iterable[SwitchedOff],
) -> tuple[Derived, list[tuple[Rule, tuple[Atom, ...]]]]:
    left_out = frozenset(each.rule for each in (*rules.off, *switched_off) if _is_off(each, facts, date))
    program = program_without(rules, left_out)
    atoms = _given_atoms(rules, facts) | _item_atoms(rules, facts, facts.items)
    known = set(facts.items)
    while True:
        derived = derive(program, atoms)
        applying = _applying(rules, derived)
        brought = {each.supply for rule, _ in applying for each in rule.add}
        brought |= {each.supply for rule, _ in applying for each in rule.replace}
        new = brought - known
        if not new:
            return derived, applying
        known |= new
        atoms |= _item_atoms(rules, facts, {supply: marks_of(supply) for supply in new})


def _is_off(entry: SwitchedOff, facts: VisitFacts, date: datetime.date) -> bool:
    return (
        entry.class_id in ("", facts.class_id)
        and entry.lesson in ("", facts.lesson)
        and (entry.until is None or date <= entry.until)
    )


def _given_atoms(rules: RuleSet, facts: VisitFacts) -> frozenset[Atom]:
    listed = set(facts.items).union(*facts.items.values())
    return frozenset(
        (
            *((tag,) for tag in facts.tags),
            *((f"need {need}",) for need, count in facts.needs.items() if count > 0),
            *((f"avoid {word}",) for word in facts.avoid),
            *((each.sentence,) for each in rules.comparisons if each.holds(facts.numbers)),
            *((sentence,) for sentence, mark in rules.lists if mark in listed),
        )
    )


def _item_atoms(rules: RuleSet, facts: VisitFacts, items: dict[str, frozenset[str]]) -> frozenset[Atom]:
    atoms: set[Atom] = set()
    for supply, marks in items.items():
        atoms.update((f"item is {mark}", supply) for mark in rules.marks.intersection(marks))
        if supply in rules.marks:
            atoms.add((f"item is {supply}", supply))
        if not facts.avoid.isdisjoint(marks) or supply in facts.avoid:
            atoms.add((AVOID_ITEM, supply))
    return frozenset(atoms)


def _applying(rules: RuleSet, derived: Derived) -> list[tuple[Rule, tuple[Atom, ...]]]:
    """Rules that apply, in order, each with the atoms that say so: one, or one for each supply."""
    places = sorted(place for predicate in derived.relations if (place := rules.places.get(predicate)) is not None)
    return [(rule, tuple(sorted(derived.relations[applies(rule)]))) for rule in (rules.rules[each] for each in places)]


def _effects(
    rules: RuleSet,
    facts: VisitFacts,
    derived: Derived,
    applying: list[tuple[Rule, tuple[Atom, ...]]],
    name_of: Callable[[str], str] | None,
) -> Iterable[Effect]:
    telling = Telling(rules, facts, derived, name_of)
    for rule, atoms in applying:
        told = {atom: telling.chain_of(atom) for atom in atoms}
        for action in actions_of(rule):
            groups = [(atom,) for atom in atoms] if _speaks_of_item(action) else [atoms]
            for group in groups:
                items = tuple(term for atom in group for term in atom[1:])
                yield Effect(
                    rule=rule,
                    action=action,
                    item=items[0] if items and _speaks_of_item(action) else "",
                    because=telling.filled(rule.because, items),
                    text=telling.filled(text_of(action), items),
                    facts=tuple(dict.fromkeys(fact for atom in group for fact in told[atom])),
                )


def _speaks_of_item(action: Action) -> bool:
    if isinstance(action, Replace | Forbid | Raise):
        return action.what == "item"
    return not isinstance(action, Add) and "item" in blanks_in(text_of(action))
