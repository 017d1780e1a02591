"""Forward chaining to a fixpoint: clauses and facts in, all that follows out, with how each thing came to follow.

An atom is a tuple of strings, its predicate first: ``("wet",)``, ``("item is powder", "dry-clay")``. In a clause a term
that starts with "?" is a variable. A clause concludes its head for every binding under which all its conditions hold; a
negated condition holds when its atom does not follow. That has one clear meaning only where no predicate rests on its
own negation, so a set of clauses is first put into layers (``stratify``); one that cannot be is refused, naming the
circle. Every variable of a head or of a negated condition must occur in a plain condition.

Semi-naive evaluation of stratified Datalog: J. D. Ullman, Principles of Database and Knowledge-Base Systems, volume 1,
1988, chapter 3 (from memory).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from msgspec import Struct

Atom = tuple[str, ...]
Binding = dict[str, str]
Relations = Mapping[str, Mapping[Atom, None]]
"""Predicate -> its atoms in the order they came to be known, so that the same facts always tell the same story."""


class Condition(Struct, frozen=True):
    atom: Atom
    negated: bool = False


class Clause(Struct, frozen=True):
    head: Atom
    body: tuple[Condition, ...] = ()
    name: str = ""


class Cycle(Struct, frozen=True):
    """Predicates of which each rests on the next, the last on the first, and the first on the second's absence."""

    predicates: tuple[str, ...]


class Unsafe(Struct, frozen=True):
    """A clause with variables that no plain condition binds."""

    clause: Clause
    variables: tuple[str, ...]


class Step(Struct, frozen=True):
    """How an atom first came to follow: the clause, the atoms it used, and those whose absence it used."""

    clause: str
    body: tuple[Atom, ...]
    absent: tuple[Atom, ...]


class Derived(Struct, frozen=True, eq=False):
    """All that holds. A given fact has no entry in ``first``."""

    relations: Relations
    first: Mapping[Atom, Step]

    def __contains__(self, atom: Atom) -> bool:
        return atom in self.relations.get(atom[0], ())

    def __iter__(self) -> Iterator[Atom]:
        for atoms in self.relations.values():
            yield from atoms


class _Ready(Struct, frozen=True, eq=False):
    """A clause made ready: plain and negated conditions apart, the order in which to join them, and where it stands."""

    place: int
    name: str
    head: Atom
    plain: tuple[Atom, ...]
    absent: tuple[Atom, ...]
    join: tuple[Atom, ...]
    ground: bool


class _Trigger(Struct, frozen=True, eq=False):
    """To be tried again when an atom like ``atom`` is new; ``rest`` are the other plain conditions in join order."""

    ready: _Ready
    atom: Atom
    rest: tuple[Atom, ...]


class _Layer(Struct, frozen=True, eq=False):
    keyed: Mapping[str, tuple[_Ready, ...]]
    """Each clause once, under the predicate that fewest clauses share: without it the clause is never touched."""
    unkeyed: tuple[_Ready, ...]
    triggers: Mapping[str, tuple[_Trigger, ...]]


class Program(Struct, frozen=True, eq=False):
    """Clauses in layers, ready to be run. Compared and hashed by identity."""

    layers: tuple[_Layer, ...]


# ------------------------------------------------------------------------------------------------------- layers


def stratify(clauses: Iterable[Clause]) -> Program | Cycle | Unsafe:
    """The clauses as a program, or what is wrong with them."""
    clauses = tuple(clauses)
    for clause in clauses:
        if loose := _unbound_variables(clause):
            return Unsafe(clause, loose)
    levels = _levels(clauses)
    if levels is None:
        return Cycle(_circle_through_negation(clauses))
    by_level: dict[int, list[tuple[int, Clause]]] = {}
    for place, clause in enumerate(clauses):
        by_level.setdefault(levels[clause.head[0]], []).append((place, clause))
    return Program(tuple(_layer(by_level[level]) for level in sorted(by_level)))


def _is_variable(term: str) -> bool:
    return term.startswith("?")


def _variables(atom: Atom) -> tuple[str, ...]:
    return tuple(term for term in atom[1:] if _is_variable(term))


def _unbound_variables(clause: Clause) -> tuple[str, ...]:
    bound = {name for condition in clause.body if not condition.negated for name in _variables(condition.atom)}
    asked = [*_variables(clause.head)]
    for condition in clause.body:
        if condition.negated:
            asked.extend(_variables(condition.atom))
    return tuple(dict.fromkeys(name for name in asked if name not in bound))


def _levels(clauses: tuple[Clause, ...]) -> dict[str, int] | None:
    """Lowest layer of every predicate; None when some predicate rests on its own negation."""
    above: dict[str, list[tuple[str, int]]] = {}
    levels: dict[str, int] = {}
    for clause in clauses:
        levels[clause.head[0]] = 0
        for condition in clause.body:
            levels.setdefault(condition.atom[0], 0)
            above.setdefault(condition.atom[0], []).append((clause.head[0], int(condition.negated)))
    waiting = deque(levels)
    while waiting:
        predicate = waiting.popleft()
        for head, rise in above.get(predicate, ()):
            if levels[head] < levels[predicate] + rise:
                levels[head] = levels[predicate] + rise
                if levels[head] >= len(levels):  # no path without a circle is that long
                    return None
                waiting.append(head)
    return levels


def _circle_through_negation(clauses: tuple[Clause, ...]) -> tuple[str, ...]:
    """The shortest circle that goes through the first negated condition that lies on any."""
    rests_on: dict[str, list[str]] = {}
    for clause in clauses:
        rests_on.setdefault(clause.head[0], []).extend(condition.atom[0] for condition in clause.body)
    for clause in clauses:
        for condition in clause.body:
            if condition.negated and (way := _shortest_way(rests_on, condition.atom[0], clause.head[0])):
                return (clause.head[0], *way[:-1])
    raise AssertionError("a set of clauses without layers has a circle through negation")


def _shortest_way(rests_on: Mapping[str, list[str]], start: str, goal: str) -> tuple[str, ...]:
    before: dict[str, str] = {start: ""}
    waiting = deque([start])
    while waiting:
        predicate = waiting.popleft()
        if predicate == goal:
            way = [goal]
            while way[-1] != start:
                way.append(before[way[-1]])
            return tuple(reversed(way))
        for other in rests_on.get(predicate, ()):
            if other not in before:
                before[other] = predicate
                waiting.append(other)
    return ()


def _layer(clauses: list[tuple[int, Clause]]) -> _Layer:
    shared: dict[str, int] = {}
    for _, clause in clauses:
        for condition in clause.body:
            if not condition.negated:
                shared[condition.atom[0]] = shared.get(condition.atom[0], 0) + 1
    concluded_here = {clause.head[0] for _, clause in clauses}
    keyed: dict[str, list[_Ready]] = {}
    unkeyed: list[_Ready] = []
    triggers: dict[str, list[_Trigger]] = {}
    for place, clause in clauses:
        plain = tuple(condition.atom for condition in clause.body if not condition.negated)
        absent = tuple(condition.atom for condition in clause.body if condition.negated)
        key = min(plain, key=lambda atom: shared[atom[0]], default=None)
        join = (key, *_join_order(key, plain)) if key else ()
        ground = not any(_variables(atom) for atom in (clause.head, *plain, *absent))
        ready = _Ready(place, clause.name, clause.head, plain, absent, join, ground)
        if key is None:
            unkeyed.append(ready)
        else:
            keyed.setdefault(key[0], []).append(ready)
        for atom in dict.fromkeys(plain):
            if atom[0] in concluded_here:
                triggers.setdefault(atom[0], []).append(_Trigger(ready, atom, _join_order(atom, plain)))
    return _Layer(
        {predicate: tuple(readied) for predicate, readied in keyed.items()},
        tuple(unkeyed),
        {predicate: tuple(each) for predicate, each in triggers.items()},
    )


def _join_order(start: Atom, plain: tuple[Atom, ...]) -> tuple[Atom, ...]:
    """The plain conditions but ``start``, always one next whose variables are bound soonest."""
    bound = set(_variables(start))
    rest = [atom for atom in dict.fromkeys(plain) if atom != start]
    order: list[Atom] = []
    while rest:
        following = min(rest, key=lambda atom: sum(name not in bound for name in set(_variables(atom))))
        rest.remove(following)
        order.append(following)
        bound.update(_variables(following))
    return tuple(order)


# ------------------------------------------------------------------------------------------------- the fixpoint


@lru_cache(maxsize=512)
def derive(program: Program, facts: frozenset[Atom]) -> Derived:
    """Everything that follows from the facts. The same program and facts give the same object again."""
    relations: dict[str, dict[Atom, None]] = {}
    first: dict[Atom, Step] = {}
    for atom in sorted(facts):
        relations.setdefault(atom[0], {})[atom] = None
    for layer in program.layers:
        new: deque[Atom] = deque()
        present = layer.keyed.keys() & relations.keys()
        candidates = [ready for predicate in present for ready in layer.keyed[predicate]]
        candidates.extend(layer.unkeyed)
        candidates.sort(key=lambda ready: ready.place)
        for ready in candidates:
            _conclude(ready, ready.join, {}, relations, first, new)
        while new:
            atom = new.popleft()
            for trigger in layer.triggers.get(atom[0], ()):
                binding = _matched(trigger.atom, atom, {})
                if binding is not None:
                    _conclude(trigger.ready, trigger.rest, binding, relations, first, new)
    return Derived(relations, first)


def _conclude(
    ready: _Ready,
    conditions: tuple[Atom, ...],
    binding: Binding,
    relations: dict[str, dict[Atom, None]],
    first: dict[Atom, Step],
    new: deque[Atom],
) -> None:
    """Add the clause's heads for every way in which the conditions hold, and note how each came about."""
    if ready.ground:
        if ready.head in relations.get(ready.head[0], ()):
            return
        for atom in conditions:
            if atom not in relations.get(atom[0], ()):
                return
        bindings = [binding]
    else:
        bindings = list(_bindings(conditions, relations, binding))
    for found in bindings:
        head = _filled(ready.head, found)
        if head in relations.get(head[0], ()):
            continue
        absent = tuple(_filled(atom, found) for atom in ready.absent)
        if any(atom in relations.get(atom[0], ()) for atom in absent):
            continue
        relations.setdefault(head[0], {})[head] = None
        first[head] = Step(ready.name, tuple(_filled(atom, found) for atom in ready.plain), absent)
        new.append(head)


def solutions(body: tuple[Condition, ...], derived: Derived) -> Iterator[Binding]:
    """Every binding under which the conditions hold. Negated ones may only use variables that plain ones bind."""
    plain = tuple(condition.atom for condition in body if not condition.negated)
    absent = tuple(condition.atom for condition in body if condition.negated)
    for binding in _bindings(plain, derived.relations, {}):
        if not any(_filled(atom, binding) in derived for atom in absent):
            yield binding


def _bindings(conditions: tuple[Atom, ...], relations: Relations, binding: Binding) -> Iterator[Binding]:
    if not conditions:
        yield binding
        return
    atom, rest = conditions[0], conditions[1:]
    known = relations.get(atom[0])
    if not known:
        return
    if all(term in binding for term in atom[1:] if _is_variable(term)):
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
    return (atom[0], *(binding[term] if _is_variable(term) else term for term in atom[1:]))


def _matched(atom: Atom, fact: Atom, binding: Binding) -> Binding | None:
    """The binding with what ``fact`` says of the atom's variables; None where the two do not fit."""
    if len(atom) != len(fact):
        return None
    extended = binding
    for term, value in zip(atom[1:], fact[1:], strict=True):
        if not _is_variable(term):
            if term != value:
                return None
        elif term not in extended:
            extended = {**extended, term: value}
        elif extended[term] != value:
            return None
    return extended
