"""Mistakes in a teacher's own rules: told with file, rule, what is wrong and the nearest known word."""

from __future__ import annotations

import pytest

from checklists.problems import Problem
from checklists.rules.read import builtin_supplies, compile_rules, read_builtin_rules
from checklists.rules.records import Add, CheckFor, Forbid, Raise, Replace, Rule, RuleFile, SwitchedOff, TaskFor, Warn
from checklists.rules.vocabulary import Words
from tests.rules.situations import OWN_FILE, a_rule, a_visit, effects_of, of_rule, rule_set, with_problems

LOOK = (Warn("look"),)


@pytest.mark.parametrize(
    ("rule", "what", "to_do"),
    [
        (a_rule("own", "watercolor", cautions=LOOK), 'unknown tag "watercolor"', 'Did you mean "watercolour"?'),
        (a_rule("own", "not frist visit", cautions=LOOK), 'unknown tag "frist visit"', 'Did you mean "first visit"?'),
        (a_rule("own", "grad at most 2", cautions=LOOK), 'unknown number "grad"', 'Did you mean "grade"?'),
        (a_rule("own", "gap_after below rest", cautions=LOOK), 'unknown number "rest"', 'Did you mean "reset"?'),
        (a_rule("own", "item is powdr", cautions=LOOK), 'unknown mark "powdr"', 'Did you mean "powder"?'),
        (a_rule("own", "lists scisors", cautions=LOOK), 'unknown mark "scisors"', 'Did you mean "scissors"?'),
        (a_rule("own", "need fine-moter", cautions=LOOK), 'unknown need "fine-moter"', 'Did you mean "fine-motor"?'),
        (
            a_rule("own", "avoid latx", cautions=LOOK),
            'unknown word for what is avoided "latx"',
            'Did you mean "latex"?',
        ),
        (
            a_rule("own", "wet", add=(Add(supply="spunge"),)),
            'unknown supply "spunge"',
            'Did you mean "sponge"?',
        ),
        (
            a_rule("own", "wet", replace=(Replace(what="scissors", supply="scissors-sprung"),)),
            'unknown supply "scissors-sprung"',
            'Did you mean "scissors-spring"?',
        ),
        (a_rule("own", "wet", raises=(Raise(what="papr"),)), 'unknown mark "papr"', 'Did you mean "paper"?'),
        (
            a_rule("own", "wet", add=(Add(supply="sponge", per="need nois"),)),
            'unknown need "nois"',
            'Did you mean "noise"?',
        ),
        (
            a_rule("own", "wet", add=(Add(supply="sponge", per="studnt"),)),
            'nothing can be counted per "studnt"',
            'Did you mean "student"?',
        ),
        (
            a_rule("own", "wet", because="for {studnts} children", cautions=LOOK),
            "unknown field {studnts} in because",
            'Did you mean "students"?',
        ),
        (
            a_rule("own", "wet", checks=(CheckFor("see {rom}"),)),
            "unknown field {rom} in a text",
            'Did you mean "room"?',
        ),
        (
            a_rule("own", "wet", cautions=(Warn("mind the {item}"),)),
            "{item} in a text, but no condition names an item",
            'Add a condition "item is MARK".',
        ),
        (
            a_rule("own", "wet", checks=(CheckFor("count {items}"),)),
            "{items} in a text, but no condition names an item",
            'Add a condition "item is MARK".',
        ),
        (
            a_rule("own", "item is not sharp", cautions=LOOK),
            "speaks of an item that no condition names",
            'Add a condition "item is MARK".',
        ),
        (
            a_rule("own", "wet", gives=("item is risky",)),
            "speaks of an item that no condition names",
            'Add a condition "item is MARK".',
        ),
        (
            a_rule("own", "clay", tasks=(TaskFor("fire", days_before=-41),)),
            '"days_before" of a task is -41',
            "At most 20; after the visit, down to -40.",
        ),
        (
            a_rule("own", "clay", tasks=(TaskFor("fire", days_before=21),)),
            '"days_before" of a task is 21',
            "At most 20; after the visit, down to -40.",
        ),
        (
            a_rule("own", "clay", "last part", tasks=(TaskFor("fire", days_before=-5),)),
            'a task falls due after the "last part", and no part comes after that',
            "Make it days_before = 0, or let a part follow in which the pieces come back.",
        ),
        (
            a_rule("own", "wet", forbid=(Forbid(),)),
            "speaks of an item that no condition names",
            'Add a condition "item is MARK".',
        ),
        (
            a_rule("own", "not grade at most 2", cautions=LOOK),
            '"not grade at most 2" cannot be asked',
            "Turn the comparison round: below, above, at least.",
        ),
        (
            a_rule("own", "wet", gives=("grade at most 2",)),
            'gives "grade at most 2", which is a condition and not a tag',
            'Give a tag or "item is MARK".',
        ),
        (a_rule("own", "wet"), "does nothing", "Give it a tag to give, a supply to add, a check or a caution."),
        (a_rule("own", "grade <= 2", cautions=LOOK), 'unknown tag "grade <= 2"', ""),
        (a_rule("own", "__import__('os')", cautions=LOOK), "unknown tag \"__import__('os')\"", ""),
    ],
)
def test_a_mistake_names_the_file_the_rule_and_the_nearest_word(rule: Rule, what: str, to_do: str) -> None:
    _, problems = with_problems(rule)
    assert problems == (Problem(OWN_FILE, "rule own", what, to_do),)


def test_every_mistake_of_a_rule_is_told() -> None:
    bad = a_rule("own", "watercolor", "need nois", because="{tabels}", add=(Add(supply="spunge"),))
    _, problems = with_problems(bad)
    assert len(problems) == 4


def test_one_bad_rule_does_not_keep_the_others_from_use() -> None:
    good = a_rule("good", "cutting", cautions=(Warn("fine"),))
    rules, problems = with_problems(a_rule("bad", "cuting", cautions=LOOK), good)
    assert [problem.entry for problem in problems] == ["rule bad"]
    effects = effects_of(rules, a_visit("cutting"))
    assert [effect.text for effect in of_rule("good", effects)] == ["fine"]
    assert of_rule("scissors-for-all", effects)


def test_a_bad_rule_in_place_of_a_built_in_one_leaves_the_built_in_one_in_use() -> None:
    rules, problems = with_problems(a_rule("sponges-for-wet-work", "wett", cautions=LOOK))
    assert len(problems) == 1
    (effect,) = of_rule("sponges-for-wet-work", effects_of(rules, a_visit("tempera")))
    assert isinstance(effect.action, Add)


def test_two_own_rules_with_one_id_are_told_and_the_first_is_used() -> None:
    first, second = (a_rule("own", "cutting", cautions=(Warn(text),)) for text in ("first", "second"))
    rules, problems = with_problems(first, second)
    assert [problem.what for problem in problems] == ["a second rule with this id"]
    assert [effect.text for effect in of_rule("own", effects_of(rules, a_visit("cutting")))] == ["first"]


def test_rules_that_rest_on_each_others_absence_are_refused_with_the_circle_named() -> None:
    calm = a_rule("calm-unless-busy", "not busy", gives=("calm",))
    busy = a_rule("busy-unless-calm", "not calm", gives=("busy",))
    rules, problems = with_problems(calm, busy)
    (problem,) = problems
    assert problem.file == OWN_FILE
    assert problem.entry == "rules calm-unless-busy, busy-unless-calm"
    assert '"calm", "busy", "calm"' in problem.what
    assert of_rule("scissors-for-all", effects_of(rules, a_visit("cutting"))), "the built-in rules stay in use"


def test_a_circle_through_a_built_in_tag_is_refused_and_the_built_in_rules_stay_in_use() -> None:
    rules, problems = with_problems(
        a_rule("dry-unless-wet", "not wet", gives=("dry",)), a_rule("wet-when-dry", "dry", gives=("wet",))
    )
    assert len(problems) == 1
    assert not of_rule("sponges-for-wet-work", effects_of(rules, a_visit()))
    assert of_rule("sponges-for-wet-work", effects_of(rules, a_visit("tempera")))


def test_a_tag_of_ones_own_is_known_once_a_rule_gives_it() -> None:
    rules = rule_set(
        a_rule("batik", "watercolour", gives=("batik",)), a_rule("wax", "batik", add=(Add(supply="damp-cloth"),))
    )
    assert of_rule("wax", effects_of(rules, a_visit("watercolour")))


def test_words_that_the_plan_brings_are_known() -> None:
    rule = a_rule("own", "batik", "item is wax", "need shade", "avoid beeswax", cautions=LOOK)
    words = Words(*(frozenset({word}) for word in ("batik", "wax", "shade", "beeswax")))
    assert len(with_problems(rule)[1]) == 4
    assert with_problems(rule, words=words)[1] == ()


def test_switching_off_a_rule_nobody_knows_is_told_with_the_nearest_one() -> None:
    _, problems = with_problems(off=(SwitchedOff("sponge-for-wet-work"),))
    assert problems == (
        Problem(
            OWN_FILE,
            "off sponge-for-wet-work",
            'unknown rule "sponge-for-wet-work"',
            'Did you mean "sponges-for-wet-work"?',
        ),
    )


def test_a_safety_rule_switched_off_without_a_reason_stays_on() -> None:
    rules, problems = with_problems(off=(SwitchedOff("count-sharps"),))
    assert [problem.entry for problem in problems] == ["off count-sharps"]
    assert of_rule("count-sharps", effects_of(rules, a_visit("cutting")))


def test_the_built_in_rules_have_no_mistakes() -> None:
    _, problems = with_problems(*read_builtin_rules(), builtin=False)
    assert problems == ()


def test_a_built_in_safety_rule_is_not_replaced_by_one_of_hers_with_its_name() -> None:
    own = RuleFile(rules=(Rule(id="count-sharps", title="Hers", when=(), because="so", add=(Add(supply="towel"),)),))
    rules, problems = compile_rules(
        read_builtin_rules(), own, [each.id for each in builtin_supplies()], file="rules.toml"
    )
    assert [(each.entry, each.what) for each in problems] == [
        ("rule count-sharps", "is the name of a built-in safety rule, which stays as it is")
    ]
    assert next(rule for rule in rules.rules if rule.id == "count-sharps").checks
