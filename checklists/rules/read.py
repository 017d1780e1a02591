"""The built-in rules, their supplies and their vocabulary, read from TOML; and rules made ready to be applied.

A rule that has a mistake is left out and told of, the others stay in use: one bad entry never hides the rest, and a
teacher's own rule that does not read leaves the built-in one of that id in place.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Literal

from msgspec import Struct, convert
from msgspec.structs import replace

from checklists.plan.records import Supply
from checklists.problems import Problem
from checklists.rules.clauses import applies, clauses_of
from checklists.rules.conditions import Comparison, Mistake, clauses_for_some_item, comparison_from
from checklists.rules.engine import Clause, Cycle, Program, Unsafe, stratify
from checklists.rules.records import Rule, RuleFile, Setting, SwitchedOff, SwitchedOn
from checklists.rules.settings import builtin_settings, settings_with, with_numbers
from checklists.rules.vocabulary import KnownWords, Vocabulary, Words, ask_for_nearest, known_words

_SUBJECTS = (
    *("parts", "rooms", "water", "cutting", "hot_tools", "labels", "materials"),
    *("clay_and_print", "textile_and_paste", "avoiding", "differentiation"),
)
"""Files of built-in rules, in the order in which their rules are applied and told."""
_FOLDER = Path(__file__).parent / "builtin"
_NEED = re.compile(r"^\s*(not\s+)?(need|avoid)\s")


class RuleSet(Struct, frozen=True, eq=False):
    """Rules that fit together. Compared and hashed by identity."""

    rules: tuple[Rule, ...]
    """All of them, those that do not apply included, built-in ones first."""
    off: tuple[SwitchedOff, ...]
    vocabulary: Vocabulary
    clauses: Mapping[str, tuple[Clause, ...]]
    """Id of a rule that is on -> its clauses."""
    comparisons: tuple[Comparison, ...]
    lists: tuple[tuple[str, str], ...]
    """Conditions "lists MARK" that are asked for anywhere, and their marks."""
    marks: frozenset[str]
    """Marks that are asked for anywhere: others need not be told to the engine."""
    places: Mapping[str, int]
    """Predicate that says that a rule applies -> place of the rule in ``rules``."""
    settings: tuple[Setting, ...] = ()


def settings_of(rules: RuleSet) -> tuple[Setting, ...]:
    """Every threshold of the rules with its value for this school, in the order of the built-in ones."""
    return rules.settings


# ----------------------------------------------------------------------------------------------- the built-in ones


@lru_cache(maxsize=1)
def read_builtin_rules() -> tuple[Rule, ...]:
    """The built-in rules as written, in order; settings are still names in them."""
    return tuple(rule for subject in _SUBJECTS for rule in convert(_table(subject)["rules"], tuple[Rule, ...]))


@lru_cache(maxsize=1)
def builtin_supplies() -> tuple[Supply, ...]:
    """What the built-in rules add. A supply of the same id in the plan takes its place."""
    return convert(_table("supplies")["supplies"], tuple[Supply, ...])


@lru_cache(maxsize=1)
def vocabulary() -> Vocabulary:
    return convert(_table("vocabulary"), Vocabulary)


def _table(name: str) -> dict[str, object]:
    return tomllib.loads((_FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


# ------------------------------------------------------------------------------------------------ made ready to use


def compile_rules(
    builtin: tuple[Rule, ...], own: RuleFile, supplies: Iterable[str], *, file: str, words: Words | None = None
) -> tuple[RuleSet, tuple[Problem, ...]]:
    """The built-in rules and a teacher's own as one set, numbers put in for settings, and what is wrong with her own.

    ``supplies`` are the ids of all supplies, the built-in ones included. ``words`` are further words the plan brings:
    marks of its supplies, tags of its lessons, needs and things to avoid of its classes. An own rule takes the place of
    a built-in one of the same id.
    """
    words = words or Words()
    settings, wrong_settings = settings_with(own.settings, file)
    named = {each.name: each for each in settings}
    builtin = tuple(with_numbers(rule, named)[0] for rule in builtin)
    numbered = [with_numbers(rule, named) for rule in own.rules]
    merged = {rule.id: rule for rule in builtin}
    problems = list(wrong_settings)
    known = _words_of_rules([*builtin, *(rule for rule, _ in numbered)], words, supplies)
    ready = {rule.id: clauses_of(rule, known)[0] for rule in builtin}
    safety = {rule.id for rule in builtin if rule.safety}
    seen: set[str] = set()
    for rule, wrong_numbers in numbered:
        clauses, mistakes = clauses_of(rule, known)
        mistakes = (*wrong_numbers, *mistakes)
        if rule.id in safety:
            what = "is the name of a built-in safety rule, which stays as it is"
            to_do = "Give yours another id; a safety rule can be switched off with a reason."
            mistakes = (*mistakes, Mistake(what, to_do))
        if rule.id in seen:
            mistakes = (*mistakes, Mistake("a second rule with this id", "Give it another id."))
        seen.add(rule.id)
        problems.extend(Problem(file, f"rule {rule.id}", each.what, each.to_do) for each in mistakes)
        if not mistakes:
            merged[rule.id] = rule
            ready[rule.id] = clauses
    problems.extend(_unknown_on(own.on, merged, file))
    used = {each.rule for each in own.on}
    rules = tuple(replace(rule, on=True) if rule.id in used else rule for rule in merged.values())
    program = _program(ready[rule.id] for rule in rules if rule.on)
    if isinstance(program, Cycle):
        problems.append(_told_cycle(program, rules, ready, file))
        rules, ready = builtin, {rule.id: clauses_of(rule, known)[0] for rule in builtin}
    off, wrong = _checked_off(own.off, rules, file)
    return _rule_set(_made_private(rules), ready, off, settings), (*problems, *wrong)


@lru_cache(maxsize=256)
def program_without(rules: RuleSet, left_out: frozenset[str]) -> Program:
    """The rules that are on, but for those left out, ready to run."""
    program = _program(each for ident, each in rules.clauses.items() if ident not in left_out)
    if not isinstance(program, Program):
        raise AssertionError("fewer rules cannot make a circle that all of them do not make")
    return program


@lru_cache(maxsize=32)
def narrowed_to(rules: RuleSet, *actions: Literal["tasks", "next_part", "gives", "replace", "forbid"]) -> RuleSet:
    """Only the rules that do these kinds of things, and those that give what they ask for: for a quick answer."""
    kept = {rule.id: rule for rule in rules.rules if any(getattr(rule, each) for each in actions)}
    givers: dict[str, list[Rule]] = {}
    for rule in rules.rules:
        for given in rule.gives:
            givers.setdefault(" ".join(given.split()), []).append(rule)
    waiting = list(kept.values())
    while waiting:
        for sentence in waiting.pop().when:
            for giver in givers.get(asked_tag(sentence), ()):
                if giver.id not in kept:
                    kept[giver.id] = giver
                    waiting.append(giver)
    return replace(rules, clauses={ident: each for ident, each in rules.clauses.items() if ident in kept})


def _words_of_rules(rules: list[Rule], words: Words, supplies: Iterable[str]) -> KnownWords:
    """Known words, with the tags and marks that rules give."""
    given = [" ".join(each.split()) for rule in rules for each in rule.gives]
    marks = {each.removeprefix("item is ") for each in given if each.startswith("item is ")}
    tags = {each for each in given if not each.startswith("item is ")}
    of_all = Words(words.tags | tags, words.marks | marks, words.needs, words.avoid)
    return known_words(vocabulary(), of_all, supplies, (each.name for each in builtin_settings()))


def _program(groups: Iterable[tuple[Clause, ...]]) -> Program | Cycle | Unsafe:
    clauses = [clause for group in groups for clause in group]
    asked = (condition for clause in clauses for condition in clause.body)
    return _stratified((*clauses_for_some_item(asked), *clauses))


@lru_cache(maxsize=16)
def _stratified(clauses: tuple[Clause, ...]) -> Program | Cycle | Unsafe:
    """The same clauses, from whichever set of rules, are one program: what was derived with it is found again."""
    return stratify(clauses)


def _made_private(rules: tuple[Rule, ...]) -> tuple[Rule, ...]:
    """The rules, private where they rest on a need or on what is avoided, be it through what another one gives."""
    private = {rule.id for rule in rules if rule.private or any(_NEED.search(sentence) for sentence in rule.when)}
    while True:
        told = {" ".join(given.split()) for rule in rules if rule.id in private for given in rule.gives}
        found = {rule.id for rule in rules if any(asked_tag(sentence) in told for sentence in rule.when)} - private
        if not found:
            return tuple(replace(rule, private=True) if rule.id in private else rule for rule in rules)
        private |= found


def asked_tag(sentence: str) -> str:
    """The tag or "item is MARK" a condition turns on, whether it is asked for or denied."""
    asked = " ".join(sentence.split()).removeprefix("not ").replace("item is not ", "item is ")
    return asked.removeprefix("some ").removeprefix("no ") if "item is " in asked else asked


def _told_cycle(cycle: Cycle, rules: tuple[Rule, ...], ready: Mapping[str, tuple[Clause, ...]], file: str) -> Problem:
    in_it = [rule.id for rule in rules if any(clause.head[0] in cycle.predicates for clause in ready[rule.id])]
    circle = ", ".join(f'"{each}"' for each in (*cycle.predicates, cycle.predicates[0]))
    return Problem(
        file,
        f"rules {', '.join(in_it)}",
        f"these rest on each other's absence in a circle: {circle}. None of the file's own rules is used.",
        'Take a "not" out of the circle.',
    )


def _unknown_on(on: Iterable[SwitchedOn], rules: Iterable[str], file: str) -> Iterable[Problem]:
    for entry in on:
        if entry.rule not in rules:
            to_do = ask_for_nearest(entry.rule, rules)
            yield Problem(file, f"on {entry.rule}", f'unknown rule "{entry.rule}"', to_do)


def _checked_off(
    off: tuple[SwitchedOff, ...], rules: tuple[Rule, ...], file: str
) -> tuple[tuple[SwitchedOff, ...], tuple[Problem, ...]]:
    """The switched-off entries that can be used: the rule exists, and a safety rule has a reason."""
    by_id = {rule.id: rule for rule in rules}
    used: list[SwitchedOff] = []
    problems: list[Problem] = []
    for entry in off:
        rule = by_id.get(entry.rule)
        if rule is None:
            to_do = ask_for_nearest(entry.rule, by_id)
            problems.append(Problem(file, f"off {entry.rule}", f'unknown rule "{entry.rule}"', to_do))
        elif rule.safety and not entry.reason.strip():
            what = "a safety rule is switched off without a reason, so it stays on"
            problems.append(Problem(file, f"off {entry.rule}", what, 'Add reason = "…".'))
        else:
            used.append(entry)
    return tuple(used), tuple(problems)


def _rule_set(
    rules: tuple[Rule, ...],
    ready: Mapping[str, tuple[Clause, ...]],
    off: tuple[SwitchedOff, ...],
    settings: tuple[Setting, ...],
) -> RuleSet:
    clauses = {rule.id: ready[rule.id] for rule in rules if rule.on}
    asked = [condition for group in clauses.values() for clause in group for condition in clause.body]
    predicates = dict.fromkeys(condition.atom[0] for condition in asked)
    lists = tuple((each, each.removeprefix("lists ")) for each in predicates if each.startswith("lists "))
    return RuleSet(
        rules=rules,
        off=off,
        vocabulary=vocabulary(),
        clauses=clauses,
        comparisons=tuple(made for each in predicates if (made := comparison_from(each))),
        lists=lists,
        marks=frozenset(each.split("item is ", 1)[1] for each in predicates if "item is " in each),
        places={applies(rule): place for place, rule in enumerate(rules)},
        settings=settings,
    )
