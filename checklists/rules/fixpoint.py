"""Forward chaining to a fixpoint: a program and facts in, all that follows out, with how each thing came to follow.

The layers of a program are run in turn. Within one, every clause whose predicates all have atoms is tried once, in the
order of the clauses; only where predicates rest on each other in a circle are clauses tried again for each new atom
(semi-naive evaluation: Ullman, as in ``checklists.rules.engine``). Clauses that ask for something the visit has not
are never touched, so that a thousand rules cost no more than those that concern it.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping, Set
from functools import lru_cache
from operator import attrgetter

from msgspec import Struct

from checklists.rules.engine import Atom, Entry, Index, Program, Ready, is_variable

Binding = dict[str, str]
Relations = Mapping[str, Mapping[Atom, None]]
"""Predicate -> its atoms in the order they came to be known, so that the same facts always tell the same story."""

_PLACE = attrgetter("place")


class Step(Struct, frozen=True):
    """How an atom first came to follow: the clause, the atoms it used, and those whose absence it used."""

    clause: str
    body: tuple[Atom, ...]
    absent: tuple[Atom, ...]


class Derived(Struct, frozen=True, eq=False):
    """All that holds. A given fact has no entry in ``first``."""

    known: Set[Atom]
    relations: Relations
    first: Mapping[Atom, Step]

    def __contains__(self, atom: Atom) -> bool:
        return atom in self.known

    def __iter__(self) -> Iterator[Atom]:
        for atoms in self.relations.values():
            yield from atoms


class _Run(Struct, frozen=True, eq=False):
    """What is known so far, and what is new since the circles of the layer were last gone through."""

    known: set[Atom]
    relations: dict[str, dict[Atom, None]]
    first: dict[Atom, Step]
    new: deque[Atom]

    def conclude(self, ready: Ready, head: Atom, binding: Binding) -> None:
        self.known.add(head)
        self.relations.setdefault(head[0], {})[head] = None
        body, absent = ready.plain, ready.absent
        if binding:
            body = tuple([_filled(atom, binding) for atom in body])
            absent = tuple([_filled(atom, binding) for atom in absent])
        self.first[head] = Step(ready.name, body, absent)
        self.new.append(head)


@lru_cache(maxsize=512)
def derive(program: Program, facts: frozenset[Atom]) -> Derived:
    """Everything that follows from the facts. The same program and facts give the same object again."""
    run = _Run(set(facts), _by_predicate(facts), {}, deque())
    for layer in program.layers:
        found: list[Entry] = []
        _find(layer.index, run.relations, found)
        found.sort(key=_PLACE)
        for entry in found:
            _try(entry.made or entry.ready, run)
        if not layer.triggers:
            run.new.clear()
        while run.new:
            atom = run.new.popleft()
            for trigger in layer.triggers.get(atom[0], ()):
                binding = _matched(trigger.atom, atom, {})
                if binding is not None:
                    _join(trigger.ready, trigger.rest, binding, run)
    return Derived(run.known, run.relations, run.first)


def _by_predicate(facts: frozenset[Atom]) -> dict[str, dict[Atom, None]]:
    relations: dict[str, dict[Atom, None]] = {}
    for atom in facts:
        relations.setdefault(atom[0], {})[atom] = None
    for predicate, atoms in relations.items():
        if len(atoms) > 1:
            relations[predicate] = dict.fromkeys(sorted(atoms))
    return relations


def _find(index: Index, relations: Relations, found: list[Entry]) -> None:
    """The clauses all of whose predicates have atoms (and a few more)."""
    found.extend(index.here)
    if index.below:
        for predicate in index.below.keys() & relations.keys():
            _find(index.below[predicate], relations, found)


def _try(ready: Ready, run: _Run) -> None:
    """Add the clause's heads for every way in which its conditions hold."""
    known = run.known
    if not (ready.needed <= known and ready.barred.isdisjoint(known)):
        return
    if not ready.join:
        if ready.head not in known:
            run.conclude(ready, ready.head, {})
    elif ready.variable:
        _try_one_by_one(ready, run)
    else:
        _join(ready, ready.join, {}, run)


def _try_one_by_one(ready: Ready, run: _Run) -> None:
    """The usual clause: its conditions speak of one thing, each of the same."""
    known = run.known
    for fact in tuple(run.relations.get(ready.join[0][0], ())):
        if len(fact) != 2:
            continue
        term = fact[1]
        head = (ready.head[0], term) if len(ready.head) > 1 else ready.head
        if (
            head not in known
            and known.issuperset([(atom[0], term) for atom in ready.join])
            and known.isdisjoint([(atom[0], term) for atom in ready.excluded])
        ):
            run.conclude(ready, head, {ready.variable: term})


def _join(ready: Ready, conditions: tuple[Atom, ...], binding: Binding, run: _Run) -> None:
    for found in list(_bindings(conditions, run.relations, binding)):
        head = _filled(ready.head, found)
        if head not in run.known and not any(_filled(atom, found) in run.known for atom in ready.absent):
            run.conclude(ready, head, found)


def _bindings(conditions: tuple[Atom, ...], relations: Relations, binding: Binding) -> Iterator[Binding]:
    if not conditions:
        yield binding
        return
    atom, rest = conditions[0], conditions[1:]
    known = relations.get(atom[0])
    if not known:
        return
    if all(term in binding for term in atom[1:] if is_variable(term)):
        if _filled(atom, binding) in known:
            yield from _bindings(rest, relations, binding)
        return
    for fact in known:
        extended = _matched(atom, fact, binding)
        if extended is not None:
            yield from _bindings(rest, relations, extended)


def _filled(atom: Atom, binding: Binding) -> Atom:
    if len(atom) == 1 or not binding:
        return atom
    return (atom[0], *(binding[term] if is_variable(term) else term for term in atom[1:]))


def _matched(atom: Atom, fact: Atom, binding: Binding) -> Binding | None:
    """The binding with what ``fact`` says of the atom's variables; None where the two do not fit."""
    if len(atom) != len(fact):
        return None
    extended = binding
    for term, value in zip(atom[1:], fact[1:], strict=True):
        if not is_variable(term):
            if term != value:
                return None
        elif term not in extended:
            extended = {**extended, term: value}
        elif extended[term] != value:
            return None
    return extended
