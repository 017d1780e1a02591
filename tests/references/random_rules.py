"""Random sets of rules with every kind of condition, and random visits for them.

A condition is made as a record (``Asked``) that is written twice: as the sentence of a rule, and by
``tests.references.rules_for_the_solver`` in the language of the solver. Sets are stratified by the way they are made:
tags, marks and supplies belong to layers; a rule of a layer denies only what is settled in layers below its own, and
gives and brings only things of its own layer. A rule that brings in a supply rests on lower layers altogether, so that
no supply is there only because it is there.
"""

from __future__ import annotations

import random
from typing import Literal

from msgspec import Struct

from checklists.plan.records import Supply
from checklists.rules.records import Add, CheckFor, Forbid, Replace, Rule, SwitchedOff, TaskFor, VisitFacts, Warn

LAYERS = (0, 1, 2)
TOP = LAYERS[-1]

TAGS = ("clouds", "river bank", "snow", "notable hill", "some fog")
"""Of parts and visits. Two look like the beginning of another kind of condition."""
DAMP = {layer: (f"damp {layer}", f"rather damp {layer}", f"dripping {layer}") for layer in LAYERS}
"""Tags that rules give."""
NEEDS = ("tall-stool", "soft-light")
AVOID = ("pollen", "resin", "pebble")
"""The last is a supply."""
NUMBERS = ("grade", "students", "gap_before", "gap_after", "reset")
FIXED = ("PK", "K", "1", "2", "2.5", "4")
RELATIONS = ("at most", "at least", "is", "below", "above")

NEVER = -1
MARKS = {NEVER: ("smooth", "cold"), 0: ("green", "striped"), 1: ("heavy", "hollow"), 2: ("loud", "brittle")}
"""Marks of supplies, by the layer in which the last supply that may carry one can come in."""
GIVEN_MARKS = {layer: (f"checked-{layer}", f"sorted-{layer}") for layer in LAYERS}
LISTED = ("pebble", "twig", "shell")
"""Supplies that no rule brings in."""
BROUGHT = {0: ("lamp", "rope"), 1: ("bell", "sieve"), 2: ("horn", "crate")}
CLASSES = ("1-A", "2-B", "K-3")
LESSONS = ("walls", "roofs")
WORDS = {"need": NEEDS, "avoid": AVOID, "class is": CLASSES, "lesson is": LESSONS}
SETTINGS: dict[str, float | Literal["K", "PK"]] = {"pin_grade": 2, "wipes_grade": "K"}
"""Built-in settings with a value of one's own; what they mean is nothing to the test."""


class Asked(Struct, frozen=True):
    """One condition. ``kind`` is as the sentence begins; or "tag", "number", "number named", "number set"."""

    kind: str
    word: str = ""
    denied: bool = False
    relation: str = ""
    limit: str = ""

    @property
    def of_item(self) -> bool:
        return self.kind in ("item is", "avoid item")

    @property
    def operator(self) -> str:
        """What a test counts: the kind, whether it is asked or denied, and how numbers are compared."""
        return " ".join(each for each in ("not" if self.denied else "", self.kind, self.relation) if each)

    @property
    def sentence(self) -> str:
        if self.kind == "tag":
            return f"not {self.word}" if self.denied else self.word
        if self.kind.startswith("number"):
            return f"{self.word} {self.relation} {self.limit}"
        if self.kind == "item is":
            return f"item is {'not ' if self.denied else ''}{self.word}"
        if self.kind == "some item is":
            return f"{'no' if self.denied else 'some'} item is {self.word}"
        if self.kind == "avoid item":
            return "avoid item"
        return f"{'not ' if self.denied else ''}{self.kind} {self.word}"


class Made(Struct, frozen=True):
    """A rule, with its conditions once more as records."""

    rule: Rule
    asked: tuple[Asked, ...]
    of_item: bool


class RandomSet(Struct, frozen=True):
    rules: tuple[Made, ...]
    off: tuple[SwitchedOff, ...]
    supplies: dict[str, Supply]


def random_set(random_: random.Random) -> RandomSet:
    rules = tuple(_rule(random_, number, random_.choice(LAYERS)) for number in range(random_.randint(8, 18)))
    off = tuple(
        SwitchedOff(each.rule.id, class_id=random_.choice(("", *CLASSES)), lesson=random_.choice(("", *LESSONS)))
        for each in rules
        if random_.random() < 0.08
    )
    return RandomSet(rules, off, {each.id: each for each in _supplies(random_)})


def lawless_set(random_: random.Random) -> RandomSet:
    """Rules that give and deny whatever they like; they bring in nothing."""
    rules = tuple(_lawless_rule(random_, number) for number in range(random_.randint(2, 9)))
    return RandomSet(rules, (), {each.id: each for each in _supplies(random_)})


def random_visit(random_: random.Random, supplies: dict[str, Supply]) -> VisitFacts:
    def some(words: tuple[str, ...], chance: float = 0.5) -> list[str]:
        return [word for word in words if random_.random() < chance]

    listed = some(LISTED, 0.3) + some(tuple(each for layer in LAYERS for each in BROUGHT[layer]), 0.1)
    return VisitFacts(
        class_id=random_.choice(CLASSES),
        lesson=random_.choice(LESSONS),
        tags=frozenset(some(TAGS)),
        numbers={name: random_.choice((-1.0, 0.0, 1.0, 2.0, 2.5)) for name in some(NUMBERS, 0.85)},
        needs={need: random_.randint(0, 2) for need in some(NEEDS, 0.7)},
        avoid=frozenset(some(AVOID, 0.4)),
        items={supply: frozenset({*supplies[supply].marks, supplies[supply].kind}) for supply in listed},
        words={},
    )


def _supplies(random_: random.Random) -> list[Supply]:
    """A supply that a layer's rules bring in carries only marks that are not settled before."""

    def supply(ident: str, lowest: int) -> Supply:
        carried = [mark for layer in MARKS if layer >= lowest for mark in MARKS[layer]]
        given = [mark for layer in LAYERS if layer >= lowest for mark in GIVEN_MARKS[layer]]
        marks = [*random_.sample(carried, 2), *random_.sample([*given, *AVOID[:2]], random_.randint(0, 2))]
        return Supply(ident, ident, kind="tool", marks=tuple(marks))

    brought = [supply(each, layer) for layer in LAYERS for each in BROUGHT[layer]]
    return [*(supply(each, NEVER) for each in LISTED), *brought]


# -------------------------------------------------------------------------------------------------- one rule


def _rule(random_: random.Random, number: int, layer: int) -> Made:
    marks_at = {at: (*MARKS[at], *GIVEN_MARKS.get(at, ()), *BROUGHT.get(at, LISTED)) for at in MARKS}
    sure = [mark for at in marks_at if at < layer for mark in marks_at[at]]
    sure_tags = [*TAGS, *(tag for at in LAYERS if at < layer for tag in DAMP[at])]
    brings = random_.random() < 0.5
    marks = sure if brings else [*sure, *marks_at[layer]]
    tags = sure_tags if brings else [*sure_tags, *DAMP[layer] * 2]
    may_come = [each for at in LAYERS[: layer + (not brings)] for each in (*BROUGHT[at], *MARKS[at])] or sure
    asked = [_asked(random_, tags, sure_tags, marks, sure) for _ in range(random_.randint(1, 1 if brings else 3))]
    if random_.random() < 0.5:
        avoided = layer == TOP and not brings and random_.random() < 0.7
        word = random_.choice(random_.choice((marks, may_come)))
        asked.append(Asked("avoid item") if avoided else Asked("item is", word))
        if random_.random() < 0.3:
            asked.append(Asked("item is", random_.choice(marks)))
        if random_.random() < 0.5:
            asked.append(Asked("item is", random_.choice(sure), denied=True))
    if layer > 0 and random_.random() < 0.4:
        came = [each for at in LAYERS[:layer] for each in (*BROUGHT[at], *MARKS[at])]
        asked.append(Asked("some item is", random_.choice(came), denied=random_.random() < 0.7))
    of_item = any(each.of_item for each in asked)
    gives = [random_.choice(DAMP[layer])] if random_.random() < 0.5 else []
    if of_item and random_.random() < 0.4:
        gives.append(f"item is {random_.choice(GIVEN_MARKS[layer])}")
    return _made(random_, number, asked, gives, BROUGHT[layer] if brings else ())


def _lawless_rule(random_: random.Random, number: int) -> Made:
    tags = [*TAGS, *DAMP[0], *DAMP[0]]
    marks = [*GIVEN_MARKS[0], *MARKS[0]]
    asked = [_asked(random_, tags, tags, marks, marks) for _ in range(random_.randint(1, 2))]
    if random_.random() < 0.5:
        asked.append(Asked("item is", random_.choice(marks)))
        if random_.random() < 0.3:
            asked.append(Asked("item is", random_.choice(marks), denied=True))
    of_item = any(each.of_item for each in asked)
    gives = [random_.choice(DAMP[0])] if random_.random() < 0.7 else []
    if of_item and random_.random() < 0.6:
        gives.append(f"item is {random_.choice(GIVEN_MARKS[0])}")
    return _made(random_, number, asked, gives, ())


def _asked(random_: random.Random, tags: list[str], sure_tags: list[str], marks: list[str], sure: list[str]) -> Asked:
    denied = random_.random() < 0.5
    kind = random_.choice(("tag", "tag", "number", "number named", "number set", *WORDS, "some item is", "lists"))
    if kind == "tag":
        return Asked(kind, random_.choice(sure_tags if denied else tags), denied)
    if kind.startswith("number"):
        number, other = random_.sample(NUMBERS, 2)
        limit = {"number": random_.choice(FIXED), "number named": other, "number set": random_.choice(list(SETTINGS))}
        return Asked(kind, number, relation=random_.choice(RELATIONS), limit=limit[kind])
    if kind in WORDS:
        return Asked(kind, random_.choice(WORDS[kind]), denied)
    if kind == "some item is":
        return Asked(kind, random_.choice(sure if denied else marks), denied)
    every = [*LISTED, *(each for at in MARKS for each in MARKS[at]), *(each for at in LAYERS for each in BROUGHT[at])]
    return Asked("lists", random_.choice(every), denied)


def _made(random_: random.Random, number: int, asked: list[Asked], gives: list[str], brings: tuple[str, ...]) -> Made:
    random_.shuffle(asked)
    of_item = any(each.of_item for each in asked)
    named = "{items}" if of_item else "it"
    add = (Add(supply=random_.choice(brings)),) if brings and random_.random() < 0.8 else ()
    replaced = Replace(what="item" if of_item else "tool", supply=random_.choice(brings)) if brings else None
    rule = Rule(
        id=f"rule-{number}",
        title=f"rule {number}",
        when=tuple(each.sentence.replace(" ", random_.choice((" ", " ", " ", "  "))) for each in asked),
        because=f"because of {named}",
        gives=tuple(gives),
        add=add,
        replace=(replaced,) if replaced is not None and (not add or random_.random() < 0.3) else (),
        forbid=(Forbid(instead=random_.choice(brings or ("",))),) if of_item and random_.random() < 0.3 else (),
        tasks=(TaskFor("see to {item}"),) if of_item and random_.random() < 0.3 else (),
        checks=(CheckFor(f"count {named}"),) if random_.random() < 0.4 else (),
        cautions=(Warn("look out"),),
    )
    return Made(rule, tuple(asked), of_item)
