"""Rules on materials, labels and what a class avoids: one situation in which each applies and one in which not."""

from __future__ import annotations

from checklists.rules.records import VisitFacts
from tests.rules.situations import a_visit


def holding(*marks: str, supply: str = "thing", **more: float) -> VisitFacts:
    return a_visit(items={supply: marks}, **more)


def material(mark: str) -> tuple[VisitFacts, VisitFacts]:
    """A material that is kept from grade 6 and under, and nothing of the kind."""
    return holding("material", mark, grade=6), holding("material", mark, grade=7)


def avoiding(word: str, mark: str) -> tuple[VisitFacts, VisitFacts]:
    """A class that avoids something and is to get it; the same thing for a class that avoids nothing."""
    items = {"thing": ("material", mark)}
    return a_visit(avoid=(word,), items=items), a_visit(items=items)


def with_asthma(mark: str) -> tuple[VisitFacts, VisitFacts]:
    items = {"thing": ("material", mark)}
    return a_visit(needs={"asthma": 1}, items=items, grade=7), a_visit(items=items, grade=7)


MATERIAL_SITUATIONS: dict[str, tuple[VisitFacts, VisitFacts]] = {
    # labels
    "label-without-statement": (
        holding("not-conforming", grade=6),
        holding("not-conforming", "en-71-3", grade=6),
    ),
    "evidence-from-elsewhere": (holding("not-conforming", "en-71-3"), holding("en-71-3")),
    "evidence-from-iso": (holding("not-conforming", "iso-8124-3"), holding("not-conforming")),
    "label-with-caution": (holding("label-caution", grade=2), holding("material", grade=2)),
    **{
        f"label-{rule}": (holding(f"signal-{word}", grade=7), holding(f"signal-{word}", grade=6))
        for rule, word in {"danger": "danger", "warning": "warning", "caution-word": "caution"}.items()
    },
    "label-for-adults": material("adults-only"),
    "proposition-65": material("proposition-65"),
    "ceramic-label-only": material("c1023-only"),
    "finger-paint": (holding("finger-paint", grade=0), holding("finger-paint", "en-71-7", grade=0)),
    "unlabelled-material": material("unlabelled"),
    # materials
    "no-dry-powder": material("powder"),
    "no-dry-clay": material("dry-clay"),
    "no-solvent": material("solvent"),
    "no-rubber-cement": material("rubber-cement"),
    "no-spray": material("spray"),
    "no-oil-based": material("oil-based"),
    "no-dye": material("dye"),
    "no-lead-glaze": material("lead-glaze"),
    "no-instant-glue": material("instant-glue"),
    "no-instant-mache": material("instant-mache"),
    "no-coloured-print": (
        a_visit("paste", items={"magazines": ("coloured-print",)}),
        a_visit("gluing", items={"magazines": ("coloured-print",)}),
    ),
    "no-copper-enamel": material("copper-enamel"),
    "no-photochemicals": material("photochemical"),
    "no-acids": material("acid"),
    "no-airbrush": material("airbrush"),
    "washable-markers": (holding("permanent-marker"), holding("permanent-marker", "teacher-only")),
    "markers-with-the-door-open": (holding("permanent-marker", grade=7), holding("permanent-marker", grade=6)),
    "chalk-by-tag": (a_visit("chalk"), a_visit("chalk", items={"chalks": ("chalk", "dustless")})),
    "chalk-by-mark": (holding("chalk"), holding("chalk", "dustless")),
    "chalk-dust": (a_visit("chalk"), a_visit("oil pastel")),
    "no-small-magnets": (holding("small-magnet", grade=2), holding("small-magnet", grade=3)),
    "no-button-cells": (holding("button-cell", grade=2), holding("button-cell", grade=3)),
    "count-small-magnets": (holding("small-magnet", grade=3), holding("small-magnet", grade=2)),
    "count-button-cells": (holding("button-cell", grade=3), holding("button-cell", grade=2)),
    "no-small-parts": (holding("small-part", grade=0), holding("small-part", grade=1)),
    "no-small-parts-when-mouthed": (
        a_visit(needs={"mouthing": 1}, items={"beads": ("small-part",)}),
        a_visit(items={"beads": ("small-part",)}),
    ),
    "no-loose-glitter": (holding("glitter"), holding("material")),
    "worn-tools": (holding("wears", month=1), holding("wears", month=12)),
    "try-worn-tools": (
        a_visit("first part", month=6, items={"markers": ("wears",)}),
        a_visit("last part", month=6, items={"markers": ("wears",)}),
    ),
    "house-rules": (a_visit("first visit"), a_visit("last visit")),
    # what a class avoids
    "no-latex-ties": avoiding("latex", "latex"),
    "no-balloons": avoiding("latex", "balloon"),
    "no-latex-gloves": avoiding("latex", "latex-glove"),
    "no-wheat-paste": avoiding("wheat", "wheat"),
    "no-wheat-dough": avoiding("wheat", "dough"),
    "no-egg-paint": avoiding("egg", "food-paint"),
    "no-milk-paint": avoiding("milk", "food-paint"),
    "no-nut-shells": avoiding("nut", "nut"),
    "no-wool": avoiding("wool", "wool"),
    "no-feathers": avoiding("feather", "feather"),
    "no-scents": avoiding("scented", "scented"),
    "no-chalk-dust": avoiding("chalk", "chalk"),
    "no-scents-with-asthma": with_asthma("scented"),
    "no-sprays-with-asthma": with_asthma("spray"),
    "no-chalk-with-asthma": with_asthma("chalk"),
    "avoided-by-the-class": (
        a_visit(avoid=("wool",), items={"gown": ("wool", "own-substitute")}),
        a_visit(avoid=("wool",), items={"gown": ("wool",)}),
    ),
    "no-food-packing": (
        a_visit(avoid=("nut",), items={"cartons": ("food-packing",)}),
        a_visit(avoid=("latex",), items={"cartons": ("food-packing",)}),
    ),
    "wash-shared-tools": (
        a_visit(avoid=("milk",), items={"bowls": ("shared-with-food",)}),
        a_visit(items={"bowls": ("shared-with-food",)}),
    ),
    **{
        f"avoids-{food}": (
            a_visit(avoid=(food,), items={"cartons": ("food-packing",)}),
            a_visit(items={"cartons": ("food-packing",)}),
        )
        for food in ("nut", "egg", "milk", "wheat")
    },
}
