"""How much work rules make, counted in steps of the interpreter and not in time: rules that do not concern a visit cost
nothing, and visits cost each the same."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import pairwise
from types import FrameType

from checklists.rules.read import RuleSet
from checklists.rules.records import VisitFacts, Warn
from checklists.rules.vocabulary import Words
from tests.rules.many_rules import judge_each, rules_of_studios, visits_of_schools
from tests.rules.situations import a_rule, a_visit, effects_of, rule_set

STUDIOS = 100
CONCERNED = 10
"""Studios that the visits are about, where they are not about all."""


class Steps:
    """Bytecode instructions carried out so far."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(self, frame: FrameType, event: str, argument: object) -> Steps:
        frame.f_trace_opcodes = True
        frame.f_trace_lines = False
        self.count += event == "opcode"
        return self


@contextmanager
def counted_steps() -> Iterator[Steps]:
    steps, before = Steps(), sys.gettrace()
    sys.settrace(steps)
    try:
        yield steps
    finally:
        sys.settrace(before)


def steps_for(rules: RuleSet, visits: list[VisitFacts]) -> int:
    """Steps it takes to judge the visits, the rules made ready before."""
    judge_each(rules, visits, STUDIOS)
    with counted_steps() as steps:
        judge_each(rules, visits, STUDIOS)
    return steps.count


def test_a_thousand_rules_make_no_more_work_than_the_hundred_that_concern_the_visits() -> None:
    visits = visits_of_schools(5, studios=CONCERNED)
    few, many = rules_of_studios(CONCERNED), rules_of_studios(STUDIOS)
    assert (len(few.rules), len(many.rules)) == (100, 1000)
    by_few, by_many = judge_each(few, visits, STUDIOS), judge_each(many, visits, STUDIOS)
    assert by_few == by_many
    assert all(len(effects) > 1 for effects in by_few), "each visit is concerned by some rules"
    assert steps_for(many, visits) < 1.05 * steps_for(few, visits)


def test_eight_times_the_visits_make_eight_times_the_work() -> None:
    rules = rules_of_studios(STUDIOS)
    five, forty = visits_of_schools(5, studios=STUDIOS), visits_of_schools(40, studios=STUDIOS)
    assert len(forty) == 8 * len(five) == 280
    assert 0.9 < steps_for(rules, forty) / (8 * steps_for(rules, five)) < 1.1


def test_twice_as_long_a_chain_makes_twice_the_work() -> None:
    def chain(length: int) -> RuleSet:
        tags = [f"link {number}" for number in range(length + 1)]
        links = [a_rule(f"to-{to}", tag, "not end", because=to, gives=(to,)) for tag, to in pairwise(tags)]
        last = a_rule("last", tags[-1], cautions=(Warn("look"),))
        return rule_set(*links, last, builtin=False, words=Words(tags=frozenset({"link 0", "end"})))

    visit, short, long = a_visit("link 0"), chain(600), chain(1200)
    (effect,) = effects_of(long, visit)
    assert effect.facts[:3] == ("The part is tagged link 0", "The part is not tagged end", "Link 1")
    assert len(effect.facts) == 2 + 1200
    assert steps_for(long, [visit]) < 2.1 * steps_for(short, [visit])


def test_a_chain_that_forks_and_meets_again_and_again_is_told_once() -> None:
    def forks(count: int) -> RuleSet:
        either = [
            a_rule(f"{side}-{n}", f"left {n}", f"right {n}", because=f"{side} {n + 1}", gives=(f"{side} {n + 1}",))
            for n in range(count)
            for side in ("left", "right")
        ]
        last = a_rule("last", f"left {count}", f"right {count}", cautions=(Warn("look"),))
        return rule_set(*either, last, builtin=False, words=Words(tags=frozenset({"left 0", "right 0"})))

    visit, few, many = a_visit("left 0", "right 0"), forks(20), forks(40)
    (effect,) = effects_of(many, visit)
    assert len(effect.facts) == 2 + 2 * 40, "each fact once, though there are 2 to the power of 40 ways back"
    assert steps_for(many, [visit]) < 2.1 * steps_for(few, [visit])
