"""Materials and young children, row by row against what was published; a case for and a case against each row.

Beside each row its source and how far it was looked up: S seen in the source, M from memory and not checked. What a
plan cannot hold is listed at the end, with the reason why it is told in words only. None of this is legal advice: local
rules, the nurse and the building's safety person decide.
"""

from __future__ import annotations

from typing import Literal

import pytest
from msgspec import Struct

from checklists.plan.records import Supply
from checklists.rules.read import read_builtin_rules
from checklists.rules.records import Effect, Forbid, Replace, Warn
from checklists.rules.vocabulary import marks_of_supply
from tests.rules.situations import SUPPLIES, a_visit, effects_of, rule_set

Verdict = Literal["blocked", "replaced", "warned of", "free"]
RULES = rule_set()


def a_material(*marks: str, conforms: bool | None = True, label_caution: str = "", kind: str = "material") -> Supply:
    return Supply("thing", "thing", kind=kind, marks=marks, conforms=conforms, label_caution=label_caution)  # type: ignore[arg-type]


def effects_on(supply: Supply, grade: int, *tags: str) -> tuple[Effect, ...]:
    """What the rules say of a lesson that lists the supply, in a grade."""
    return effects_of(RULES, a_visit(*tags, grade=grade, items={supply.id: tuple(sorted(marks_of_supply(supply)))}))


def verdict(supply: Supply, grade: int, *tags: str) -> Verdict:
    actions = [each.action for each in effects_on(supply, grade, *tags)]
    if any(isinstance(each, Forbid) for each in actions):
        return "blocked"
    if any(isinstance(each, Replace) for each in actions):
        return "replaced"
    return "warned of" if any(isinstance(each, Warn) for each in actions) else "free"


def substitutes(supply: Supply, grade: int, *tags: str) -> set[str]:
    """Names of what is proposed in its place."""
    found = set()
    for effect in effects_on(supply, grade, *tags):
        if isinstance(effect.action, Forbid) and effect.action.instead:
            found.add(SUPPLIES[effect.action.instead].name)
        if isinstance(effect.action, Replace):
            found.add(SUPPLIES[effect.action.supply].name)
    return found


class Case(Struct, frozen=True):
    """A supply in a grade, and what the rules make of it."""

    supply: Supply
    grade: int
    expected: Verdict


LABELS: dict[str, tuple[Case, Case]] = {
    # 15 USC 1277 (LHAMA, Public Law 100-695, 1988), statute text, S: a chronic-hazard statement keeps it from children.
    "15 USC 1277": (
        Case(a_material(label_caution="WARNING: may cause cancer"), 6, "blocked"),
        Case(a_material(), 6, "free"),
    ),
    # 16 CFR 1500.14(b)(8), CFR 2008 opening and definitions, S; the list of what a label has, M.
    "16 CFR 1500.14(b)(8)": (
        Case(a_material(label_caution="CAUTION: contains a sensitiser"), 5, "blocked"),
        Case(a_material(label_caution=""), 5, "free"),
    ),
    # The conformance statement, CPSC guidance, S: missing means not to be used until checked.
    "conformance statement": (
        Case(a_material(conforms=False), 6, "blocked"),
        Case(a_material(conforms=True), 6, "free"),
    ),
    # What conformance does not mean, follows from the above, S: conforming and no caution and intended for children.
    "what conformance does not mean: a caution": (
        Case(a_material(conforms=True, label_caution="CAUTION: harmful if swallowed"), 2, "blocked"),
        Case(a_material(conforms=True), 2, "free"),
    ),
    "what conformance does not mean: for adults": (
        Case(a_material("adults-only", conforms=True), 2, "blocked"),
        Case(a_material("adults-only", conforms=True), 7, "free"),
    ),
    # Signal words, McCann and art-hazard guides, S.
    "signal words": (
        Case(a_material(label_caution="DANGER: extremely flammable"), 7, "warned of"),
        Case(a_material(), 7, "free"),
    ),
    # Enforcement policy, 60 FR 8188, 13 Feb 1995: opening S, detail M: general tools carry no statement.
    "enforcement policy": (
        Case(a_material(conforms=False), 3, "blocked"),
        Case(a_material(conforms=None, kind="tool"), 3, "free"),
    ),
    # California Education Code 32060-32066, code text and OEHHA guidelines 2014-2019, S: none for K-6, labelled above.
    "California Education Code": (
        Case(a_material(label_caution="WARNING: may harm the kidneys"), 6, "blocked"),
        Case(a_material(label_caution="WARNING: may harm the kidneys"), 7, "warned of"),
    ),
    "Proposition 65": (
        Case(a_material("proposition-65"), 0, "blocked"),
        Case(a_material("proposition-65"), 7, "free"),
    ),
    # Who counts as young, OEHHA, S: 12 and under, grade 6 and below.
    "who counts as young": (
        Case(a_material(label_caution="irritant"), 6, "blocked"),
        Case(a_material(label_caution="irritant"), 7, "free"),
    ),
    # EN 71-3:2013, scope as of 2019, S: accepted as other evidence, and said.
    "EN 71-3": (Case(a_material("en-71-3", conforms=False), 1, "warned of"), Case(a_material("en-71-3"), 1, "free")),
    # EN 71-7:2014, extracts, S: finger paint.
    "EN 71-7": (
        Case(a_material("finger-paint"), 0, "warned of"),
        Case(a_material("finger-paint", "en-71-7"), 0, "free"),
    ),
    # ISO 8124-3, M: accepted as other evidence, and said.
    "ISO 8124-3": (
        Case(a_material("iso-8124-3", conforms=False), 1, "warned of"),
        Case(a_material(conforms=False), 1, "blocked"),
    ),
    # ASTM C1023, abstract, S: its labels are meant for adults.
    "ASTM C1023": (
        Case(a_material("c1023-only", conforms=None), 4, "blocked"),
        Case(a_material("c1023-only", conforms=None), 7, "free"),
    ),
}
"""Row of the table of rules and standards -> a supply it speaks of, and one it does not."""


class Avoid(Struct, frozen=True):
    """A row of the avoid-and-use-instead table, for grade 6 and under."""

    mark: str
    expected: Verdict
    seen_in: str
    instead: str = ""
    """What is proposed, by its name; empty where the advice stands in the words of the rule alone."""
    said: str = ""
    """A word of the advice that the rule's own sentence must have."""
    tags: tuple[str, ...] = ()


ALL = "S: California framework, appendix F; Alberta Health Services; a child-care health programme"
AHS = "S: Alberta Health Services"
AVOID: dict[str, tuple[Avoid, ...]] = {
    "dry clay, sanding dry clay": (Avoid("dry-clay", "blocked", ALL, "portion of wet clay without talc"),),
    "powdered tempera, dry pigment": (Avoid("powder", "blocked", ALL, said="mixed wet"),),
    "glazes and enamels with lead or other heavy metals": (Avoid("lead-glaze", "blocked", ALL, "lead-free glaze"),),
    "solvents, turpentine, thinners, rubber cement": (
        Avoid("solvent", "blocked", ALL, said="water-based"),
        Avoid("rubber-cement", "blocked", ALL, "white glue, 4 oz bottle"),
    ),
    "cold-water fibre-reactive or commercial dyes": (Avoid("dye", "blocked", ALL, "food colour"),),
    "instant papier-mâché, coloured print soaked": (
        Avoid("instant-mache", "blocked", ALL, "black-and-white newspaper, single sheets"),
        Avoid("coloured-print", "blocked", ALL, "black-and-white newspaper, single sheets", tags=("paste",)),
    ),
    "aerosol sprays and fixatives": (Avoid("spray", "blocked", ALL, "pump sprayer with water-based colour"),),
    "solvent markers, permanent felt pens": (Avoid("permanent-marker", "replaced", ALL, "washable markers"),),
    "epoxy, instant glue, model cement": (
        Avoid("instant-glue", "blocked", "S: AHS, child care", "white glue, 4 oz bottle"),
    ),
    "pastels and chalks that make dust": (Avoid("chalk", "warned of", AHS, said="dustless chalk"),),
    "copper enamels": (Avoid("copper-enamel", "blocked", AHS, said="left out"),),
    "photochemicals, acids, etching, airbrush": (
        Avoid("photochemical", "blocked", "M", said="left out"),
        Avoid("acid", "blocked", "M", said="left out"),
        Avoid("airbrush", "blocked", "M", said="brush"),
    ),
    "without its original container or label, old or donated stock": (
        Avoid("unlabelled", "blocked", "child care, M", said="nobody can say"),
    ),
}
ROWS = [pytest.param(row, id=row.mark) for rows in AVOID.values() for row in rows]

TOLD_IN_WORDS = {
    # row -> why no fact of a plan can decide it, and where it is told instead
    "injunction power (M)": "what an authority may do is no fact of a lesson; label-with-caution has it as its source",
    "EN 71-3 lead limits (M)": "limits in mg/kg of a laboratory are not on a label, and are not to be hard-coded",
    "ANSI Z535.4 signal words (S)": "words of signs and screens; a label's signal words have other meanings",
    "house rules (S; cuts, kitchenware M)": "the same for every lesson: the rule house-rules has them, switched off",
}


@pytest.mark.parametrize("row", LABELS)
def test_a_label_is_judged_as_published(row: str) -> None:
    spoken_of, not_spoken_of = LABELS[row]
    assert verdict(spoken_of.supply, spoken_of.grade) == spoken_of.expected
    assert verdict(not_spoken_of.supply, not_spoken_of.grade) == not_spoken_of.expected
    assert spoken_of.expected != not_spoken_of.expected


@pytest.mark.parametrize("row", ROWS)
def test_what_is_to_be_avoided_up_to_grade_six_is_kept_away_with_something_to_use_instead(row: Avoid) -> None:
    for grade in (-1, 0, 2, 6):
        assert verdict(a_material(row.mark), grade, *row.tags) == row.expected
    assert verdict(a_material(), 6) == "free"
    if row.instead:
        assert substitutes(a_material(row.mark), 4, *row.tags) == {row.instead}
    else:
        effects = effects_on(a_material(row.mark), 4, *row.tags)
        assert any(row.said in text for effect in effects for text in (effect.because, effect.text))


@pytest.mark.parametrize("row", [each for each in ROWS if each.id != "chalk"])
def test_above_grade_six_the_advice_for_the_young_does_not_block(row: Avoid) -> None:
    # Chalk makes dust at every age; the damp cloth stays.
    assert verdict(a_material(row.mark), 7, *row.tags) in ("free", "warned of")


def test_a_caution_blocks_in_grade_two_although_the_label_conforms() -> None:
    glaze = a_material(conforms=True, label_caution="CAUTION: harmful if swallowed")
    (effect,) = (each for each in effects_on(glaze, 2) if isinstance(each.action, Forbid))
    assert effect.rule.id == "label-with-caution"
    assert "conforming means labelled rightly, not harmless" in effect.because


def test_a_powder_for_children_that_conforms_without_a_caution_still_warns_of_dust() -> None:
    powder = a_material("powder", conforms=True)
    warnings = [each for each in effects_on(powder, 2) if isinstance(each.action, Warn)]
    assert [("dust" in each.text, each.rule.safety) for each in warnings] == [(True, True)]
    assert verdict(a_material(conforms=True), 2) == "free"


@pytest.mark.parametrize(
    ("label", "mark"),
    [
        ("DANGER. Also a WARNING and a CAUTION below.", "signal-danger"),
        ("Warning: may harm. Use caution.", "signal-warning"),
        ("Caution - irritant", "signal-caution"),
        ("Endangered? No signal word here.", ""),
        ("", ""),
    ],
)
def test_of_several_signal_words_the_gravest_counts(label: str, mark: str) -> None:
    # DANGER > WARNING > CAUTION: McCann, art-hazard guides, S.
    signals = {each for each in marks_of_supply(a_material(label_caution=label)) if each.startswith("signal-")}
    assert signals == ({mark} if mark else set())


def test_permanent_markers_above_grade_six_ask_for_an_open_door_and_little_time() -> None:
    # Common practice from memory, not checked: 20 minutes.
    (effect,) = effects_on(a_material("permanent-marker"), 7)
    assert effect.text == "Permanent markers: door open, 20 min at most."


def test_every_rule_that_keeps_a_material_away_is_one_of_safety_and_says_where_it_is_from() -> None:
    ids = {
        effect.rule.id
        for supply in [
            *(case.supply for pair in LABELS.values() for case in pair),
            *(a_material(row.mark) for rows in AVOID.values() for row in rows),
        ]
        for effect in effects_on(supply, 6, "paste")
        if isinstance(effect.action, Forbid | Replace)
    }
    used = [rule for rule in read_builtin_rules() if rule.id in ids]
    assert len(used) == len(ids) > 15
    assert not [rule.id for rule in used if not rule.safety or rule.source == "common practice, no source"]


def test_what_was_not_looked_up_says_so() -> None:
    source_of = {rule.id: rule.source for rule in read_builtin_rules()}
    from_memory = ("no-photochemicals", "no-acids", "no-airbrush", "evidence-from-iso", "unlabelled-material")
    assert all("from memory, not checked" in source_of[each] for each in from_memory)
    assert "CPSC may act" in source_of["label-with-caution"]
    assert "From memory, not checked" in source_of["label-with-caution"]


def test_what_no_plan_can_hold_is_told_in_words() -> None:
    rules = {rule.id: rule for rule in read_builtin_rules()}
    (check,) = rules["house-rules"].checks
    for said in ("food", "hands washed", "own container", "cuts covered"):
        assert said in check.what
    assert not rules["house-rules"].on
    assert len(TOLD_IN_WORDS) == 4
    numbers = "".join(rule.because + rule.source for rule in rules.values())
    assert "mg/kg" not in numbers, "limits of a laboratory are not to be hard-coded"
