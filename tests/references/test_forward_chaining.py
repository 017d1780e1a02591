"""Forward chaining: worked examples with their source, random sets of clauses against a solver, and what is refused.

A stratified set of clauses has exactly one stable model, which is what the engine must derive. One stable model is
necessary for stratified, not sufficient, so that a set is refused is held against the strongly connected components of
its graph, as scipy finds them.
"""

from __future__ import annotations

import random
from itertools import pairwise

import pytest
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from checklists.rules.engine import Atom, Clause, Condition, Cycle, Program, Unsafe, stratify
from checklists.rules.fixpoint import Derived, derive
from tests.references.random_clauses import any_clauses, stratified_clauses, written, written_program
from tests.references.solver import stable_models


def program(clauses: list[Clause]) -> Program:
    made = stratify(clauses)
    assert isinstance(made, Program)
    return made


def solved(clauses: list[Clause], facts: frozenset[Atom]) -> list[set[str]]:
    return [{str(symbol) for symbol in model} for model in stable_models(written_program(clauses, facts))]


def clause(head: str, *body: str) -> Clause:
    """ "path ?x ?y", "edge ?x ?z", "not path ?z ?y" …"""
    conditions = tuple(
        Condition(tuple(each.removeprefix("not ").split()), negated=each.startswith("not ")) for each in body
    )
    return Clause(tuple(head.split()), conditions, name=head)


def edges(*pairs: str) -> frozenset[Atom]:
    return frozenset(("edge", pair[0], pair[1]) for pair in pairs)


def pairs_of(predicate: str, derived: Derived) -> set[str]:
    return {"".join(atom[1:]) for atom in derived if atom[0] == predicate}


def new_in_rounds(clauses: list[Clause], facts: frozenset[Atom], predicate: str, rounds: int) -> list[set[str]]:
    """What naive evaluation finds anew in each round: every clause is applied once to what the round before knew.

    The rounds are spelled out as predicates, "path 0" (nothing yet), "path 1", …, so that no clause rests on itself.
    """

    def in_round(atom: Atom, number: int) -> Atom:
        return (f"{predicate} {number}", *atom[1:]) if atom[0] == predicate else atom

    spelled_out = [
        Clause(
            in_round(each.head, number),
            tuple(Condition(in_round(condition.atom, number - 1), condition.negated) for condition in each.body),
        )
        for number in range(1, rounds + 1)
        for each in clauses
    ]
    derived = derive(program(spelled_out), facts)
    known = [pairs_of(f"{predicate} {number}", derived) for number in range(rounds + 1)]
    return [after - before for before, after in pairwise(known)]


# ------------------------------------------------------------------------------------------- worked examples


def test_paths_of_a_diamond_with_a_tail() -> None:
    """Source: a University of Washington lecture slide on recursive Datalog: 9 paths, in rounds of 5, 3 and 1."""
    clauses = [clause("path ?x ?y", "edge ?x ?y"), clause("path ?x ?y", "path ?x ?z", "path ?z ?y")]
    diamond = edges("ab", "ac", "bd", "cd", "de")
    paths = pairs_of("path", derive(program(clauses), diamond))
    assert paths == {"ab", "ac", "bd", "cd", "de", "ad", "be", "ce", "ae"}
    assert new_in_rounds(clauses, diamond, "path", 4) == [
        {"ab", "ac", "bd", "cd", "de"},
        {"ad", "be", "ce"},
        {"ae"},
        set(),
    ]


def test_paths_of_a_chain() -> None:
    """Source: Berkeley CS286 lecture slides: edges 12, 23, 34 give 12, 13, 14, 23, 24, 34 in three rounds and an empty
    one."""
    clauses = [clause("path ?x ?y", "edge ?x ?y"), clause("path ?x ?y", "path ?x ?z", "edge ?z ?y")]
    chain = edges("12", "23", "34")
    assert pairs_of("path", derive(program(clauses), chain)) == {"12", "13", "14", "23", "24", "34"}
    assert new_in_rounds(clauses, chain, "path", 4) == [{"12", "23", "34"}, {"13", "24"}, {"14"}, set()]


def test_paths_of_a_ring_come_to_an_end() -> None:
    """Computed by hand: three nodes in a ring reach each other and themselves."""
    clauses = [clause("path ?x ?y", "edge ?x ?y"), clause("path ?x ?y", "path ?x ?z", "edge ?z ?y")]
    paths = pairs_of("path", derive(program(clauses), edges("12", "23", "31")))
    assert paths == {start + end for start in "123" for end in "123"}


def test_what_cannot_be_reached_needs_a_second_layer() -> None:
    """Computed by hand: from 1 along 1-2-3 one reaches 1, 2, 3, so 4 is left."""
    clauses = [
        clause("unreached ?x", "node ?x", "not reached ?x"),
        clause("reached ?x", "start ?x"),
        clause("reached ?y", "reached ?x", "edge ?x ?y"),
    ]
    facts = edges("12", "23") | {("node", each) for each in "1234"} | {("start", "1")}
    derived = derive(program(clauses), facts)
    assert pairs_of("reached", derived) == {"1", "2", "3"}
    assert pairs_of("unreached", derived) == {"4"}
    assert len(program(clauses).layers) == 2


def test_lessons_with_dusty_materials_are_held_back_from_young_classes() -> None:
    """Computed with clingo: tempera in grade 1 and wet clay in grade 2 are ready, powdered clay in grade 5 is not."""
    clauses = [
        *(clause("young ?l", f"grade ?l {grade}") for grade in range(7)),
        clause("block ?l ?m", "uses ?l ?m", "dusty ?m", "young ?l"),
        clause("blocked ?l", "block ?l ?m"),
        clause("ready ?l", "lesson ?l", "not blocked ?l"),
        clause("needs ?l apron", "uses ?l tempera"),
        clause("needs ?l board", "uses ?l wet_clay"),
        clause("needs ?l bin", "needs ?l apron"),
        clause("needs ?l bin", "needs ?l board"),
    ]
    facts = frozenset(
        tuple(each.split())
        for each in (
            *("lesson l1", "lesson l2", "lesson l3", "grade l1 1", "grade l2 5", "grade l3 2", "dusty powdered_clay"),
            *("uses l1 tempera", "uses l2 powdered_clay", "uses l3 wet_clay", "uses l3 scissors"),
        )
    )
    derived = derive(program(clauses), facts)
    assert {atom[1:] for atom in derived if atom[0] == "block"} == {("l2", "powdered_clay")}
    assert {atom[1] for atom in derived if atom[0] == "ready"} == {"l1", "l3"}
    assert {atom[1:] for atom in derived if atom[0] == "needs"} == {
        ("l1", "apron"),
        ("l1", "bin"),
        ("l3", "board"),
        ("l3", "bin"),
    }
    assert [{written(atom) for atom in derived}] == solved(clauses, facts)


# --------------------------------------------------------------------------- random sets against the solver


@pytest.mark.parametrize("widest", [0, 1, 2])
def test_what_follows_from_a_random_set_is_what_the_solver_finds(widest: int) -> None:
    seeds = 700
    with_negation = derived_something = in_circles = 0
    for seed in range(seeds):
        clauses, facts = stratified_clauses(random.Random(f"{widest}/{seed}"), widest)
        made = program(clauses)
        derived = derive(made, facts)
        assert [{written(atom) for atom in derived}] == solved(clauses, facts), (clauses, facts)
        with_negation += any(condition.negated for each in clauses for condition in each.body)
        derived_something += bool(derived.first)
        in_circles += any(layer.triggers for layer in made.layers)
    assert with_negation > seeds / 4, "the generator must reach negation"
    assert derived_something > seeds / 4, "the generator must derive"
    assert in_circles > seeds / 4, "the generator must reach clauses that rest on each other"


def test_every_step_told_rests_on_atoms_that_hold_and_on_earlier_ones() -> None:
    for seed in range(500):
        clauses, facts = stratified_clauses(random.Random(f"steps/{seed}"), 2)
        derived = derive(program(clauses), facts)
        told = set(facts)
        by_name = {each.name: each for each in clauses}
        for atom, step in derived.first.items():
            assert atom not in facts
            assert set(step.body) <= told, "a first step may only use what was there before it"
            assert all(missing not in derived for missing in step.absent)
            assert by_name[step.clause].head[0] == atom[0]
            told.add(atom)
        assert told == set(derived)


def test_where_several_clauses_say_the_same_the_first_of_them_tells_why() -> None:
    clauses = [
        clause("damp", "wet"),
        clause("damp", "seed"),
        clause("wet", "soaked"),
        clause("soaked", "seed"),
    ]
    first = derive(program(clauses), frozenset({("seed",)})).first[("damp",)]
    assert first.body == (("wet",),), "though it takes longer to find"


def test_neither_the_order_of_clauses_nor_that_of_facts_changes_what_follows() -> None:
    for seed in range(300):
        random_ = random.Random(f"order/{seed}")
        clauses, facts = stratified_clauses(random_, 2)
        once = derive(program(clauses), facts)
        shuffled = random_.sample(clauses, len(clauses))
        assert set(derive(program(shuffled), facts)) == set(once)
        other_order = frozenset(random_.sample(sorted(facts), len(facts)))
        again = derive(program(list(clauses)), other_order)
        assert list(again.first.items()) == list(once.first.items())
        assert {name: list(atoms) for name, atoms in again.relations.items()} == {
            name: list(atoms) for name, atoms in once.relations.items()
        }, "also in the same order"


def test_running_again_on_what_followed_adds_nothing() -> None:
    for seed in range(300):
        clauses, facts = stratified_clauses(random.Random(f"twice/{seed}"), 2)
        once = derive(program(clauses), facts)
        again = derive(program(clauses), frozenset(once))
        assert set(again) == set(once)
        assert not again.first


def test_without_negation_a_further_fact_takes_nothing_back() -> None:
    grown = 0
    for seed in range(500):
        clauses, facts = stratified_clauses(random.Random(f"more/{seed}"), 1, negation=False)
        made = program(clauses)
        everything = set(derive(made, facts))
        for further in facts:
            without = set(derive(made, facts - {further}))
            assert without <= everything
            grown += len(everything) > len(without) + 1
    assert grown > 150, "a further fact must often have consequences"


# ------------------------------------------------------------------------------------------- what is refused


def on_a_circle_through_negation(clauses: list[Clause]) -> bool:
    """Whether a negation lies within one strongly connected component, by scipy."""
    names = sorted({atom[0] for each in clauses for atom in (each.head, *(one.atom for one in each.body))})
    number = {name: at for at, name in enumerate(names)}
    links = [(number[each.head[0]], number[one.atom[0]], one.negated) for each in clauses for one in each.body]
    if not links:
        return False
    heads, bodies, _ = zip(*links, strict=True)
    graph = coo_array(([1] * len(links), (heads, bodies)), shape=(len(names), len(names)))
    _, component = connected_components(graph.tocsr(), directed=True, connection="strong")
    return any(negated and component[head] == component[body] for head, body, negated in links)


def is_real_circle(cycle: Cycle, clauses: list[Clause]) -> bool:
    """Each predicate rests on the next, the last on the first, and the first on the second's absence; none twice."""
    rests_on = {(each.head[0], one.atom[0]) for each in clauses for one in each.body}
    denies = {(each.head[0], one.atom[0]) for each in clauses for one in each.body if one.negated}
    circle = cycle.predicates
    steps = list(zip(circle, (*circle[1:], circle[0]), strict=True))
    return rests_on.issuperset(steps) and steps[0] in denies and len(set(circle)) == len(circle)


def test_a_random_set_is_refused_exactly_if_a_negation_lies_on_a_circle_and_the_circle_named_is_one() -> None:
    refused = long = 0
    for seed in range(2000):
        clauses = any_clauses(random.Random(f"any/{seed}"))
        made = stratify(clauses)
        if isinstance(made, Cycle):
            assert on_a_circle_through_negation(clauses), clauses
            assert is_real_circle(made, clauses), (made, clauses)
            refused += 1
            long += len(made.predicates) > 2
        else:
            assert isinstance(made, Program)
            assert not on_a_circle_through_negation(clauses), clauses
    assert 600 < refused < 1400, "about half must be refused"
    assert long > 130, "many circles must be long"


def test_two_tags_that_rest_on_each_others_absence_are_refused() -> None:
    """Two stable models by the solver, so no single meaning."""
    clauses = [clause("a", "not b"), clause("b", "not a")]
    assert len(solved(clauses, frozenset())) == 2
    assert stratify(clauses) == Cycle(("a", "b"))


def test_a_tag_that_rests_on_its_own_absence_is_refused() -> None:
    """No stable model by the solver, so no meaning at all."""
    clauses = [clause("p", "not p")]
    assert solved(clauses, frozenset()) == []
    assert stratify(clauses) == Cycle(("p",))


def test_a_long_circle_is_named_in_order_and_without_what_hangs_on_it() -> None:
    clauses = [
        clause("wet", "watercolour"),
        clause("slow", "wet"),
        clause("short", "slow", "not calm"),
        clause("calm", "quiet"),
        clause("quiet", "short", "wet"),
        clause("late", "short"),
    ]
    assert stratify(clauses) == Cycle(("short", "calm", "quiet"))


def test_a_circle_without_negation_is_allowed() -> None:
    clauses = [clause("a", "b"), clause("b", "a"), clause("a", "seed")]
    assert ("b",) in derive(program(clauses), frozenset({("seed",)}))
    assert ("b",) not in derive(program(clauses), frozenset())


def test_a_chain_of_clauses_may_be_as_long_as_it_likes() -> None:
    chain = [clause(f"p{number + 1}", f"p{number}", f"not q{number}") for number in range(5000)]
    derived = derive(program(chain), frozenset({("p0",)}))
    assert ("p5000",) in derived


@pytest.mark.parametrize(
    ("bad", "loose"),
    [
        (clause("risky ?x", "wet"), ("?x",)),
        (clause("dry", "not wet ?x"), ("?x",)),
        (clause("pair ?x ?y", "item ?x", "not item ?z"), ("?y", "?z")),
    ],
)
def test_a_variable_that_nothing_binds_is_refused(bad: Clause, loose: tuple[str, ...]) -> None:
    assert stratify([bad]) == Unsafe(bad, loose)


def test_a_fact_that_looks_like_a_variable_stays_a_fact() -> None:
    clauses = [clause("odd ?x", "item ?x", "sharp ?x")]
    facts = frozenset({("item", "?y"), ("sharp", "pin"), ("item", "pin")})
    assert {atom for atom in derive(program(clauses), facts) if atom[0] == "odd"} == {("odd", "pin")}
