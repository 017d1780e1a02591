"""Clauses, and how they are made ready to be run: in layers, so that "not" has one clear meaning.

An atom is a tuple of strings, its predicate first: ``("wet",)``, ``("item is powder", "dry-clay")``. In a clause a term
that starts with "?" is a variable. A clause concludes its head for every binding under which all its conditions hold; a
negated condition holds when its atom does not follow. That has one clear meaning only where no predicate rests on its
own negation, so a set of clauses is first put into layers (``stratify``); one that cannot be is refused, naming the
circle. Every variable of a head or of a negated condition must occur in a plain condition.

A layer holds predicates that rest on lower layers only, or on each other in a circle without negation. So nearly every
clause finds all it asks for settled, is tried once, and the first clause in order that concludes a thing tells why.
``checklists.rules.fixpoint`` runs what is made here.

Layers of stratified Datalog: J. D. Ullman, Principles of Database and Knowledge-Base Systems, volume 1, 1988, chapter
3. Circles: R. Tarjan, Depth-first search and linear graph algorithms, SIAM J. Comput. 1 (2), 1972. Both from memory.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from msgspec import Struct

Atom = tuple[str, ...]

FEW = 3
"""So many clauses are tried one by one rather than told apart by what else they ask for: cheaper than looking up."""


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


class Ready(Struct, frozen=True, eq=False):
    """A clause made ready: conditions without a variable apart, for they hold or not whatever is bound."""

    name: str
    head: Atom
    plain: tuple[Atom, ...]
    absent: tuple[Atom, ...]
    needed: frozenset[Atom]
    """Plain conditions without a variable."""
    barred: frozenset[Atom]
    """Negated conditions without a variable."""
    join: tuple[Atom, ...]
    """The other plain conditions, in the order in which to join them."""
    excluded: tuple[Atom, ...]
    """The other negated conditions."""
    variable: str
    """The one variable of a clause whose conditions each speak of it alone; empty where there is none, or several."""


class Entry(Struct, eq=False):
    """A clause of a program and its place in it. It is made ready when it is first tried, which most never are."""

    place: int
    clause: Clause
    made: Ready | None = None

    @property
    def ready(self) -> Ready:
        if self.made is None:
            self.made = _ready(self.clause)
        return self.made


class Trigger(Struct, frozen=True, eq=False):
    """To be tried again when an atom like ``atom`` is new; ``rest`` are the other plain conditions in join order."""

    ready: Ready
    atom: Atom
    rest: tuple[Atom, ...]


class Index(Struct, frozen=True, eq=False):
    """Clauses by the predicates they ask for, the rarest first: where one has no atoms, all below it is passed over."""

    here: tuple[Entry, ...]
    below: Mapping[str, Index]


class Layer(Struct, frozen=True, eq=False):
    index: Index
    triggers: Mapping[str, tuple[Trigger, ...]]


class Program(Struct, frozen=True, eq=False):
    """Clauses in layers, ready to be run. Compared and hashed by identity."""

    layers: tuple[Layer, ...]
    asked: frozenset[str]
    """Predicates of all conditions: no other fact can make a difference."""


# ------------------------------------------------------------------------------------------------------- layers


def stratify(clauses: Iterable[Clause]) -> Program | Cycle | Unsafe:
    """The clauses as a program, or what is wrong with them."""
    clauses = tuple(clauses)
    for clause in clauses:
        if loose := _unbound_variables(clause):
            return Unsafe(clause, loose)
    rests_on: dict[str, dict[str, None]] = {}
    for clause in clauses:
        rests_on.setdefault(clause.head[0], {}).update((condition.atom[0], None) for condition in clause.body)
    circles = _circles(rests_on)
    circle_of = {predicate: number for number, circle in enumerate(circles) for predicate in circle}
    for clause in clauses:
        for condition in clause.body:
            if condition.negated and circle_of.get(condition.atom[0]) == circle_of[clause.head[0]]:
                way = _shortest_way(rests_on, condition.atom[0], clause.head[0])
                return Cycle((clause.head[0], *way[:-1]))
    levels = _levels(circles, circle_of, rests_on)
    by_level: dict[int, list[tuple[int, Clause]]] = {}
    for place, clause in enumerate(clauses):
        by_level.setdefault(levels[circle_of[clause.head[0]]], []).append((place, clause))
    layers = tuple(_layer(by_level[level], circle_of) for level in sorted(by_level))
    return Program(layers, frozenset(condition.atom[0] for clause in clauses for condition in clause.body))


def is_variable(term: str) -> bool:
    return term.startswith("?")


def _variables(atom: Atom) -> tuple[str, ...]:
    return tuple([term for term in atom[1:] if is_variable(term)]) if len(atom) > 1 else ()


def _unbound_variables(clause: Clause) -> tuple[str, ...]:
    asked = [*_variables(clause.head)]
    for condition in clause.body:
        if condition.negated:
            asked.extend(_variables(condition.atom))
    if not asked:
        return ()
    bound = {name for condition in clause.body if not condition.negated for name in _variables(condition.atom)}
    return tuple(dict.fromkeys(name for name in asked if name not in bound))


def _circles(rests_on: Mapping[str, Iterable[str]]) -> list[list[str]]:
    """Predicates that rest on each other, together; mostly each alone. What a circle rests on comes before it.

    Only predicates that clauses conclude. Without recursion: a chain of rules may be as long as it likes.
    """
    found: list[list[str]] = []
    reached: dict[str, int] = {}
    lowest: dict[str, int] = {}
    settled: set[str] = set()
    stack: list[str] = []
    for start in rests_on:
        if start in reached:
            continue
        reached[start] = lowest[start] = len(reached)
        stack.append(start)
        path = [(start, iter(rests_on[start]))]
        while path:
            predicate, following = path[-1]
            for other in following:
                if other not in rests_on or other in settled:
                    continue
                if other not in reached:
                    reached[other] = lowest[other] = len(reached)
                    stack.append(other)
                    path.append((other, iter(rests_on[other])))
                    break
                lowest[predicate] = min(lowest[predicate], reached[other])
            else:
                path.pop()
                if path:
                    lowest[path[-1][0]] = min(lowest[path[-1][0]], lowest[predicate])
                if lowest[predicate] == reached[predicate]:
                    circle = [stack.pop()]
                    while circle[-1] != predicate:
                        circle.append(stack.pop())
                    found.append(circle)
                    settled.update(circle)
    return found


def _shortest_way(rests_on: Mapping[str, Iterable[str]], start: str, goal: str) -> tuple[str, ...]:
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
    raise AssertionError("two predicates of one circle reach each other")


def _levels(circles: list[list[str]], circle_of: Mapping[str, int], rests_on: Mapping[str, Iterable[str]]) -> list[int]:
    """The layer of each circle: one above the highest it rests on, the lowest where it rests on given facts only."""
    levels: list[int] = []
    for number, circle in enumerate(circles):
        others = {circle_of.get(other, number) for predicate in circle for other in rests_on[predicate]} - {number}
        levels.append(max((levels[other] + 1 for other in others), default=0))
    return levels


# ---------------------------------------------------------------------------------------------------- made ready


def _layer(clauses: list[tuple[int, Clause]], circle_of: Mapping[str, int]) -> Layer:
    asked_by = [
        dict.fromkeys([condition.atom[0] for condition in clause.body if not condition.negated])
        for _, clause in clauses
    ]
    shared: dict[str, int] = {}
    for asked in asked_by:
        for predicate in asked:
            shared[predicate] = shared.get(predicate, 0) + 1
    keyed: list[tuple[tuple[str, ...], Entry]] = []
    triggers: dict[str, list[Trigger]] = {}
    for (place, clause), asked in zip(clauses, asked_by, strict=True):
        entry = Entry(place, clause)
        keyed.append((tuple(sorted(asked, key=lambda each: (shared[each], each))), entry))
        for predicate in asked:
            if circle_of.get(predicate) == circle_of[clause.head[0]]:
                triggers.setdefault(predicate, []).extend(_triggers(entry.ready, predicate))
    return Layer(_index(keyed, 0), {predicate: tuple(each) for predicate, each in triggers.items()})


def _triggers(ready: Ready, predicate: str) -> Iterator[Trigger]:
    plain = tuple(dict.fromkeys(ready.plain))
    for atom in plain:
        if atom[0] == predicate:
            yield Trigger(ready, atom, _join_order(_variables(atom), tuple(each for each in plain if each != atom)))


@lru_cache(maxsize=4096)
def _ready(clause: Clause) -> Ready:
    plain = tuple([condition.atom for condition in clause.body if not condition.negated])
    absent = tuple([condition.atom for condition in clause.body if condition.negated])
    needed = frozenset([atom for atom in plain if not _variables(atom)])
    barred = frozenset([atom for atom in absent if not _variables(atom)])
    join = _join_order((), tuple([atom for atom in dict.fromkeys(plain) if atom not in needed]))
    excluded = tuple([atom for atom in absent if atom not in barred])
    said = {atom[1:] for atom in (*join, *excluded, *([clause.head] if len(clause.head) > 1 else []))}
    (variable,) = said.pop() if join and len(said) == 1 and len(join[0]) == 2 else ("",)
    return Ready(clause.name, clause.head, plain, absent, needed, barred, join, excluded, variable)


def _join_order(bound: tuple[str, ...], plain: tuple[Atom, ...]) -> tuple[Atom, ...]:
    """Conditions always one next of whose variables fewest are left to bind."""
    known, rest, order = set(bound), list(plain), []
    while rest:
        following = min(rest, key=lambda atom: len({*_variables(atom)} - known))
        rest.remove(following)
        order.append(following)
        known.update(_variables(following))
    return tuple(order)


def _index(keyed: list[tuple[tuple[str, ...], Entry]], depth: int) -> Index:
    if len(keyed) <= FEW:
        return Index(tuple([entry for _, entry in keyed]), {})
    here = tuple([entry for path, entry in keyed if len(path) == depth])
    below: dict[str, list[tuple[tuple[str, ...], Entry]]] = {}
    for path, entry in keyed:
        if len(path) > depth:
            below.setdefault(path[depth], []).append((path, entry))
    return Index(here, {predicate: _index(each, depth + 1) for predicate, each in below.items()})
