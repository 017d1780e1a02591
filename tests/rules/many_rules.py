"""A thousand rules of one's own, and visits of many schools: to see what rules cost that do not concern a visit.

A studio is a tag with its own rules: chains of tags, what to bring, what a supply must not be, whom a number concerns.
A visit is about one studio, so the rules of the others have nothing to say of it.
"""

from __future__ import annotations

import random
from collections.abc import Iterable

from checklists.plan.records import Supply
from checklists.rules.apply import effects_for
from checklists.rules.fixpoint import derive
from checklists.rules.read import RuleSet, compile_rules
from checklists.rules.records import Add, CheckFor, Effect, Forbid, Rule, RuleFile, VisitFacts, Warn
from checklists.rules.vocabulary import Words, marks_of_supply
from tests.rules.situations import MONDAY

VISITS_A_SCHOOL = 7


def rules_of_studio(studio: int) -> tuple[Rule, ...]:
    """Ten rules, of every kind of condition. "rainy" is asked by the rules of all studios."""
    about, warm, hot = f"studio {studio}", f"warm {studio}", f"hot {studio}"
    look: dict[str, object] = {"cautions": (Warn("look at {room}"),)}
    when: list[tuple[tuple[str, ...], dict[str, object]]] = [
        ((about,), {"gives": (warm,)}),
        ((warm, "not calm"), {"gives": (hot,)}),
        (("rainy", warm), look),
        (("rainy", about, "grade at most 3"), look),
        ((hot, "grade at least 1", "gap_after below reset"), {"checks": (CheckFor("count {students}"),)}),
        ((about, "need noise"), look),
        ((about, "not lists tool"), {"add": (Add(supply=f"tool-{studio}"),)}),
        ((f"item is mark-{studio}", "item is not blunt"), {"forbid": (Forbid(),)}),
        ((f"some item is mark-{studio}", "no item is blunt", "not avoid latex"), look),
        ((f"item is mark-{studio}",), {"gives": (f"item is counted-{studio}",)}),
    ]
    return tuple(
        Rule(f"{studio}-{number}", f"rule {number}", asked, "it is so", **does)  # type: ignore[arg-type]
        for number, (asked, does) in enumerate(when)
    )


def supplies_of(studios: int) -> dict[str, Supply]:
    return {
        f"tool-{studio}": Supply(f"tool-{studio}", f"tool {studio}", kind="tool", marks=(f"mark-{studio}",))
        for studio in range(studios)
    }


def rules_of_studios(studios: int) -> RuleSet:
    supplies = supplies_of(studios)
    tags = {"rainy", "calm", *(f"studio {studio}" for studio in range(studios))}
    words = Words(tags=frozenset(tags), marks=frozenset({"blunt", *(f"mark-{studio}" for studio in range(studios))}))
    own = RuleFile(tuple(rule for studio in range(studios) for rule in rules_of_studio(studio)))
    rules, problems = compile_rules((), own, supplies, file="rules.toml", words=words)
    assert problems == ()
    return rules


def visits_of_schools(schools: int, *, studios: int) -> list[VisitFacts]:
    """Seven visits a school, each about one of the first so many studios; the first schools are always the same."""
    supplies = supplies_of(studios)
    visits: list[VisitFacts] = []
    for number in range(schools * VISITS_A_SCHOOL):
        random_ = random.Random(number)
        studio = number % studios
        listed = [f"tool-{studio}", f"paper-{number}", f"paint-{number}"][random_.randrange(2) :]
        gap = random_.randint(0, 9)
        visits.append(
            VisitFacts(
                class_id=f"class {number}",
                lesson=f"lesson {studio}",
                tags=frozenset({f"studio {studio}", *random_.sample(["rainy", "calm"], random_.randint(0, 2))}),
                numbers={"grade": random_.randint(-1, 6), "gap_after": gap, "reset": 5, "students": 24},
                needs={"noise": random_.randint(0, 2)},
                avoid=frozenset(random_.sample(["latex", "nut"], random_.randint(0, 1))),
                items={each: marks_in(supplies, each) for each in listed},
                words={"class": f"class {number}", "room": f"Room {number}"},
            )
        )
    return visits


def marks_in(supplies: dict[str, Supply], supply: str) -> frozenset[str]:
    return marks_of_supply(supplies[supply]) if supply in supplies else frozenset({"paper"})


def judge_each(rules: RuleSet, visits: Iterable[VisitFacts], studios: int) -> list[tuple[Effect, ...]]:
    """The effects on each visit, worked out anew: nothing is remembered from a visit before that was like it."""
    supplies = supplies_of(studios)
    judged = []
    for facts in visits:
        derive.cache_clear()
        judged.append(effects_for(rules, facts, date=MONDAY, marks_of=lambda supply: marks_in(supplies, supply)))
    return judged
