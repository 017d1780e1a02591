"""Facts of a visit, by small functions with good defaults: class 3-B, 24 children, room 12, nothing known of it."""

from __future__ import annotations

from datetime import date

from msgspec.structs import replace

from checklists.problems import Problem
from checklists.rules.apply import effects_for
from checklists.rules.read import RuleSet, builtin_supplies, compile_rules, read_builtin_rules
from checklists.rules.records import Effect, Rule, RuleFile, SwitchedOff, VisitFacts
from checklists.rules.vocabulary import Words, marks_of_supply

MONDAY = date(2026, 10, 5)
SUPPLIES = {supply.id: supply for supply in builtin_supplies()}
OWN_FILE = "rules.toml"


def a_visit(
    *tags: str,
    needs: dict[str, int] | None = None,
    avoid: tuple[str, ...] = (),
    items: dict[str, tuple[str, ...]] | None = None,
    class_id: str = "3-B",
    lesson: str = "birds",
    words: dict[str, str] | None = None,
    **numbers: float,
) -> VisitFacts:
    usual = {"grade": 3, "students": 24, "tables": 6, "adults": 1, "part": 1, "parts": 1, "minutes": 45}
    usual |= {"least_minutes": 35, "gap_before": 5, "gap_after": 5, "swap_before": 8, "month": 10}
    return VisitFacts(
        class_id=class_id,
        lesson=lesson,
        tags=frozenset(tags),
        numbers={**usual, **numbers},
        needs=needs or {},
        avoid=frozenset(avoid),
        items={supply: frozenset(marks) for supply, marks in (items or {}).items()},
        words={"class": class_id, "room": "Room 12", "lesson": lesson, "part": "stitch the bird", **(words or {})},
    )


def a_rule(ident: str, *when: str, because: str = "it is so", **does: object) -> Rule:
    return Rule(id=ident, title=ident, when=when, because=because, **does)  # type: ignore[arg-type]


def rule_set(
    *own: Rule, off: tuple[SwitchedOff, ...] = (), builtin: bool = True, words: Words | None = None
) -> RuleSet:
    rules, problems = with_problems(*own, off=off, builtin=builtin, words=words)
    assert problems == ()
    return rules


def with_problems(
    *own: Rule, off: tuple[SwitchedOff, ...] = (), builtin: bool = True, words: Words | None = None
) -> tuple[RuleSet, tuple[Problem, ...]]:
    given = read_builtin_rules() if builtin else ()
    return compile_rules(given, RuleFile(own, off), SUPPLIES, file=OWN_FILE, words=words)


def all_rules_on() -> RuleSet:
    return rule_set(*(replace(rule, on=True) for rule in read_builtin_rules() if not rule.on))


def effects_of(rules: RuleSet, facts: VisitFacts, on: date = MONDAY) -> tuple[Effect, ...]:
    return effects_for(rules, facts, date=on, marks_of=lambda supply: marks_of_supply(SUPPLIES[supply]))


def of_rule(ident: str, effects: tuple[Effect, ...]) -> list[Effect]:
    return [effect for effect in effects if effect.rule.id == ident]
