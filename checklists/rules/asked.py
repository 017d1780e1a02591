"""What a set of rules asks of a visit. Only that need be told to the engine: the fewer facts, the sooner it is done."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from msgspec import Struct

from checklists.rules.conditions import CLASS_IS, LESSON_IS, Comparison
from checklists.rules.engine import Program
from checklists.rules.read import RuleSet, program_without


class Asked(Struct, frozen=True, eq=False):
    """A program, and the conditions in it by what they turn on: word -> predicate."""

    program: Program
    predicates: frozenset[str]
    comparisons: tuple[Comparison, ...]
    classes: Mapping[str, str]
    lessons: Mapping[str, str]
    needs: Mapping[str, str]
    avoid: Mapping[str, str]
    lists: Mapping[str, str]
    marks: Mapping[str, str]
    tags_given: frozenset[str]
    """Tags that a rule may give."""


@lru_cache(maxsize=256)
def asked_without(rules: RuleSet, left_out: frozenset[str]) -> Asked:
    """What the rules that are on ask for, but for those left out, ready to run."""
    program = program_without(rules, left_out)
    asked = program.asked
    given = (clause.head for ident, each in rules.clauses.items() if ident not in left_out for clause in each)
    return Asked(
        program=program,
        predicates=asked,
        comparisons=tuple(each for each in rules.comparisons if each.sentence in asked),
        classes=_by_word(asked, CLASS_IS),
        lessons=_by_word(asked, LESSON_IS),
        needs=_by_word(asked, "need "),
        avoid=_by_word(asked, "avoid "),
        lists=_by_word(asked, "lists "),
        marks=_by_word(asked, "item is "),
        tags_given=frozenset(head[0] for head in given if len(head) == 1 and head[0] not in rules.places),
    )


def _by_word(asked: frozenset[str], beginning: str) -> dict[str, str]:
    return {each.removeprefix(beginning): each for each in asked if each.startswith(beginning)}
