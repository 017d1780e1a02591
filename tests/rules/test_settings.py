"""Thresholds as settings: named in rules, told in sentences, hers to change, and refused where they make no sense."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from msgspec.structs import replace

import checklists.rules
from checklists.files.plan_folder import read_plan
from checklists.problems import Problem
from checklists.rules.read import RuleSet, compile_rules, read_builtin_rules, settings_of, vocabulary
from checklists.rules.records import ACTIONS, Add, NextPart, Raise, Replace, Rule, RuleFile, TaskFor, Warn
from checklists.rules.settings import builtin_settings, is_grade, say_setting
from tests.rules.situations import OWN_FILE, SUPPLIES, a_rule, a_visit, effects_of, of_rule
from tests.schools import small_school


def with_settings(*own: Rule, **settings: float | str) -> tuple[RuleSet, tuple[Problem, ...]]:
    file = RuleFile(own, settings=settings)  # type: ignore[arg-type]
    return compile_rules(read_builtin_rules(), file, SUPPLIES, file=OWN_FILE)


def rules_with(*own: Rule, **settings: float | str) -> RuleSet:
    rules, problems = with_settings(*own, **settings)
    assert problems == ()
    return rules


def value_of(rules: RuleSet, name: str) -> float:
    return next(each.value for each in settings_of(rules) if each.name == name)


# ------------------------------------------------------------------------------------------------ the built-in ones


def test_every_setting_is_used_by_a_rule_and_says_in_a_sentence_what_it_means() -> None:
    folder = Path(checklists.rules.__file__).parent / "builtin"
    rules = "".join(path.read_text(encoding="utf-8") for path in folder.glob("*.toml") if path.stem != "settings")
    for setting in builtin_settings():
        assert re.search(rf"\b{setting.name}\b", rules), f"{setting.name} is used nowhere"
        assert len(setting.meaning.split()) > 3
        assert not setting.meaning.endswith(".")
        assert setting.least <= setting.builtin <= setting.most
        assert not setting.whole or setting.builtin == int(setting.builtin)


def test_no_setting_is_called_like_a_fact_of_a_visit() -> None:
    words = vocabulary()
    assert not {each.name for each in builtin_settings()} & {*words.numbers, *words.words, "item", "items", "K", "PK"}


def test_what_applies_rules_sees_numbers_and_filled_sentences_only() -> None:
    rules = rules_with()
    names = {each.name for each in settings_of(rules)}
    for rule in rules.rules:
        said = [rule.title, rule.because, *rule.when]
        for action in (action for kind in ACTIONS for action in getattr(rule, kind)):
            fields = {name: getattr(action, name) for name in action.__struct_fields__}
            numbers = [value for name, value in fields.items() if name in NUMBERS]
            assert all(isinstance(value, int | float | None) for value in numbers), rule.id
            said += [value for value in fields.values() if isinstance(value, str)]
        assert not [name for name in names for text in said if f"{{{name}}}" in text or text.endswith(f" {name}")]


NUMBERS = {
    *("count", "plus", "each_holds", "times", "sets", "minutes", "minutes_each", "days_before"),
    *("not_before_days", "not_before_school_days", "not_after_days"),
}


def test_a_grade_is_told_as_grades_are_and_a_number_as_it_is() -> None:
    by_name = {each.name: each for each in settings_of(rules_with(small_part_grade=1, pin_grade="PK"))}
    assert say_setting(by_name["pin_grade"]) == "PK"
    assert (say_setting(by_name["small_part_grade"]), say_setting(by_name["towels_a_child"])) == ("1", "1.5")
    assert is_grade(by_name["material_grade"])
    assert not is_grade(by_name["jug_litres"])


# ------------------------------------------------------------------------------------------------- her own numbers


def test_a_grade_of_hers_moves_the_line_between_blunt_and_pointed_scissors() -> None:
    second_grade = a_visit("cutting", grade=2)
    assert not of_rule("blunt-scissors", effects_of(rules_with(), second_grade))
    (effect,) = of_rule("blunt-scissors", effects_of(rules_with(blunt_scissors_grade=2), second_grade))
    assert isinstance(effect.action, Replace)
    assert "Grade: 2 (at most 2)" in effect.facts


def test_a_grade_may_be_written_as_grades_are() -> None:
    rules = rules_with(blunt_scissors_grade="K")
    assert of_rule("blunt-scissors", effects_of(rules, a_visit("cutting", grade=0)))
    assert not of_rule("blunt-scissors", effects_of(rules, a_visit("cutting", grade=1)))


def test_the_chain_of_facts_tells_a_grade_as_grades_are() -> None:
    visit = a_visit(grade=0, items={"beads": ("small-part",)})
    (effect,) = of_rule("no-small-parts", effects_of(rules_with(), visit))
    assert effect.facts[0] == "Grade: K (at most K)"


def test_settings_are_read_from_her_file_of_rules(tmp_path: Path) -> None:
    told = {"settings": {"towels_a_child": 2, "small_part_grade": "K", "pin_grade": 3}}
    read = read_plan(small_school(tmp_path, rules=told))
    assert read.problems == ()
    assert read.rules is not None
    assert [value_of(read.rules, name) for name in told["settings"]] == [2, 0, 3]


def test_a_wrong_setting_in_her_file_is_told_and_all_else_in_it_is_used(tmp_path: Path) -> None:
    own = {"id": "own", "title": "own", "when": ["cutting"], "because": "so", "cautions": [{"text": "look"}]}
    read = read_plan(small_school(tmp_path, rules={"settings": {"towels_a_chld": 2}, "rules": [own]}))
    assert [(each.file, each.entry, each.to_do) for each in read.problems] == [
        ("rules.toml", "setting towels_a_chld", 'Did you mean "towels_a_child"?')
    ]
    assert read.rules is not None
    assert "own" in read.rules.clauses


def test_litres_of_hers_are_counted_and_told() -> None:
    (jug,) = of_rule("water-without-sink", effects_of(rules_with(water_a_pair=0.3, jug_litres=2), a_visit("tempera")))
    assert isinstance(jug.action, Add)
    assert (jug.action.count, jug.action.plus, jug.action.each_holds) == (0.3, 1, 2)
    assert jug.because == "24 children at 0.3 L a pair and 1 L to wash, in jugs of 2 L"


def test_a_spare_of_hers_reaches_the_raise() -> None:
    rules = rules_with(young_paper_spare=5, young_paper_percent=25)
    (effect,) = of_rule("paper-for-young-cutters", effects_of(rules, a_visit("cutting", grade=1)))
    assert isinstance(effect.action, Raise)
    assert effect.action.spare is not None
    assert (effect.action.spare.at_least, effect.action.spare.percent) == (5, 25)


def test_humid_weather_makes_clay_dry_longer_and_the_kiln_be_loaded_later() -> None:
    rules = rules_with(clay_drying_days=10, kiln_school_days=3)
    actions = [each.action for each in of_rule("dry-and-fire", effects_of(rules, a_visit("clay", "firing")))]
    due = [(each.after_days, each.days_before) for each in actions if isinstance(each, TaskFor)]
    assert due == [(10, 0), (10, -3)]
    (waiting,) = (each for each in actions if isinstance(each, NextPart))
    assert (waiting.not_before_days, waiting.not_before_school_days) == (10, 3)
    assert waiting.why == "10 days to dry and 3 school days in the kiln"


def test_her_number_and_the_built_in_one_are_both_told() -> None:
    (setting,) = (each for each in settings_of(rules_with(towels_a_child=2)) if each.name == "towels_a_child")
    assert (setting.value, setting.builtin) == (2, 1.5)
    assert setting.meaning == "Paper towels for each child in wet work"
    assert setting.source == "common practice, no source"


def test_a_rule_of_her_own_may_name_settings() -> None:
    own = a_rule(
        "own",
        "grade at most pin_grade",
        because="{towels_a_child} towels up to grade {pin_grade}",
        add=(Add(supply="towel", count="towels_a_child", per="student"),),  # type: ignore[arg-type]
    )
    (effect,) = of_rule("own", effects_of(rules_with(own, towels_a_child=3), a_visit(grade=2)))
    assert isinstance(effect.action, Add)
    assert (effect.action.count, effect.because) == (3, "3 towels up to grade 2")


def test_a_number_in_quotes_is_a_number() -> None:
    own = a_rule("own", "cutting", add=(Add(supply="towel", count="2.5"),))  # type: ignore[arg-type]
    (effect,) = of_rule("own", effects_of(rules_with(own), a_visit("cutting")))
    assert isinstance(effect.action, Add)
    assert effect.action.count == 2.5


# ----------------------------------------------------------------------------------------------------- mistakes


@pytest.mark.parametrize(
    ("name", "value", "what", "to_do"),
    [
        ("towel_a_child", 2, 'unknown setting "towel_a_child"', 'Did you mean "towels_a_child"?'),
        ("xyz", 2, 'unknown setting "xyz"', ""),
        (
            "towels_a_child",
            11,
            "11 cannot be; 1.5 is used",
            "Write a number from 0 to 10. Paper towels for each child in wet work.",
        ),
        (
            "young_paper_spare",
            2.5,
            "2.5 cannot be; 3 is used",
            "Write a whole number from 0 to 50. Spare sheets at least where the youngest cut.",
        ),
        (
            "material_grade",
            5,
            "5 cannot be; 6 is used",
            "Write a grade from 6 to 8. Up to this grade materials with a hazard on the label stay away; children of "
            "12 and under cannot be relied on to follow a label.",
        ),
        (
            "jug_litres",
            "K",
            '"K" is a grade, and this is a number; 3.8 is used',
            "Write a number from 0.5 to 20. Litres one jug holds; a gallon.",
        ),
    ],
)
def test_a_setting_that_cannot_be_used_is_told_and_the_built_in_number_stays(
    name: str, value: float | str, what: str, to_do: str
) -> None:
    rules, problems = with_settings(**{name: value})
    assert problems == (Problem(OWN_FILE, f"setting {name}", what, to_do),)
    assert settings_of(rules) == builtin_settings()


def test_one_bad_setting_does_not_keep_the_others_from_use() -> None:
    rules, problems = with_settings(towels_a_child=-1, sponges_more=2)
    assert [problem.entry for problem in problems] == ["setting towels_a_child"]
    assert value_of(rules, "sponges_more") == 2


@pytest.mark.parametrize(
    ("rule", "what", "to_do"),
    [
        (
            a_rule("own", "wet", add=(Add(supply="towel", count="towel_a_child"),)),  # type: ignore[arg-type]
            'unknown setting "towel_a_child" as "count"',
            'Did you mean "towels_a_child"?',
        ),
        (
            a_rule("own", "wet", add=(Add(supply="towel", count="a few"),)),  # type: ignore[arg-type]
            'unknown setting "a few" as "count"',
            "Write a number, or the name of a setting.",
        ),
        (
            a_rule("own", "wet", tasks=(TaskFor("look", days_before="towels_a_child"),)),  # type: ignore[arg-type]
            '"days_before" cannot be 1.5, which "towels_a_child" is',
            "Write a whole number from -600 to 600.",
        ),
        (
            a_rule("own", "wet", next_part=(NextPart(not_before_days="-2"),)),  # type: ignore[arg-type]
            '"not_before_days" cannot be -2',
            "Write a whole number from 0 to 600.",
        ),
        (
            a_rule("own", "grade at most pin_grad", cautions=(Warn("look"),)),
            'unknown number "pin_grad"',
            'Did you mean "pin_grade"?',
        ),
        (
            a_rule("own", "pin_grade at most 3", cautions=(Warn("look"),)),
            'unknown number "pin_grade"',
            'Did you mean "grade"?',
        ),
        (
            a_rule("own", "wet", because="up to grade {pin_grad}", cautions=(Warn("look"),)),
            "unknown field {pin_grad} in because",
            'Did you mean "pin_grade"?',
        ),
    ],
)
def test_a_name_nobody_knows_is_told_with_the_nearest_setting(rule: Rule, what: str, to_do: str) -> None:
    rules, problems = with_settings(rule)
    assert problems == (Problem(OWN_FILE, "rule own", what, to_do),)
    assert "own" not in {each.id for each in rules.rules}


def test_for_each_child_may_be_raised_and_nothing_else() -> None:
    raised = a_rule("own", "demo", raises=(Raise("for each child", sets=2),))
    (effect,) = of_rule("own", effects_of(rules_with(raised), a_visit("demo")))
    assert isinstance(effect.action, Raise)
    assert (effect.action.what, effect.action.sets, effect.item) == ("for each child", 2, "")
    wrong = replace(raised, raises=(), replace=(Replace(what="for each child", supply="sponge"),))
    _, problems = with_settings(wrong)
    assert [each.what for each in problems] == ['"for each child" can only be raised']
    _, problems = with_settings(a_rule("own", "demo", raises=(Raise("for each chld", sets=2),)))
    assert [each.to_do for each in problems] == ['Did you mean "for each child"?']


def test_a_part_that_cannot_be_taught_so_is_stopped_by_its_caution() -> None:
    visit = a_visit("two adults", "one adult", adults=1)
    (effect,) = of_rule("two-adults", effects_of(rules_with(), visit))
    assert isinstance(effect.action, Warn)
    assert (effect.action.stops, effect.action.critical) == (True, True)
