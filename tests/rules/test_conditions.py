"""Each kind of condition sentence: a visit it holds for and one it does not hold for."""

from __future__ import annotations

import pytest

from checklists.rules.records import VisitFacts, Warn
from tests.rules.situations import a_rule, a_visit, effects_of, rule_set

PAPER = {"white-paper": ("paper",)}
NEEDLES = {"needle-plastic": ("tool", "sharp", "needle")}


@pytest.mark.parametrize(
    ("sentence", "holds", "does_not"),
    [
        ("cutting", a_visit("cutting"), a_visit("gluing")),
        ("first visit", a_visit("first visit"), a_visit("last visit")),
        ("not sink", a_visit(), a_visit("sink")),
        ("grade at most 2", a_visit(grade=2), a_visit(grade=3)),
        ("grade at most K", a_visit(grade=0), a_visit(grade=1)),
        ("grade is PK", a_visit(grade=-1), a_visit(grade=0)),
        ("grade at least 4", a_visit(grade=4), a_visit(grade=3)),
        ("part is 1", a_visit(part=1), a_visit(part=2)),
        ("minutes below 35", a_visit(minutes=34), a_visit(minutes=35)),
        ("minutes above 45", a_visit(minutes=46), a_visit(minutes=45)),
        ("gap_after below reset", a_visit(gap_after=5, reset=6), a_visit(gap_after=6, reset=6)),
        ("need noise", a_visit(needs={"noise": 1}), a_visit(needs={"touch": 1})),
        ("not need noise", a_visit(needs={"touch": 1}), a_visit(needs={"noise": 2})),
        ("avoid latex", a_visit(avoid=("latex",)), a_visit(avoid=("nut",))),
        ("not avoid latex", a_visit(), a_visit(avoid=("latex",))),
        ("some item is sharp", a_visit(items=NEEDLES), a_visit(items=PAPER)),
        ("no item is sharp", a_visit(items=PAPER), a_visit(items=NEEDLES)),
        ("lists paper", a_visit(items=PAPER), a_visit(items=NEEDLES)),
        ("lists needle-plastic", a_visit(items=NEEDLES), a_visit(items=PAPER)),
        ("not lists paper", a_visit(), a_visit(items=PAPER)),
        ("item is needle", a_visit(items=NEEDLES), a_visit(items=PAPER)),
        ("  first   visit ", a_visit("first visit"), a_visit()),
    ],
)
def test_a_condition_holds_or_does_not(sentence: str, holds: VisitFacts, does_not: VisitFacts) -> None:
    rules = rule_set(a_rule("own", sentence, cautions=(Warn("look"),)), builtin=False)
    assert [effect.text for effect in effects_of(rules, holds)] == ["look"]
    assert effects_of(rules, does_not) == ()


@pytest.mark.parametrize(
    "sentence", ["drying_places at most 10", "drying_places at least 10", "pieces above drying_places"]
)
def test_a_number_that_is_not_known_is_neither_small_nor_large(sentence: str) -> None:
    rules = rule_set(a_rule("own", sentence, cautions=(Warn("look"),)), builtin=False)
    assert effects_of(rules, a_visit(pieces=20)) == ()


def test_all_sentences_that_say_item_speak_of_the_same_supply() -> None:
    rules = rule_set(a_rule("own", "item is sharp", "item is own", cautions=(Warn("{item}"),)), builtin=False)
    apart = a_visit(items={"scissors": ("sharp",), "camera": ("own",)})
    both = a_visit(items={"scissors": ("sharp",), "awl": ("sharp", "own")})
    assert effects_of(rules, apart) == ()
    assert [(effect.item, effect.text) for effect in effects_of(rules, both)] == [("awl", "awl")]


def test_item_is_not_rules_out_the_supplies_that_are() -> None:
    rules = rule_set(a_rule("own", "item is needle", "item is not plastic", cautions=(Warn("{item}"),)), builtin=False)
    visit = a_visit(items={"steel": ("needle",), "soft": ("needle", "plastic")})
    assert [effect.item for effect in effects_of(rules, visit)] == ["steel"]


def test_a_mark_that_one_rule_gives_can_be_asked_for_by_another() -> None:
    rules = rule_set(
        a_rule("warned", "item is risky", cautions=(Warn("mind the {item}"),)),
        a_rule("risky", "item is blade", "item is not teacher-only", gives=("item is risky",)),
        builtin=False,
    )
    visit = a_visit(items={"knife": ("blade",), "trimmer": ("blade", "teacher-only")})
    assert [effect.text for effect in effects_of(rules, visit)] == ["mind the knife"]


def test_what_holds_something_the_class_avoids_is_found_by_any_word_for_it() -> None:
    rules = rule_set(a_rule("own", "avoid item", cautions=(Warn("{item}"),)), builtin=False)
    visit = a_visit(avoid=("latex", "strawberry"), items={"bands": ("latex",), "dough": ("strawberry",), "tape": ()})
    assert [effect.text for effect in effects_of(rules, visit)] == ["bands", "dough"]
