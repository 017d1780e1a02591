"""What the rules make of a visit: rounds over the supplies, the chain of facts, what is switched off, the order."""

from __future__ import annotations

from datetime import timedelta

from msgspec.structs import replace

from checklists.plan.records import Supply
from checklists.rules.read import builtin_supplies, read_builtin_rules, vocabulary
from checklists.rules.records import Add, Effect, Forbid, Replace, SwitchedOff, Warn
from checklists.rules.vocabulary import marks_of_supply
from tests.rules.situations import MONDAY, a_rule, a_visit, effects_of, of_rule, rule_set


def the_effect(ident: str, effects: tuple[Effect, ...]) -> Effect:
    (effect,) = of_rule(ident, effects)
    return effect


def test_the_chain_behind_a_jug_goes_from_the_tag_and_the_room_over_wet_work() -> None:
    jug = the_effect("water-without-sink", effects_of(rule_set(), a_visit("watercolour", "no sink", students=22)))
    assert jug.facts == ("The part is tagged watercolour", "Room 12 has no sink", "Watercolour is wet work")
    assert jug.because == "22 children at 0.2 L a pair and 1 L to wash, in jugs of 3.8 L"


def test_a_room_of_which_nothing_is_known_gets_a_jug_and_says_so() -> None:
    jug = the_effect("water-without-sink", effects_of(rule_set(), a_visit("watercolour")))
    assert "Room 12 is not known to have a sink" in jug.facts


def test_a_chain_tells_numbers_needs_and_what_is_avoided() -> None:
    rules = rule_set(
        a_rule(
            "own", "grade at most 2", "gap_after below reset", "need noise", "avoid latex", cautions=(Warn("look"),)
        ),
        builtin=False,
    )
    visit = a_visit(grade=0, gap_after=5, reset=6, needs={"noise": 2}, avoid=("latex",))
    assert the_effect("own", effects_of(rules, visit)).facts == (
        "Grade: K (at most 2)",
        "Minutes until the next visit: 5 (below minutes to put the kit right, 6)",
        "3-B has 2 children: bothered by noise",
        "3-B avoids latex",
    )


def test_a_part_is_named_by_its_title_and_compared_by_its_number() -> None:
    rules = rule_set(a_rule("own", "part at least 2", because="{part}", cautions=(Warn("look"),)), builtin=False)
    effect = the_effect("own", effects_of(rules, a_visit(part=2)))
    assert (effect.because, effect.facts) == ("stitch the bird", ("It is part 2",))


def test_a_part_that_comes_too_early_names_the_day_from_which_it_may_be_taught() -> None:
    visit = a_visit("too early", part=2, words={"not before": "Thu 15 Oct"})
    assert the_effect("too-early", effects_of(rule_set(), visit)).text == (
        "3-B: “stitch the bird” not before Thu 15 Oct. Teach the filler lesson, or move the visit."
    )


def test_a_long_chain_tells_the_given_facts_first_and_each_once() -> None:
    rules = rule_set(
        a_rule("c", "slow", "wet work", "not sink", because="slow", cautions=(Warn("look"),)),
        a_rule("b", "wet work", "not sink", because="it takes long in {room}", gives=("slow",)),
        a_rule("a", "watercolour", because="watercolour is wet", gives=("wet work",)),
        builtin=False,
    )
    assert the_effect("c", effects_of(rules, a_visit("watercolour"))).facts == (
        "The part is tagged watercolour",
        "Room 12 is not known to have a sink",
        "Watercolour is wet",
        "It takes long in Room 12",
    )


def test_scissors_that_a_rule_adds_are_counted_out_and_back_like_those_a_part_lists() -> None:
    added = effects_of(rule_set(), a_visit("cutting"))
    listed = effects_of(rule_set(), a_visit("cutting", items={"scissors": ("tool", "sharp", "scissors")}))
    assert the_effect("count-sharps", added).because == "scissors: counted out and back"
    assert the_effect("count-sharps", listed).because == "scissors: counted out and back"
    assert of_rule("scissors-for-all", added)
    assert not of_rule("scissors-for-all", listed), "a part that lists scissors has said how many"


def test_what_is_counted_is_named_in_one_check_for_all_of_it() -> None:
    held = {"scissors": ("tool", "sharp", "scissors"), "scissors-left": ("tool", "sharp", "scissors", "adapted")}
    count = the_effect("count-sharps", effects_of(rule_set(), a_visit(items=held)))
    assert count.text == "Count out, count back before line-up: scissors and scissors left"
    assert count.item == ""


def test_that_nothing_takes_the_place_of_a_sharp_tool_goes_without_saying() -> None:
    held = {"scissors": ("tool", "sharp", "scissors"), "scissors-left": ("tool", "sharp", "scissors", "adapted")}
    count = the_effect("count-sharps", effects_of(rule_set(), a_visit(items=held)))
    assert count.facts == ("Scissors: counted out and back", "Scissors left: counted out and back")


def test_a_kit_needed_again_at_once_says_how_long_it_takes_and_how_long_there_is() -> None:
    caution = the_effect("kit-needed-again", effects_of(rule_set(), a_visit("same kit next", reset=3, gap_after=0)))
    assert caution.text == ("3 min to put the kit right, 0 min until the next class needs it. Take a second set.")


def test_a_class_that_avoids_something_is_kept_from_what_a_rule_adds_too() -> None:
    rules = rule_set(
        a_rule("own", "drawing", add=(Add(supply="gloves"),)),
        builtin=True,
    )
    effects = effects_of(rules, a_visit("drawing", avoid=("gloves",)))
    assert the_effect("avoided-by-the-class", effects).item == "gloves"


def test_spring_scissors_take_the_place_of_ordinary_ones_and_nothing_is_added() -> None:
    effects = effects_of(rule_set(), a_visit("cutting", needs={"fine-motor": 2, "left-handed": 1}))
    assert [effect.action.supply for effect in effects if isinstance(effect.action, Replace)] == [
        "scissors-left",
        "scissors-spring",
    ]
    spring = the_effect("spring-scissors", effects).action
    assert isinstance(spring, Replace)
    assert (spring.what, spring.count, spring.per, spring.everything) == ("scissors", 1, "need fine-motor", False)
    scissors_added = [
        effect for effect in effects if isinstance(effect.action, Add) and "scissors" in effect.action.supply
    ]
    assert [effect.rule.id for effect in scissors_added] == ["scissors-for-all"]


def test_an_action_on_the_item_comes_once_for_each_supply_in_order_of_their_ids() -> None:
    visit = a_visit(items={"tempera-powder": ("powder",), "clay-powder": ("powder",)})
    effects = of_rule("no-dry-powder", effects_of(rule_set(), visit))
    assert [(type(effect.action), effect.item) for effect in effects if isinstance(effect.action, Forbid)] == [
        (Forbid, "clay-powder"),
        (Forbid, "tempera-powder"),
    ]
    assert effects[2].text == "Mix clay powder wet, alone, for 3-B"


def test_an_action_that_speaks_of_no_item_comes_once_and_names_all_of_them() -> None:
    visit = a_visit(items={"awl": ("sharp",), "needles": ("sharp",), "wire-cutter": ("sharp",)})
    count = the_effect("count-sharps", effects_of(rule_set(), visit))
    assert count.because == "awl, needles and wire cutter: counted out and back"
    assert count.item == ""


def test_text_from_a_plan_is_never_filled_in_a_second_time() -> None:
    rules = rule_set(a_rule("own", "cutting", because="for {class}", cautions=(Warn("see {lesson}"),)), builtin=False)
    effect = the_effect("own", effects_of(rules, a_visit("cutting", class_id="{room}", lesson="{students}{item}")))
    assert (effect.because, effect.text) == ("for {room}", "see {students}{item}")


def test_a_number_nobody_knows_is_said_to_be_unknown() -> None:
    rules = rule_set(a_rule("own", "cutting", because="{pieces} pieces", cautions=(Warn("look"),)), builtin=False)
    assert the_effect("own", effects_of(rules, a_visit("cutting"))).because == "an unknown number of pieces"


def test_effects_come_in_the_order_of_the_rules_and_the_same_twice() -> None:
    visit = a_visit("tempera", "cutting", "demo", "first visit", part=2, needs={"noise": 1, "fine-motor": 2})
    effects = effects_of(rule_set(), visit)
    order = [rule.id for rule in read_builtin_rules()]
    places = [order.index(effect.rule.id) for effect in effects]
    assert places == sorted(places)
    assert effects_of(rule_set(), visit) == effects


def test_adding_a_rule_that_does_not_apply_changes_nothing() -> None:
    visit = a_visit("tempera", "cutting", "demo", needs={"fine-motor": 2})
    more = rule_set(a_rule("own", "clay", cautions=(Warn("look"),)))
    assert effects_of(more, visit) == effects_of(rule_set(), visit)


# ---------------------------------------------------------------------------------------------- on, off, one's own


def test_a_rule_that_ships_switched_off_applies_once_it_is_turned_on() -> None:
    labels = next(rule for rule in read_builtin_rules() if rule.id == "labels-for-finished-work")
    visit = a_visit("last part")
    assert not of_rule(labels.id, effects_of(rule_set(), visit))
    assert of_rule(labels.id, effects_of(rule_set(replace(labels, on=True)), visit))


def test_an_own_rule_takes_the_place_of_the_built_in_one() -> None:
    own = a_rule("sponges-for-wet-work", "wet", add=(Add(supply="sponge", count=2, per="table"),))
    effect = the_effect("sponges-for-wet-work", effects_of(rule_set(own), a_visit("tempera")))
    assert isinstance(effect.action, Add)
    assert (effect.action.count, effect.action.plus) == (2, 0)


def test_a_rule_is_switched_off_for_one_class_only() -> None:
    rules = rule_set(off=(SwitchedOff("sponges-for-wet-work", class_id="3-B"),))
    assert not of_rule("sponges-for-wet-work", effects_of(rules, a_visit("tempera", class_id="3-B")))
    assert of_rule("sponges-for-wet-work", effects_of(rules, a_visit("tempera", class_id="3-K")))


def test_a_rule_is_switched_off_for_one_lesson_through_a_date() -> None:
    rules = rule_set(off=(SwitchedOff("sponges-for-wet-work", lesson="birds", until=MONDAY),))
    visit = a_visit("tempera", lesson="birds")
    assert not of_rule("sponges-for-wet-work", effects_of(rules, visit, on=MONDAY))
    assert of_rule("sponges-for-wet-work", effects_of(rules, visit, on=MONDAY + timedelta(days=1)))
    assert of_rule("sponges-for-wet-work", effects_of(rules, a_visit("tempera", lesson="owls"), on=MONDAY))


def test_a_tag_is_not_given_by_a_rule_that_is_switched_off() -> None:
    rules = rule_set(off=(SwitchedOff("tempera-is-wet"),))
    assert not of_rule("sponges-for-wet-work", effects_of(rules, a_visit("tempera")))
    assert of_rule("sponges-for-wet-work", effects_of(rules, a_visit("ink")))


# ---------------------------------------------------------------------------------------------------- privacy


def test_a_rule_that_rests_on_a_need_is_private_even_if_it_does_not_say_so() -> None:
    rules = rule_set(
        a_rule("quiet-room", "need noise", gives=("quiet",)),
        a_rule("quiet-light", "quiet", cautions=(Warn("use the light"),)),
        a_rule("loud", "not quiet", "last visit", cautions=(Warn("ring"),)),
        a_rule("open", "last visit", cautions=(Warn("look"),)),
    )
    assert {rule.id: rule.private for rule in rules.rules[-4:]} == {
        "quiet-room": True,
        "quiet-light": True,
        "loud": True,
        "open": False,
    }


def test_no_sentence_of_a_public_effect_speaks_of_a_need() -> None:
    needs = dict.fromkeys(vocabulary().needs, 2)
    effects = effects_of(
        rule_set(), a_visit("cutting", "tempera", "drawing", "colour matters", "hot tool", needs=needs, avoid=("nut",))
    )
    told = [
        text for effect in effects if not effect.rule.private for text in (effect.because, effect.text, *effect.facts)
    ]
    assert any(effect.rule.private for effect in effects)
    assert not [text for text in told if any(word in text for word in vocabulary().needs.values())]


# --------------------------------------------------------------------------------------------- marks of a supply


def test_the_marks_of_a_supply_are_its_own_its_kind_and_what_its_fields_say() -> None:
    knife = Supply("knife", "craft knife", kind="tool", sharp=True, own=True, for_the_teacher=True, marks=("blade",))
    assert marks_of_supply(knife) == {"blade", "tool", "sharp", "own", "teacher-only"}
    glaze = Supply("glaze", "glaze", conforms=False, label_caution="may harm the kidneys")
    assert marks_of_supply(glaze) == {"material", "not-conforming", "label-caution"}
    assert marks_of_supply(Supply("paint", "paint", conforms=True)) == {"material"}


def test_the_built_in_supplies_use_only_known_marks() -> None:
    assert {mark for supply in builtin_supplies() for mark in supply.marks} <= vocabulary().marks.keys()


def test_ids_of_built_in_rules_and_supplies_are_unlike_each_other() -> None:
    for ids in ([rule.id for rule in read_builtin_rules()], [supply.id for supply in builtin_supplies()]):
        assert len(ids) == len(set(ids))
