"""Every built-in rule: one situation in which it applies and one, as near as can be, in which it does not.

Quantities are common practice, no source; the rows on materials follow the published avoid-lists named in the rules.
"""

from __future__ import annotations

import re
from math import ceil
from pathlib import Path

import pytest

import checklists.rules
from checklists.rules.clauses import actions_of, text_of
from checklists.rules.read import read_builtin_rules, vocabulary
from checklists.rules.records import Add, CheckFor, Forbid, NextPart, Raise, Rule, TaskFor, VisitFacts, Warn
from tests.rules.builtin_situations import SITUATIONS
from tests.rules.material_situations import holding
from tests.rules.situations import SUPPLIES, a_visit, all_rules_on, effects_of, of_rule, rule_set


def applies_in(ident: str, facts: VisitFacts) -> bool:
    """Whether the rule does something, or what it gives stands in the reasons of one that does."""
    (rule,) = (rule for rule in read_builtin_rules() if rule.id == ident)
    effects = effects_of(all_rules_on(), facts)
    if of_rule(ident, effects):
        return True
    said = re.compile(".+".join(re.escape(each) for each in re.split(r"\{[^{}]*\}", rule.because)), re.IGNORECASE)
    return any(said.fullmatch(fact) for effect in effects for fact in effect.facts)


@pytest.mark.parametrize("ident", [rule.id for rule in read_builtin_rules()])
def test_a_built_in_rule_applies_where_it_should_and_not_where_it_should_not(ident: str) -> None:
    applies, does_not = SITUATIONS[ident]
    assert applies_in(ident, applies)
    assert not applies_in(ident, does_not)


def test_every_situation_is_of_a_rule_there_is() -> None:
    assert set(SITUATIONS) == {rule.id for rule in read_builtin_rules()}


def test_rules_that_would_come_with_every_visit_ship_switched_off_with_the_reason_beside_them() -> None:
    off = {rule.id for rule in read_builtin_rules() if not rule.on}
    assert off == {
        *("stamp-class-codes", "labels-for-finished-work", "first-things", "sort-for-young-tables"),
        *("house-rules", "kindergarten-things"),
    }
    folder = Path(checklists.rules.__file__).parent / "builtin"
    texts = [path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.toml"))]
    rules = [block for text in texts for block in text.split("[[rules]]")[1:]]
    switched_off = [block for block in rules if re.search(r"^on = false", block, re.MULTILINE)]
    assert len(switched_off) == len(off)
    assert all(re.search(r"^# (Off|With)[^\n]*", block, re.MULTILINE) for block in switched_off)


# -------------------------------------------------------------------------------------- what the actions amount to


def quantity(add: Add, *, students: int, tables: int, need: int = 0) -> int:
    units = {"student": students, "pair": ceil(students / 2), "table": tables, "class": 1, "lesson": 1}
    count = units.get(add.per, need) * add.count + add.plus
    return ceil(round(count / add.each_holds, 9))


@pytest.mark.parametrize(
    ("rule", "facts", "supply", "expected"),
    [
        ("water-without-sink", a_visit("watercolour", students=22), "water-jug", 1),  # 11 × 0.2 L + 1 L = 3.2 L
        ("water-without-sink", a_visit("watercolour", students=29), "water-jug", 2),  # 15 × 0.2 L + 1 L = 4 L
        ("sponges-for-wet-work", a_visit("tempera"), "sponge", 7),
        ("towels-for-wet-work", a_visit("tempera", students=23), "towel", 35),
        ("brayers", a_visit("printing", "ink", students=23), "brayer", 6),  # 1 + 5
        ("block-ink", a_visit("printing", "ink", students=23), "block-ink-tube", 1),  # 138 mL
        ("boards-for-clay", a_visit("clay", students=26), "carry-board", 4),
        ("labels-for-new-work", a_visit("several parts", students=24), "name-label", 27),
        ("tags-for-clay", a_visit("clay", students=26), "clay-tag", 29),
        ("keep-clay-wet", a_visit("clay", "keeps wet", students=26), "damp-towel", 4),
        ("clips-for-prints", a_visit("printing", "ink", students=23), "drying-clip", 46),
        ("eye-protection-for-wire", a_visit("wire", students=26), "eye-protection", 7),
        ("tape-for-wire-ends", a_visit("wire", tables=5), "masking-tape", 3),
        ("bench-hooks", holding("relief-cutter", grade=5, students=27), "bench-hook", 27),
        ("wipes-for-ink", a_visit("ink", students=23), "wipes", 46),
        ("no-loose-glitter", holding("glitter"), "glitter-glue", 6),
    ],
)
def test_how_much_a_rule_asks_for(rule: str, facts: VisitFacts, supply: str, expected: int) -> None:
    adds = [effect.action for effect in of_rule(rule, effects_of(all_rules_on(), facts))]
    (add,) = (action for action in adds if isinstance(action, Add) and action.supply == supply)
    numbers = facts.numbers
    assert quantity(add, students=int(numbers["students"]), tables=int(numbers["tables"])) == expected


def test_clay_that_is_fired_dries_seven_days_and_takes_two_school_days_in_the_kiln() -> None:
    actions = [effect.action for effect in of_rule("dry-and-fire", effects_of(rule_set(), a_visit("clay", "firing")))]
    (waiting,) = (action for action in actions if isinstance(action, NextPart))
    assert (waiting.not_before_days, waiting.not_before_school_days, waiting.not_after_days) == (7, 2, None)
    tasks = [action for action in actions if isinstance(action, TaskFor)]
    assert [(task.after_days, task.days_before) for task in tasks] == [(7, 0), (7, -2)], "days, then school days"


def test_a_powder_is_forbidden_in_the_room_even_when_it_conforms_and_is_mixed_wet_before() -> None:
    visit = a_visit(grade=2, items={"tempera-powder": ("material", "powder")})
    actions = {type(effect.action) for effect in of_rule("no-dry-powder", effects_of(rule_set(), visit))}
    assert actions == {Forbid, TaskFor, Warn}


def test_a_conforming_label_with_a_caution_still_blocks_for_grade_two() -> None:
    effects = effects_of(rule_set(), holding("material", "label-caution", grade=2))
    assert [effect.item for effect in effects if isinstance(effect.action, Forbid)] == ["thing"]


def test_too_early_and_short_of_drying_places_are_critical_and_a_short_period_is_not() -> None:
    effects = effects_of(rule_set(), a_visit("too early", "drying short", "short period", "tempera", part=2))
    critical = {effect.rule.id for effect in effects if isinstance(effect.action, Warn) and effect.action.critical}
    other = {effect.rule.id for effect in effects if isinstance(effect.action, Warn) and not effect.action.critical}
    assert (critical, other) == ({"too-early", "drying-places"}, {"short-period"})


def test_what_was_replaced_altogether_is_not_counted_out() -> None:
    effects = effects_of(rule_set(), a_visit("cutting", grade=1))
    (count,) = of_rule("count-sharps", effects)
    assert isinstance(count.action, CheckFor)
    assert count.because == "scissors blunt: counted out and back"


def test_young_cutters_get_the_larger_spare_of_paper() -> None:
    (effect,) = of_rule("paper-for-young-cutters", effects_of(rule_set(), a_visit("cutting", grade=1)))
    assert isinstance(effect.action, Raise)
    assert effect.action.spare is not None
    assert (effect.action.what, effect.action.spare.at_least, effect.action.spare.percent) == ("paper", 3, 15)


def test_an_ordinary_drawing_lesson_gives_no_caution() -> None:
    """A list that cries wolf is not read."""
    effects = effects_of(rule_set(), a_visit("drawing", "sink", "first part", items={"white-paper": ("paper",)}))
    assert effects == ()


@pytest.mark.parametrize(
    "tags",
    [
        ("watercolour", "demo", "no sink"),
        ("tempera", "demo", "no sink", "carpet"),
        ("clay", "firing"),
        ("cutting", "gluing", "demo"),
    ],
)
def test_an_ordinary_visit_has_at_most_five_critical_lines_from_rules(tags: tuple[str, ...]) -> None:
    effects = effects_of(rule_set(), a_visit(*tags, part=2, needs={"left-handed": 2}))
    assert sum(isinstance(effect.action, Add) and effect.action.critical for effect in effects) <= 5


def test_all_supplies_that_rules_bring_are_in_the_catalogue_of_built_in_ones() -> None:
    brought = {each.supply for rule in read_builtin_rules() for each in (*rule.add, *rule.replace)}
    assert brought <= SUPPLIES.keys()


def test_rules_of_safety_say_where_a_published_limit_comes_from() -> None:
    published = {rule.id for rule in read_builtin_rules() if rule.source != "common practice, no source"}
    assert {"label-without-statement", "label-with-caution", "no-dry-powder", "no-solvent", "no-spray"} <= published


def test_every_tag_has_a_meaning_and_no_tag_reads_like_another_kind_of_condition() -> None:
    words = vocabulary()
    tags = [*words.part, *words.visit, *words.given]
    assert len(tags) == len(set(tags))
    reserved = ("not ", "need ", "avoid ", "item ", "some item ", "no item ", "lists ")
    assert not [tag for tag in tags if tag.startswith(reserved)]
    assert all(meaning for meaning in [*words.part.values(), *words.marks.values(), *words.needs.values()])


STANDARDS = ("ASTM D4236", "EN 71-3", "EN 71-7", "ISO 8124-3", "ASTM C1023", "Proposition 65")
"""Names with a number in them, which is no number of a visit and no setting."""


@pytest.mark.parametrize("rule", read_builtin_rules(), ids=lambda rule: rule.id)
def test_every_rule_says_in_a_sentence_what_and_why_and_types_no_number_twice(rule: Rule) -> None:
    assert rule.title[0].isupper() and not rule.title.endswith(".")
    assert len(rule.because.split()) >= 3 and not rule.because.endswith(".")
    assert rule.source
    for sentence in (rule.title, rule.because, *(text_of(action) for action in actions_of(rule))):
        said = re.sub(r"\{[^{}]*\}", "", sentence)
        for name in STANDARDS:
            said = said.replace(name, "")
        assert not re.search(r"\d", said), sentence


@pytest.mark.parametrize("rule", read_builtin_rules(), ids=lambda rule: rule.id)
def test_a_rule_that_forbids_for_safety_or_for_an_allergy_asks_for_a_reason_to_be_switched_off(rule: Rule) -> None:
    for_order_alone = {"no-loose-glitter"}
    assert rule.safety or not rule.forbid or rule.id in for_order_alone


@pytest.mark.parametrize("mark", ["latex", "balloon", "wool", "feather", "wheat", "scented", "food-packing", "nut"])
def test_what_a_class_avoids_is_forbidden_with_something_to_use_instead(mark: str) -> None:
    # Common practice, no source.
    word = {"balloon": "latex", "food-packing": "egg"}.get(mark, mark)
    effects = effects_of(rule_set(), a_visit(avoid=(word,), items={"thing": ("material", mark)}, grade=7))
    forbidden = [effect for effect in effects if isinstance(effect.action, Forbid)]
    assert [bool(effect.action.instead) for effect in forbidden] == [True]  # type: ignore[union-attr]
    assert all(effect.rule.private for effect in forbidden)


def test_what_she_says_herself_to_use_instead_is_not_overruled() -> None:
    visit = a_visit(avoid=("latex",), items={"bands": ("material", "latex", "own-substitute")})
    (effect,) = (each for each in effects_of(rule_set(), visit) if isinstance(each.action, Forbid))
    assert isinstance(effect.action, Forbid)
    assert (effect.rule.id, effect.action.instead) == ("avoided-by-the-class", "")


def test_of_freely_chosen_colours_the_white_base_stays_and_a_popular_one_is_raised_once() -> None:
    # Common practice, no source: 1.4 times, the popular ones twice.
    paper = {"white": ("paper",), "red": ("paper", "coloured"), "green": ("paper", "coloured", "popular")}
    effects = effects_of(rule_set(), a_visit("colour choice", items=paper))
    raised = {effect.item: effect.action.times for effect in effects if isinstance(effect.action, Raise)}
    assert raised == {"red": 1.4, "green": 2}


def test_a_demonstration_made_afresh_takes_one_set_of_a_childs_things_and_a_staged_sample_is_one_a_lesson() -> None:
    effects = effects_of(rule_set(), a_visit("demo", "fresh demo"))
    (sample,) = of_rule("staged-sample", effects)
    assert isinstance(sample.action, Add)
    assert (sample.action.per, sample.action.count) == ("lesson", 1)
    (fresh,) = of_rule("fresh-demonstration", effects)
    assert isinstance(fresh.action, Raise)
    assert (fresh.action.what, fresh.action.sets, fresh.action.times) == ("for each child", 1, 1)
