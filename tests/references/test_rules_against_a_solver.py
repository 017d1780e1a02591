"""What rules make of visits, against an independent solver (clingo) that is told the same rules in its own language.

Every kind of condition is asked and denied, of what is given, of what other rules give, and of supplies that rules
bring in. A random set is stratified by the way it is made, so it has exactly one stable model, and the tags, the rules
that apply and the supplies they apply to are read off that.
"""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Callable
from datetime import date
from functools import lru_cache
from itertools import chain, pairwise

from msgspec import Struct
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from checklists.plan.records import Supply
from checklists.problems import Problem
from checklists.rules.apply import effects_for, tags_for
from checklists.rules.read import RuleSet, compile_rules
from checklists.rules.records import (
    Add,
    Forbid,
    Replace,
    Rule,
    RuleFile,
    SwitchedOff,
    TaskFor,
    VisitFacts,
    Warn,
)
from checklists.rules.vocabulary import Words, marks_of_supply
from tests.references import random_rules
from tests.references.random_rules import Asked, RandomSet, lawless_set, random_set, random_visit
from tests.references.rules_for_the_solver import (
    COMMON,
    written_condition,
    written_rule,
    written_supplies,
    written_visit,
)
from tests.references.solver import stable_models

DAY = date(2026, 10, 5)
SETS, VISITS = 400, 8
WORDS = Words(
    tags=frozenset(
        (
            *random_rules.TAGS,
            *chain(*random_rules.DAMP.values()),
            *(f"class is {each}" for each in random_rules.CLASSES),
            *(f"lesson is {each}" for each in random_rules.LESSONS),
        )
    ),
    marks=frozenset(chain(*random_rules.MARKS.values(), *random_rules.GIVEN_MARKS.values())),
    needs=frozenset(random_rules.NEEDS),
    avoid=frozenset(random_rules.AVOID),
)


class Answer(Struct):
    """What the solver says of a visit."""

    tags: set[str]
    applies: dict[str, list[str]]
    """Rule -> the supplies it applies to, in order of their ids; none where it speaks of none."""


def compiled(made: RandomSet) -> tuple[RuleSet, tuple[Problem, ...]]:
    own = RuleFile(tuple(each.rule for each in made.rules), made.off, settings=random_rules.SETTINGS)
    return compile_rules((), own, made.supplies, file="rules.toml", words=WORDS)


def is_off(entry: SwitchedOff, facts: VisitFacts) -> bool:
    here = entry.class_id in ("", facts.class_id) and entry.lesson in ("", facts.lesson)
    return here and (entry.until is None or entry.until >= DAY)


def solved(made: RandomSet, visits: list[VisitFacts], counted: Counter[tuple[str, bool]]) -> list[Answer]:
    """The solver's answers. ``counted``: how often a kind of condition held, and how often it did not."""
    conditions: dict[Asked, int] = {}
    for each in made.rules:
        for asked in each.asked:
            conditions.setdefault(asked, len(conditions))
    lines = [COMMON, *written_supplies(made.supplies)]
    for number, facts in enumerate(visits):
        lines += written_visit(number, facts)
    for asked, number in conditions.items():
        lines += written_condition(number, asked)
    for each in made.rules:
        gone = [entry for entry in made.off if entry.rule == each.rule.id]
        left_out = [number for number, facts in enumerate(visits) if any(is_off(entry, facts) for entry in gone)]
        lines += written_rule(each, left_out, conditions)
    (model,) = stable_models("\n".join(lines))
    answers = [Answer(set(), {}) for _ in visits]
    seen: Counter[int] = Counter()
    for symbol in model:
        arguments = symbol.arguments
        if symbol.name == "tag":
            answers[arguments[0].number].tags.add(arguments[1].string)
        elif symbol.name == "applies":
            supplies = answers[arguments[1].number].applies.setdefault(arguments[0].string, [])
            supplies.extend(each.string for each in arguments[2:])
            supplies.sort()
        else:
            seen[arguments[0].number] += 1
    for asked, number in conditions.items():
        counted[asked.operator, True] += seen[number]
        counted[asked.operator, False] += len(visits) - seen[number]
    return answers


def expected_effects(rule: Rule, supplies: list[str]) -> list[tuple[str, str, str, str]]:
    """Rule, kind of action, supply and reason of every effect, as the grammar of actions has it.

    An action that speaks of "item" comes once for each supply, any other once.
    """
    effects: list[tuple[str, str, str, str]] = []
    actions = (*rule.add, *rule.replace, *rule.forbid, *rule.tasks, *rule.checks, *rule.cautions)
    for action in actions:
        each = isinstance(action, Forbid | TaskFor) or (isinstance(action, Replace) and action.what == "item")
        for group in [[supply] for supply in supplies] if each else [supplies]:
            named = " and ".join([", ".join(group[:-1]), group[-1]] if len(group) > 1 else group)
            because = rule.because.replace("{items}", named)
            effects.append((rule.id, type(action).__name__, group[0] if each else "", because))
    return effects


@lru_cache(maxsize=1)
def compared() -> Counter[tuple[str, bool]]:
    """Compare all sets once. How often each kind of condition held and did not, and what else came about."""
    counted: Counter[tuple[str, bool]] = Counter()
    for seed in range(SETS):
        random_ = random.Random(f"rules/{seed}")
        made = random_set(random_)
        rules, problems = compiled(made)
        assert problems == ()
        visits = [random_visit(random_, made.supplies) for _ in range(VISITS)]
        for facts, answer in zip(visits, solved(made, visits, counted), strict=True):
            told = (made, facts)
            assert tags_for(rules, facts, date=DAY, marks_of=marks_in(made)) == answer.tags, told
            effects = effects_for(rules, facts, date=DAY, marks_of=marks_in(made))
            found = [(each.rule.id, type(each.action).__name__, each.item, each.because) for each in effects]
            wanted = [
                effect
                for each in made.rules
                if each.rule.id in answer.applies
                for effect in expected_effects(each.rule, answer.applies[each.rule.id])
            ]
            assert found == wanted, told
            counted["rule", True] += len(answer.applies)
            counted["rule", False] += len(made.rules) - len(answer.applies)
            counted["tag from a rule", True] += bool(answer.tags - facts.tags)
            brought = {each.action.supply for each in effects if isinstance(each.action, Add | Replace)}
            brought |= {each.action.instead for each in effects if isinstance(each.action, Forbid)} - {""}
            counted["supply from a rule", True] += not brought <= facts.items.keys()
            asked_of = {supply for supplies in answer.applies.values() for supply in supplies}
            counted["rule for a supply from a rule", True] += not asked_of <= facts.items.keys()
    return counted


def marks_in(made: RandomSet) -> Callable[[str], frozenset[str]]:
    return lambda supply: marks_of_supply(made.supplies[supply])


def test_tags_rules_and_supplies_of_a_random_set_are_those_the_solver_finds() -> None:
    compared()


def test_every_kind_of_condition_was_asked_and_denied_and_often_held_and_often_did_not() -> None:
    """That the comparison above says something of each of them."""
    counted = compared()
    both = ("tag", "need", "avoid", "class is", "lesson is", "item is", "some item is", "lists")
    numbers = ("number", "number named", "number set")
    kinds = {*both, *(f"not {each}" for each in both), "avoid item"}
    kinds |= {f"{each} {relation}" for each in numbers for relation in random_rules.RELATIONS}
    assert {kind: counted[kind, True] for kind in kinds if counted[kind, True] < 100} == {}
    assert {kind: counted[kind, False] for kind in kinds if counted[kind, False] < 100} == {}
    came_about = ("rule", "tag from a rule", "supply from a rule", "rule for a supply from a rule")
    assert {each: counted[each, True] for each in came_about if counted[each, True] < 300} == {}


# ------------------------------------------------------------------------------------ supplies that rules bring in


def brought_in(facts: VisitFacts, *rules: Rule, **marks: str) -> list[str]:
    """Rules that apply to a visit; ``marks``: supply -> its mark."""
    supplies = {each: Supply(each, each, marks=(mark,)) for each, mark in marks.items()}
    words = Words(tags=frozenset({"clouds"}), marks=frozenset(marks.values()))
    compiled_rules, problems = compile_rules((), RuleFile(rules), supplies, file="rules.toml", words=words)
    assert problems == ()
    effects = effects_for(compiled_rules, facts, date=DAY, marks_of=lambda each: marks_of_supply(supplies[each]))
    return [each.rule.id for each in effects]


CLOUDS = VisitFacts("1-A", "walls", frozenset({"clouds"}), {}, {}, frozenset(), {}, {})


def test_what_is_brought_only_while_something_else_is_missing_goes_again_when_that_comes() -> None:
    """By the solver: ``lamp. bell :- not lamp. count_bells :- bell.`` has the one model {lamp}."""
    (model,) = stable_models("lamp. bell :- not lamp. count_bells :- bell.")
    assert {symbol.name for symbol in model} == {"lamp"}
    applying = brought_in(
        CLOUDS,
        Rule("bells", "bells", ("no item is bright",), "no lamp", add=(Add(supply="bell"),)),
        Rule("count-bells", "count bells", ("item is loud",), "a bell", cautions=(Warn("count the bells"),)),
        Rule("lamps", "lamps", ("clouds",), "clouds", add=(Add(supply="lamp"),)),
        lamp="bright",
        bell="loud",
    )
    assert applying == ["lamps"]


def test_a_supply_asked_for_because_it_is_missing_does_not_keep_the_rules_running_for_ever() -> None:
    """By the solver ``lamp :- not lamp.`` has no model; a rule that brings what is missing asks "not lists …"."""
    assert stable_models("lamp :- not lamp.") == []
    missing = Rule("missing", "missing", ("no item is bright",), "dark", add=(Add(supply="lamp"),))
    listed = Rule("listed", "listed", ("not lists bright",), "dark", add=(Add(supply="lamp"),))
    assert brought_in(CLOUDS, missing, lamp="bright") == []
    assert brought_in(CLOUDS, listed, lamp="bright") == ["listed"]


# ------------------------------------------------------------------------------------------------- what is refused


def links_of(made: RandomSet) -> set[tuple[str, str, bool]]:
    """What rests on what, and whether on its absence, read off the conditions as they were made."""
    links: set[tuple[str, str, bool]] = set()
    for each in made.rules:
        for given in each.rule.gives:
            for asked in each.asked:
                if asked.kind == "tag":
                    links.add((given, asked.word, asked.denied))
                elif asked.kind in ("item is", "some item is"):
                    links.add((given, f"{asked.kind} {asked.word}", asked.denied))
                    if asked.kind == "some item is":
                        links.add((f"some item is {asked.word}", f"item is {asked.word}", False))
    return links


def negation_on_a_circle(links: set[tuple[str, str, bool]]) -> bool:
    """Whether a denial lies within one strongly connected component, by scipy."""
    names = sorted({name for head, asked, _ in links for name in (head, asked)})
    number = {name: at for at, name in enumerate(names)}
    places = [number[head] for head, _, _ in links], [number[asked] for _, asked, _ in links]
    graph = coo_array(([1] * len(links), places), shape=(len(names), len(names)))
    _, component = connected_components(graph.tocsr(), directed=True, connection="strong")
    return any(denied and component[number[head]] == component[number[asked]] for head, asked, denied in links)


def test_a_random_set_is_refused_exactly_if_a_denial_lies_on_a_circle_and_the_circle_named_is_one() -> None:
    refused = through_supplies = 0
    for seed in range(1000):
        made = lawless_set(random.Random(f"lawless/{seed}"))
        rules, problems = compiled(made)
        links = links_of(made)
        assert bool(problems) == (bool(links) and negation_on_a_circle(links)), made
        if not problems:
            continue
        (problem,) = problems
        assert rules.rules == (), "none of the file's own rules is used"
        *circle, first = re.findall(r'"([^"]*)"', problem.what)
        steps = list(pairwise((*circle, first)))
        assert circle[0] == first and len(set(circle)) == len(circle)
        assert {(head, asked) for head, asked, _ in links}.issuperset(steps), (problem, made)
        assert (*steps[0], True) in links, "the first rests on the second's absence"
        refused += 1
        through_supplies += any("item is" in each for each in circle)
    assert 200 < refused < 800
    assert through_supplies > 70
