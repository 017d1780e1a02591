"""Every built-in rule: one situation in which it applies and one, as near as can be, in which it does not."""

from __future__ import annotations

from checklists.rules.records import VisitFacts
from tests.rules.material_situations import MATERIAL_SITUATIONS, holding
from tests.rules.situations import a_visit

KNIFE = {"knife": ("tool", "sharp", "blade")}
TEACHERS_KNIFE = {"knife": ("tool", "sharp", "blade", "teacher-only")}


def needing(need: str, *tags: str) -> tuple[VisitFacts, VisitFacts]:
    return a_visit(*tags, needs={need: 2}), a_visit(*tags)


def choosing(*marks: str) -> VisitFacts:
    return a_visit("colour choice", items={"paper": ("paper", *marks)})


SITUATIONS: dict[str, tuple[VisitFacts, VisitFacts]] = {
    # water
    **{
        f"{tag}-is-wet": (a_visit(tag), a_visit("drawing"))
        for tag in ("watercolour", "tempera", "ink", "clay", "paste", "plaster")
    },
    "painting-is-brush-work": (
        a_visit("painting", needs={"fine-motor": 1}),
        a_visit("drawing", needs={"fine-motor": 1}),
    ),
    "printing-cleans-up-long": (a_visit("printing", "ink", minutes=36), a_visit("printing", "tempera", minutes=36)),
    "water-without-sink": (a_visit("watercolour"), a_visit("watercolour", "sink")),
    "bucket-without-sink": (a_visit("tempera", "no sink"), a_visit("tempera", "sink")),
    "sponges-for-wet-work": (a_visit("paste"), a_visit("gluing")),
    "covers-for-wet-work": (a_visit("tempera"), a_visit("tempera", items={"cloth": ("table-cover",)})),
    "covers-for-single-desks": (a_visit("tempera", "single desks"), a_visit("tempera")),
    "covers-over-carpet": (a_visit("tempera", "carpet"), a_visit("tempera")),
    "towels-for-wet-work": (a_visit("ink"), a_visit("ink", items={"rags": ("towel",)})),
    "wipes-for-young-hands": (a_visit("tempera", grade=2), a_visit("tempera", grade=3)),
    "wipes-for-ink": (a_visit("ink", grade=4), a_visit("tempera", grade=4)),
    "wipes-for-paste": (a_visit("paste", grade=4), a_visit("paste", grade=4, items={"cloths": ("wipe",)})),
    "smocks": (a_visit("tempera"), a_visit("watercolour")),
    "drop-sheet-on-carpet": (a_visit("clay", "carpet"), a_visit("cutting", "carpet")),
    "towel-for-the-floor": (a_visit("clay", "hard floor"), a_visit("clay")),
    "separators-on-the-cart": (a_visit("tempera", "rides on cart"), a_visit("drawing", "rides on cart")),
    "drying-places": (a_visit("tempera", "drying short"), a_visit("drawing", "drying short")),
    "kit-needed-again": (a_visit("same kit next", reset=6, gap_after=0), a_visit(reset=6, gap_after=0)),
    "slow-kit-has-no-time": (
        a_visit("clay", "kit shared next", reset=0, gap_after=9),
        a_visit("clay", "kit shared next", reset=0, gap_after=10),
    ),
    "brushes-have-no-time": (
        a_visit("tempera", "kit shared next", reset=0, gap_after=5),
        a_visit("tempera", "kit shared next", reset=0, gap_after=6),
    ),
    "kit-has-no-time": (
        a_visit("same kit next", reset=6, gap_after=0, items={"brush": ("tool", "rinsed")}),
        a_visit(reset=6, gap_after=0, items={"brush": ("tool", "rinsed")}),
    ),
    "second-set": (
        a_visit("same kit next", reset=6, gap_after=0, items={"brush": ("tool", "rinsed")}),
        a_visit("same kit next", reset=6, gap_after=0, items={"ruler": ("tool",)}),
    ),
    "rinse-at-day-end": (a_visit("tempera", "last visit"), a_visit("tempera")),
    "short-for-paint": (a_visit("tempera", minutes=33), a_visit("tempera", minutes=34)),
    "short-for-early-paint": (a_visit("tempera", minutes=30, grade=1), a_visit("tempera", minutes=31, grade=1)),
    "short-for-messy-work": (a_visit("clay", minutes=39), a_visit("clay", "short period", minutes=39)),
    "short-for-early-messy-work": (a_visit("clay", minutes=34, grade=0), a_visit("clay", minutes=35, grade=0)),
    "no-mess-today": (a_visit("tempera", "no mess"), a_visit("drawing", "no mess")),
    "tempera-dries": (a_visit("tempera"), a_visit("tempera", "last part")),
    "ink-dries": (a_visit("ink"), a_visit("ink", "last part")),
    "glue-dries": (a_visit("gluing"), a_visit("cutting")),
    "paste-dries": (a_visit("paste"), a_visit("paste", "last part")),
    "plaster-dries": (a_visit("plaster"), a_visit("clay")),
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
    "blunt-needles": (holding("needle", "pointed", grade=2), holding("needle", grade=2)),
    "needle-count": (holding("needle", grade=2), holding("needle", grade=1)),
    "blades-for-the-teacher": (a_visit(items=KNIFE, grade=5), a_visit(items=TEACHERS_KNIFE, grade=5)),
    "no-relief-cutters": (holding("relief-cutter", grade=4), holding("relief-cutter", grade=5)),
    "bench-hooks": (holding("relief-cutter", grade=5), holding("relief-cutter", grade=4)),
    "relief-cutters-by-tag": (a_visit("relief cutters", grade=4), a_visit("relief cutters", grade=5)),
    "hot-tool-by-tag": (a_visit("hot tool", grade=3), a_visit("hot tool", grade=4)),
    "eye-protection-for-wire": (a_visit("wire"), a_visit("stitching")),
    "tape-for-wire-ends": (a_visit("wire"), a_visit("wire", items={"masking-tape": ("material",)})),
    "count-wire-cutters": (holding("wire-cutter"), holding("wire-cutter", "teacher-only")),
    "eye-protection-for-skewers": (a_visit("skewers"), a_visit("small parts")),
    "no-skewers-by-tag": (a_visit("skewers", grade=2), a_visit("skewers", grade=3)),
    "no-pins-for-the-young": (holding("pin", grade=2), holding("pin", grade=3)),
    "no-compasses-for-the-young": (holding("compass", grade=2), holding("compass", "teacher-only", grade=2)),
    "no-toothpicks-for-the-young": (holding("toothpick", grade=2), holding("toothpick", grade=3)),
    # hot tools
    "low-temperature-only": (holding("hot-tool", "high-temperature", grade=5), holding("hot-tool", grade=5)),
    "hot-station": (a_visit("hot tool", grade=4), a_visit("hot tool", grade=3)),
    "no-time-to-cool": (a_visit("hot tool", gap_after=9), a_visit("hot tool", gap_after=10)),
    "sewing-machine-takes-two": (a_visit("sewing machine", "one adult"), a_visit("stitching", "one adult")),
    "part-takes-two": (a_visit("two adults", "one adult"), a_visit("cutting", "one adult")),
    "hot-without-the-usual-adults": (
        a_visit("hot tool", "fewer adults", "one adult"),
        a_visit("hot tool", "one adult"),
    ),
    "sharp-without-the-usual-adults": (
        a_visit("fewer adults", "one adult", students=9, items=KNIFE),
        a_visit("fewer adults", "one adult", students=13, items=KNIFE),
    ),
    "no-hot-tools-for-the-young": (holding("hot-tool", grade=3), holding("hot-tool", grade=4)),
    "hot-tools-off-in-time": (a_visit("hot tool"), a_visit("wire")),
    "two-adults": (a_visit("two adults", "one adult"), a_visit("two adults", adults=2)),
    **MATERIAL_SITUATIONS,
    # clay and print
    "portion-clay": (a_visit("clay"), a_visit("glaze")),
    "clay-mats": (a_visit("clay"), a_visit("clay", items={"boards": ("clay-mat",)})),
    "bags-for-clay": (a_visit("clay"), a_visit("clay", items={"piece-bag": ("material",)})),
    "tags-for-clay": (a_visit("clay"), a_visit("clay", items={"clay-tag": ("material",)})),
    "mark-clay-pieces": (a_visit("clay"), a_visit("plaster")),
    "wipe-clay-wet": (a_visit("clay"), a_visit("glaze")),
    "boards-for-clay": (a_visit("clay"), a_visit("paste")),
    "dry-and-fire": (a_visit("clay", "firing"), a_visit("clay")),
    "fire-the-glaze": (a_visit("glaze"), a_visit("glaze", "last part")),
    "fire-the-last-glaze": (a_visit("glaze", "last part"), a_visit("glaze")),
    "not-for-food": (a_visit("clay", "unglazed ware"), a_visit("clay", "firing")),
    "keep-clay-wet": (a_visit("clay", "keeps wet"), a_visit("clay", "firing")),
    "brayers": (a_visit("printing", "ink"), a_visit("printing", "ink", items={"roller": ("brayer",)})),
    "inking-plates": (a_visit("printing", "ink"), a_visit("printing")),
    "block-ink": (a_visit("printing", "ink"), a_visit("drawing", "ink")),
    "newsprint-for-printing": (a_visit("printing", "ink"), a_visit("printing")),
    "clips-for-prints": (a_visit("printing", "ink"), a_visit("printing", "tempera")),
    "name-before-printing": (a_visit("printing", "ink", part=1), a_visit("printing", "ink", part=2)),
    # textile and paste
    "wind-yarn": (holding("yarn"), a_visit("stitching")),
    "tape-edges": (holding("frays"), a_visit("stitching")),
    "no-plaster-for-the-young": (holding("plaster-gauze", grade=2), holding("plaster-gauze", grade=3)),
    "no-paste-for-the-young": (holding("paste", grade=2), holding("paste", "teacher-only", grade=2)),
    "plaster-by-tag": (a_visit("plaster", grade=2), a_visit("plaster", grade=3)),
    "paste-by-tag": (a_visit("paste", grade=2), a_visit("paste", grade=2, items={"cups": ("paste",)})),
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
    "foam-handles-for-painting": needing("fine-motor", "painting"),
    "large-eye-needles": (
        a_visit(needs={"fine-motor": 1}, items={"needles": ("needle",)}),
        a_visit(needs={"fine-motor": 1}, items={"pins": ("pin",)}),
    ),
    "low-vision": needing("low-vision"),
    "sample-at-the-desk": needing("low-vision", "demo"),
    **{
        f"touch-{what}": (a_visit(tag, needs={"touch": 1}), a_visit("cutting", needs={"touch": 1}))
        for what, tag in {"clay": "clay", "paste": "paste", "plaster": "plaster", "ink": "ink"}.items()
    },
    "touch-paint": (a_visit("tempera", needs={"touch": 1}), a_visit("painting", "ink", "glaze", needs={})),
    "colour-names": needing("colour-vision", "colour matters"),
    "noise": needing("noise"),
    "gloves-for-wet-work": needing("touch", "clay"),
    "bagged-clay": needing("touch", "clay"),
    "picture-cards": (
        a_visit(needs={"english-learner": 5}, english_learners=5),
        a_visit(needs={"english-learner": 6}, english_learners=6),
    ),
    "picture-cards-for-all": (
        a_visit(needs={"english-learner": 6}, english_learners=6),
        a_visit(needs={"english-learner": 5}, english_learners=5),
    ),
    "one-handed": needing("one-handed"),
    "one-handed-cutting": needing("one-handed", "cutting"),
    "wheelchair": needing("wheelchair"),
    "wheelchair-brush": needing("wheelchair", "watercolour"),
    "pre-cut-for-behaviour-plan": needing("behaviour-plan", "cutting"),
    "hand-out-sharps-yourself": needing("behaviour-plan", "cutting"),
    "hand-out-hot-tools-yourself": (
        a_visit("hot tool", needs={"behaviour-plan": 1}),
        a_visit(needs={"behaviour-plan": 1}),
    ),
    "break-cards": needing("break-card"),
    "own-adult": needing("own-adult"),
    "without-the-own-adult": (
        a_visit("cutting", "fewer adults", needs={"own-adult": 1}),
        a_visit("cutting", needs={"own-adult": 1}),
    ),
    "extra-time": needing("extra-time"),
    "kindergarten-things": (a_visit(grade=0), a_visit(grade=1)),
    # parts
    "folder-from-second-part": (a_visit(part=2, parts=2), a_visit(part=1, parts=2)),
    "folder-for-new-work": (a_visit("several parts", part=1), a_visit(part=1)),
    "labels-for-new-work": (a_visit("several parts", part=1), a_visit("several parts", part=2)),
    "stamp-class-codes": (a_visit("several parts", part=1), a_visit(part=1)),
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
    "fresh-demonstration": (a_visit("fresh demo"), a_visit("demo")),
    "more-colours": (choosing("coloured"), choosing("coloured", "popular")),
    "more-popular-colours": (choosing("coloured", "popular"), choosing("coloured")),
    # rooms
    "no-time-to-swap": (a_visit("no time to swap"), a_visit("no time to swap", "first visit")),
    "short-period": (a_visit("short period", minutes=30), a_visit(minutes=35)),
    "poster-without-projector": (a_visit("demo", "no projector"), a_visit("demo", "projector")),
    "camera-for-projector": (a_visit("demo", "projector"), a_visit("demo")),
    "camera-charged": (a_visit("demo", "projector", "first visit"), a_visit("demo", "projector")),
    "first-things": (a_visit("first visit"), a_visit()),
    "another-room": (a_visit("away from own room"), a_visit()),
    "joined-classes": (a_visit("guests", guests=2), a_visit(guests=0)),
    "sort-for-young-tables": (a_visit(gap_before=0, grade=1), a_visit(gap_before=5, grade=1)),
    "substitute-box": (a_visit("substitute"), a_visit()),
    "substitute-without-sharps": (a_visit("substitute", "cutting"), a_visit("cutting")),
    "substitute-without-hot-tools": (
        a_visit("substitute", items={"gun": ("hot-tool",)}),
        a_visit("substitute", items={"brush": ("tool",)}),
    ),
    "substitute-without-wet-work": (a_visit("substitute", "clay"), a_visit("substitute", "drawing")),
}
