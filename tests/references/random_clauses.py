"""Random sets of clauses, stratified by the way they are made or as they come; and both in the solver's language."""

from __future__ import annotations

import random

from checklists.rules.engine import Atom, Clause, Condition

CONSTANTS = ("a", "b", "c", "d")


def written(atom: Atom) -> str:
    """An atom in the solver's language."""
    terms = ",".join(term[1:].upper() if term.startswith("?") else term for term in atom[1:])
    return f"{atom[0]}({terms})" if terms else atom[0]


def written_clause(clause: Clause) -> str:
    if not clause.body:
        return written(clause.head) + "."
    body = ", ".join(("not " if each.negated else "") + written(each.atom) for each in clause.body)
    return f"{written(clause.head)} :- {body}."


def written_program(clauses: list[Clause], facts: frozenset[Atom]) -> str:
    return "\n".join([*(written(atom) + "." for atom in facts), *(written_clause(clause) for clause in clauses)])


def stratified_clauses(
    random_: random.Random, widest: int, *, negation: bool = True
) -> tuple[list[Clause], frozenset[Atom]]:
    """Clauses and facts; a clause negates only what lies in layers below its own. ``widest``: most terms of an atom."""
    layers = random_.randint(1, 3)
    arity: dict[str, int] = {}
    layer_of: dict[str, int] = {}
    for number in range(random_.randint(3, 9)):
        arity[f"p{number}"] = random_.randint(0, widest)
        layer_of[f"p{number}"] = random_.randrange(layers)
    predicates = sorted(arity)
    clauses = []
    for number in range(random_.randint(1, 12)):
        head = random_.choice(predicates)
        below = [name for name in predicates if layer_of[name] < layer_of[head]] if negation else []
        beside = [name for name in predicates if layer_of[name] <= layer_of[head]]
        plain = random_.choices(beside, k=random_.randint(0, 3))
        absent = random_.choices(below, k=random_.randint(0, 2)) if below else []
        clauses.append(_clause(random_, head, plain, absent, arity, f"clause {number}"))
    return clauses, _facts(random_, arity)


def any_clauses(random_: random.Random) -> list[Clause]:
    """Clauses that negate what they like: about half of these sets have a circle through a "not"."""
    arity = {f"p{number}": random_.randint(0, 1) for number in range(random_.randint(2, 9))}
    clauses = []
    for number in range(random_.randint(1, 14)):
        head = random_.choice(sorted(arity))
        plain = random_.choices(sorted(arity), k=random_.randint(0, 2))
        absent = random_.choices(sorted(arity), k=int(random_.random() < 0.35))
        clauses.append(_clause(random_, head, plain, absent, arity, f"clause {number}"))
    return clauses


def _clause(
    random_: random.Random, head: str, plain: list[str], absent: list[str], arity: dict[str, int], name: str
) -> Clause:
    variables = ("?x", "?y")[: random_.randint(1, 2)]

    def atom(predicate: str, names: tuple[str, ...]) -> Atom:
        terms = (
            random_.choice(names) if names and random_.random() < 0.8 else random_.choice(CONSTANTS)
            for _ in range(arity[predicate])
        )
        return (predicate, *terms)

    asked = [atom(each, variables) for each in plain]
    bound = tuple(sorted({term for each in asked for term in each[1:] if term.startswith("?")}))
    body = [*(Condition(each) for each in asked), *(Condition(atom(each, bound), negated=True) for each in absent)]
    random_.shuffle(body)
    return Clause(atom(head, bound), tuple(body), name)


def _facts(random_: random.Random, arity: dict[str, int]) -> frozenset[Atom]:
    chosen = random_.choices(sorted(arity), k=random_.randint(0, 8))
    return frozenset((name, *random_.choices(CONSTANTS, k=arity[name])) for name in chosen)
