"""Every built-in rule: one situation in which it applies and one, as near as can be, in which it does not.

Quantities are common practice, no source; the rows on materials follow the published avoid-lists named in the rules.
"""

from __future__ import annotations

from math import ceil

import pytest

from checklists.rules.read import read_builtin_rules, vocabulary
from checklists.rules.records import Add, CheckFor, Forbid, NextPart, Raise, TaskFor, VisitFacts, Warn
from tests.rules.situations import SUPPLIES, a_visit, all_rules_on, effects_of, of_rule, rule_set

KNIFE = {"knife": ("tool", "sharp", "blade")}
TEACHERS_KNIFE = {"knife": ("tool", "sharp", "blade", "teacher-only")}


def holding(*marks: str, supply: str = "thing", **more: float) -> VisitFacts:
    return a_visit(items={supply: marks}, **more)


def material(mark: str) -> tuple[VisitFacts, VisitFacts]:
    """A material that is kept from grade 6 and under, and nothing of the kind."""
    return holding("material", mark, grade=6), holding("material", mark, grade=7)


def needing(need: str, *tags: str) -> tuple[VisitFacts, VisitFacts]:
    return a_visit(*tags, needs={need: 2}), a_visit(*tags)


SITUATIONS: dict[str, tuple[VisitFacts, VisitFacts]] = {
    # water
    **{
        f"{tag}-is-wet": (a_visit(tag), a_visit("drawing"))
        for tag in ("watercolour", "tempera", "ink", "clay", "paste", "plaster")
    },
    "water-without-sink": (a_visit("watercolour"), a_visit("watercolour", "sink")),
    "bucket-without-sink": (a_visit("tempera", "no sink"), a_visit("tempera", "sink")),
    "sponges-for-wet-work": (a_visit("paste"), a_visit("gluing")),
    "covers-for-wet-work": (a_visit("tempera"), a_visit("tempera", items={"cloth": ("table-cover",)})),
    "covers-for-single-desks": (a_visit("tempera", "single desks"), a_visit("tempera")),
    "covers-over-carpet": (a_visit("tempera", "carpet"), a_visit("tempera")),
    "towels-for-wet-work": (a_visit("ink"), a_visit("ink", items={"rags": ("towel",)})),
    "wipes-for-young-hands": (a_visit("tempera", grade=2), a_visit("tempera", grade=3)),
    "smocks": (a_visit("tempera"), a_visit("watercolour")),
    "drop-sheet-on-carpet": (a_visit("clay", "carpet"), a_visit("cutting", "carpet")),
    "drying-places": (a_visit("tempera", "drying short"), a_visit("drawing", "drying short")),
    "kit-needed-again": (a_visit("same kit next", reset=6, gap_after=0), a_visit(reset=6, gap_after=0)),
    "rinse-at-day-end": (a_visit("tempera", "last visit"), a_visit("tempera")),
    # cutting
    "marked-sharp": (
        a_visit(items=KNIFE, needs={"behaviour-plan": 1}),
        a_visit(items={"brush": ("tool",)}, needs={"behaviour-plan": 1}),
    ),
    "hot-tool-is-hot": (a_visit("hot tool"), a_visit()),
    "marked-hot": (holding("hot-tool", grade=5), holding("tool", grade=5)),
    "scissors-for-all": (a_visit("cutting"), a_visit("cutting", items={"mine": ("scissors",)})),
    "scissors-in-pairs": (a_visit("shared scissors"), a_visit("cutting")),
    "blunt-scissors": (a_visit("cutting", grade=1), a_visit("cutting", grade=2)),
    "paper-for-young-cutters": (a_visit("cutting", grade=0), a_visit("cutting", grade=2)),
    "count-sharps": (a_visit(items=KNIFE), a_visit(items={"brush": ("tool",)})),
    "plastic-needles": (holding("needle", grade=1), holding("needle", "plastic", grade=1)),
    "needle-count": (holding("needle", grade=2), holding("needle", grade=1)),
    "blades-for-the-teacher": (a_visit(items=KNIFE, grade=5), a_visit(items=TEACHERS_KNIFE, grade=5)),
    "no-relief-cutters": (holding("relief-cutter", grade=4), holding("relief-cutter", grade=5)),
    "relief-cutters-by-tag": (a_visit("relief cutters", grade=4), a_visit("relief cutters", grade=5)),
    "hot-tool-by-tag": (a_visit("hot tool", grade=3), a_visit("hot tool", grade=4)),
    "eye-protection-for-wire": (a_visit("wire"), a_visit("stitching")),
    "eye-protection-for-skewers": (a_visit("skewers"), a_visit("pins")),
    "no-pins-for-the-young": (holding("pin", grade=2), holding("pin", grade=3)),
    "no-hot-tools-for-the-young": (holding("hot-tool", grade=3), holding("hot-tool", grade=4)),
    "hot-tools-off-in-time": (a_visit("hot tool"), a_visit("wire")),
    "two-adults": (a_visit("two adults", adults=1), a_visit("two adults", adults=2)),
    # materials
    "label-without-statement": (holding("not-conforming", grade=6), holding("not-conforming", grade=7)),
    "label-with-caution": (holding("label-caution", grade=2), holding("material", grade=2)),
    "no-dry-powder": material("powder"),
    "no-solvent": material("solvent"),
    "no-spray": material("spray"),
    "no-oil-based": material("oil-based"),
    "no-dye": material("dye"),
    "no-lead-glaze": material("lead-glaze"),
    "no-instant-glue": material("instant-glue"),
    "washable-markers": (holding("permanent-marker"), holding("permanent-marker", "teacher-only")),
    "chalk-dust": (a_visit("chalk"), a_visit("oil pastel")),
    "no-chalk-with-asthma": (
        a_visit(needs={"asthma": 1}, items={"pastels": ("chalk",)}),
        a_visit(items={"pastels": ("chalk",)}),
    ),
    "no-small-magnets": (holding("small-magnet", grade=2), holding("small-magnet", grade=3)),
    "no-button-cells": (holding("button-cell", grade=2), holding("button-cell", grade=3)),
    "no-small-parts": (holding("small-part", grade=0), holding("small-part", grade=1)),
    "no-small-parts-when-mouthed": (
        a_visit(needs={"mouthing": 1}, items={"beads": ("small-part",)}),
        a_visit(items={"beads": ("small-part",)}),
    ),
    "no-loose-glitter": (holding("glitter"), holding("material")),
    "avoided-by-the-class": (
        a_visit(avoid=("latex",), items={"rubber-bands": ("latex",)}),
        a_visit(avoid=("nut",), items={"rubber-bands": ("latex",)}),
    ),
    "no-food-packing": (
        a_visit(avoid=("nut",), items={"cartons": ("food-packing",)}),
        a_visit(avoid=("latex",), items={"cartons": ("food-packing",)}),
    ),
    **{
        f"avoids-{food}": (
            a_visit(avoid=(food,), items={"cartons": ("food-packing",)}),
            a_visit(items={"cartons": ("food-packing",)}),
        )
        for food in ("nut", "egg", "milk", "wheat")
    },
    # clay and print
    "portion-clay": (a_visit("clay"), a_visit("glaze")),
    "clay-mats": (a_visit("clay"), a_visit("clay", items={"boards": ("clay-mat",)})),
    "mark-clay-pieces": (a_visit("clay"), a_visit("plaster")),
    "wipe-clay-wet": (a_visit("clay"), a_visit("glaze")),
    "boards-for-clay": (a_visit("clay"), a_visit("paste")),
    "dry-and-fire": (a_visit("clay", "firing"), a_visit("clay")),
    "keep-clay-wet": (a_visit("clay", "keeps wet"), a_visit("clay", "firing")),
    "brayers": (a_visit("printing", "ink"), a_visit("printing", "ink", items={"roller": ("brayer",)})),
    "inking-plates": (a_visit("printing", "ink"), a_visit("printing")),
    "block-ink": (a_visit("printing", "ink"), a_visit("drawing", "ink")),
    "newsprint-for-printing": (a_visit("printing", "ink"), a_visit("printing")),
    "pail-for-plaster": (a_visit("plaster"), a_visit("clay")),
    "pail-for-paste": (a_visit("paste"), a_visit("gluing")),
    # differentiation
    "left-handed-scissors": needing("left-handed", "cutting"),
    "spring-scissors": needing("fine-motor", "shared scissors"),
    "wide-cutting-line": needing("fine-motor", "cutting"),
    "grips-for-drawing": needing("fine-motor", "drawing"),
    "stick-for-bottle": (
        a_visit(needs={"fine-motor": 1}, items={"glue": ("glue-bottle",)}),
        a_visit(needs={"fine-motor": 1}, items={"glue": ("material",)}),
    ),
    "low-vision": needing("low-vision"),
    "colour-names": needing("colour-vision", "colour matters"),
    "noise": needing("noise"),
    "gloves-for-wet-work": needing("touch", "clay"),
    "picture-cards": needing("english-learner"),
    "one-handed": needing("one-handed"),
    "one-handed-cutting": needing("one-handed", "cutting"),
    "wheelchair": needing("wheelchair"),
    "pre-cut-for-behaviour-plan": needing("behaviour-plan", "cutting"),
    "hand-out-sharps-yourself": needing("behaviour-plan", "cutting"),
    "hand-out-hot-tools-yourself": (
        a_visit("hot tool", needs={"behaviour-plan": 1}),
        a_visit(needs={"behaviour-plan": 1}),
    ),
    "break-cards": needing("break-card"),
    "own-adult": needing("own-adult"),
    # parts
    "folder-from-second-part": (a_visit(part=2, parts=2), a_visit(part=1, parts=2)),
    "folder-for-new-work": (a_visit("several parts", part=1), a_visit(part=1)),
    "labels-for-new-work": (a_visit("several parts", part=1), a_visit("several parts", part=2)),
    "labels-for-finished-work": (a_visit("last part"), a_visit("first part")),
    "look-whether-dry": (a_visit("too early", part=2), a_visit(part=2)),
    "too-early": (a_visit("too early", part=2), a_visit("next too early", part=2)),
    "too-late": (a_visit("too late", part=2), a_visit("next too late", part=2)),
    "next-too-early": (a_visit("next too early"), a_visit("too early")),
    "next-too-late": (a_visit("next too late"), a_visit("too late")),
    "catch-up-first": (a_visit("owed"), a_visit("absences unknown")),
    "ask-who-was-absent": (a_visit("absences unknown"), a_visit("owed")),
    "choice-bin": (a_visit("first visit"), a_visit("last visit")),
    "staged-sample": (a_visit("demo"), a_visit("demo", items={"bird": ("sample",)})),
    "more-colours": (a_visit("colour choice"), a_visit("colour matters")),
    # rooms
    "no-time-to-swap": (a_visit("no time to swap"), a_visit("no time to swap", "first visit")),
    "short-period": (a_visit("short period", minutes=30), a_visit(minutes=35)),
    "poster-without-projector": (a_visit("demo", "no projector"), a_visit("demo", "projector")),
    "first-things": (a_visit("first visit"), a_visit()),
    "sort-for-young-tables": (a_visit(gap_before=0, grade=1), a_visit(gap_before=5, grade=1)),
    "substitute-box": (a_visit("substitute"), a_visit()),
    "substitute-without-sharps": (a_visit("substitute", "cutting"), a_visit("cutting")),
    "substitute-without-hot-tools": (
        a_visit("substitute", items={"gun": ("hot-tool",)}),
        a_visit("substitute", items={"brush": ("tool",)}),
    ),
    "substitute-without-wet-work": (a_visit("substitute", "clay"), a_visit("substitute", "drawing")),
}


def applies_in(ident: str, facts: VisitFacts) -> bool:
    """Whether the rule does something, or what it gives stands in the reasons of one that does."""
    (rule,) = (rule for rule in read_builtin_rules() if rule.id == ident)
    effects = effects_of(all_rules_on(), facts)
    if of_rule(ident, effects):
        return True
    said = rule.because.replace("{class}", facts.class_id)
    return any(said[:1].upper() + said[1:] in effect.facts or said in effect.facts for effect in effects)


@pytest.mark.parametrize("ident", [rule.id for rule in read_builtin_rules()])
def test_a_built_in_rule_applies_where_it_should_and_not_where_it_should_not(ident: str) -> None:
    applies, does_not = SITUATIONS[ident]
    assert applies_in(ident, applies)
    assert not applies_in(ident, does_not)


def test_every_situation_is_of_a_rule_there_is() -> None:
    assert set(SITUATIONS) == {rule.id for rule in read_builtin_rules()}


def test_the_rules_that_are_not_for_every_school_ship_switched_off() -> None:
    effects = effects_of(rule_set(), a_visit("demo", "no projector", "last part", "first visit"))
    assert not {"poster-without-projector", "labels-for-finished-work"} & {effect.rule.id for effect in effects}


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
    assert [task.days_before for task in tasks] == [-5, -7], "school days after the visit"


def test_a_powder_is_forbidden_in_the_room_even_when_it_conforms_and_is_mixed_wet_before() -> None:
    visit = a_visit(grade=2, items={"tempera-powder": ("material", "powder")})
    actions = {type(effect.action) for effect in of_rule("no-dry-powder", effects_of(rule_set(), visit))}
    assert actions == {Forbid, TaskFor}


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
