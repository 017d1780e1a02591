"""The words that rules, lessons and supplies may use, what each means, and how a fact is said in a sentence."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import lru_cache

from msgspec import Struct

from checklists.plan.records import Supply

KINDS = frozenset({"paper", "material", "tool", "sample", "sheet"})
"""Kinds of supplies may be asked for like marks."""

SIGNALS = ("danger", "warning", "caution")
"""Signal words of labels, the gravest first."""

_WORD = re.compile(r"[a-z]+")
_BLANK = re.compile(r"\{([^{}]*)\}")


class Vocabulary(Struct, frozen=True):
    """As read from ``builtin/vocabulary.toml``."""

    media: tuple[str, ...]
    """Tags of parts that are never made up during another part. Common practice, no source."""
    part: dict[str, str]
    """Tag of a part -> what it says of the part. These are the tags a lesson may use."""
    visit: dict[str, tuple[str, str]]
    """Tag of a visit -> how it is said, and how its absence is said."""
    given: dict[str, str]
    """Tag that a built-in rule gives -> how its absence is said."""
    numbers: dict[str, str]
    words: dict[str, str]
    """What a sentence may name -> what is said where it is not known."""
    marks: dict[str, str]
    needs: dict[str, str]
    avoid: dict[str, str]


class Words(Struct, frozen=True):
    """Words known beside the vocabulary: those a plan brings along."""

    tags: frozenset[str] = frozenset()
    marks: frozenset[str] = frozenset()
    needs: frozenset[str] = frozenset()
    avoid: frozenset[str] = frozenset()


class KnownWords(Struct, frozen=True):
    """Everything a rule may ask for or name."""

    tags: frozenset[str]
    numbers: frozenset[str]
    marks: frozenset[str]
    """Marks, kinds and ids of supplies."""
    needs: frozenset[str]
    avoid: frozenset[str]
    supplies: frozenset[str]
    fields: frozenset[str]
    """What may stand in braces in a sentence, needs apart."""
    settings: frozenset[str] = frozenset()
    """Names that may stand in place of a number; numbers are put in before conditions are read."""


def known_words(
    vocabulary: Vocabulary, own: Words, supplies: Iterable[str], settings: Iterable[str] = ()
) -> KnownWords:
    """The vocabulary, the words of a plan, the ids of its supplies and the names of settings together."""
    supplies, settings = frozenset(supplies), frozenset(settings)
    return KnownWords(
        tags=own.tags.union(vocabulary.part, vocabulary.visit, vocabulary.given),
        numbers=frozenset(vocabulary.numbers),
        marks=own.marks.union(vocabulary.marks, KINDS, supplies),
        needs=own.needs.union(vocabulary.needs),
        avoid=own.avoid.union(vocabulary.avoid),
        supplies=supplies,
        fields=frozenset({"item", "items", *vocabulary.numbers, *vocabulary.words, *settings}),
        settings=settings,
    )


@lru_cache(maxsize=4096)
def marks_of_supply(supply: Supply) -> frozenset[str]:
    """Everything "item is …" may ask of a supply: its marks, its kind, and what its fields say of it.

    ``conforms`` left open is no mark at all: not an art material, or not looked up.
    """
    said = {
        "sharp": supply.sharp,
        "own": supply.own,
        "teacher-only": supply.for_the_teacher,
        "not-conforming": supply.conforms is False,
        "own-substitute": bool(supply.instead),
        "label-caution": bool(supply.label_caution),
        signal_of_label(supply.label_caution): bool(supply.label_caution),
    }
    return frozenset({*supply.marks, supply.kind, *(mark for mark, holds in said.items() if holds and mark)})


def signal_of_label(text: str) -> str:
    """The mark of the gravest signal word on a label, "" without one: DANGER above WARNING above CAUTION.

    Source: art-hazard guides on the labels of 16 CFR 1500.14(b)(8). ANSI Z535.4 has other meanings for these words.
    """
    words = set(_WORD.findall(text.casefold()))
    return next((f"signal-{each}" for each in SIGNALS if each in words), "")


def nearest_word(word: str, known: Iterable[str]) -> str:
    """The known word most like it; empty where none is much like it."""
    from difflib import get_close_matches  # only where something is wrong: its import is felt at start-up

    by_lower = {each.casefold(): each for each in sorted(known)}
    found = get_close_matches(word.casefold(), by_lower, n=1, cutoff=0.6)
    return by_lower[found[0]] if found else ""


def ask_for_nearest(word: str, known: Iterable[str]) -> str:
    """A sentence for ``Problem.to_do``; empty where there is nothing to propose."""
    near = nearest_word(word, known)
    return f'Did you mean "{near}"?' if near else ""


def blanks_in(sentence: str) -> tuple[str, ...]:
    """What stands in braces: "{students} at {tables} tables" -> ("students", "tables")."""
    return tuple(_BLANK.findall(sentence))


def fill(sentence: str, word_for: Callable[[str], str]) -> str:
    """The sentence with each blank replaced by its word. What a word holds is text, and never filled again."""
    return _BLANK.sub(lambda blank: word_for(blank[1]), sentence) if "{" in sentence else sentence
