"""From condition sentences to conditions of the engine.

    TAG                      not TAG
    NUMBER at most N         NUMBER at least N      NUMBER is N       NUMBER below N       NUMBER above N
    need NEED                not need NEED
    avoid WORD               not avoid WORD
    item is MARK             item is not MARK       avoid item
    some item is MARK        no item is MARK
    lists MARK               not lists MARK
    class is CLASS           not class is CLASS
    lesson is LESSON         not lesson is LESSON

N is a number, a grade ("K", "PK"), the name of a setting or the name of another number. MARK is a mark, a kind or the
id of a supply. All sentences of a rule that say "item" speak of the same supply; "item is not MARK" only rules out, so
a rule that uses it must have an "item is MARK" or "avoid item" too, which is true of what holds something the class
avoids. Tags may be of several words. A number that is not known is neither at most nor at least anything.

The sentence itself is the predicate, so that a circle of rules can be told in the words the rules are written in.
"""

from __future__ import annotations

import operator
import re
from collections.abc import Callable, Iterable

from msgspec import Struct

from checklists.rules.engine import Atom, Clause, Condition
from checklists.rules.vocabulary import KnownWords, ask_for_nearest

ITEM = "?item"
AVOID_ITEM = "avoid item"
CLASS_IS = "class is "
LESSON_IS = "lesson is "

_RELATIONS: dict[str, Callable[[float, float], bool]] = {
    "at most": operator.le,
    "at least": operator.ge,
    "is": operator.eq,
    "below": operator.lt,
    "above": operator.gt,
}
_COMPARISON = re.compile(r"(?P<number>\S+) (?P<relation>at most|at least|is|below|above) (?P<other>\S+)")
_GRADES = {"K": 0.0, "PK": -1.0}


class Mistake(Struct, frozen=True):
    """What is wrong with a sentence, and what to do about it."""

    what: str
    to_do: str = ""


class Comparison(Struct, frozen=True):
    """A number of the visit held against a fixed one, or against another number of the visit."""

    sentence: str
    number: str
    relation: str
    other: float | str

    def limit(self, numbers: dict[str, float]) -> float | None:
        return numbers.get(self.other) if isinstance(self.other, str) else self.other

    def holds(self, numbers: dict[str, float]) -> bool:
        value, limit = numbers.get(self.number), self.limit(numbers)
        return value is not None and limit is not None and _RELATIONS[self.relation](value, limit)


def condition_from(sentence: str, known: KnownWords) -> Condition | Mistake:
    """One sentence as a condition, or what is wrong with it."""
    sentence = " ".join(sentence.split())
    if sentence in known.tags:
        return Condition((sentence,))
    if sentence.startswith("not "):
        return _denied(sentence.removeprefix("not "), known)
    if sentence == AVOID_ITEM:
        return Condition((AVOID_ITEM, ITEM))
    if (mark := _behind(sentence, "item is not ")) is not None:
        return _unknown_mark(mark, known) or Condition((f"item is {mark}", ITEM), negated=True)
    if (mark := _behind(sentence, "item is ")) is not None:
        return _unknown_mark(mark, known) or Condition((f"item is {mark}", ITEM))
    if (mark := _behind(sentence, "some item is ")) is not None:
        return _unknown_mark(mark, known) or Condition((sentence,))
    if (mark := _behind(sentence, "no item is ")) is not None:
        return _unknown_mark(mark, known) or Condition((f"some item is {mark}",), negated=True)
    if (mark := _behind(sentence, "lists ")) is not None:
        return _unknown_mark(mark, known) or Condition((sentence,))
    if (need := _behind(sentence, "need ")) is not None:
        return _unknown("need", need, known.needs) or Condition((sentence,))
    if (word := _behind(sentence, "avoid ")) is not None:
        return _unknown("word for what is avoided", word, known.avoid) or Condition((sentence,))
    for start in (CLASS_IS, LESSON_IS):
        if (ident := _behind(sentence, start)) is not None:
            there = frozenset(each.removeprefix(start) for each in known.tags if each.startswith(start))
            return _unknown(start.split()[0], ident, there) or Condition((sentence,))
    return _compared(sentence, known)


def head_from(sentence: str, known: KnownWords) -> Atom | Mistake:
    """What a rule gives, a tag or "item is MARK", as the head of a clause. New tags and marks are welcome."""
    sentence = " ".join(sentence.split())
    if mark := _behind(sentence, "item is "):
        if mark.startswith("not "):
            return Mistake(f'gives "{sentence}": a rule can give a mark, not take one away')
        return (f"item is {mark}", ITEM)
    reserved = ("not ", "some item ", "no item ", "lists ", "need ", "avoid ", "item ", CLASS_IS, LESSON_IS)
    if not sentence or sentence.startswith(reserved) or _COMPARISON.fullmatch(sentence) or "{" in sentence:
        return Mistake(f'gives "{sentence}", which is a condition and not a tag', 'Give a tag or "item is MARK".')
    return (sentence,)


def comparison_from(sentence: str) -> Comparison | None:
    """The comparison a condition's predicate stands for; None where it is none."""
    found = _COMPARISON.fullmatch(sentence)
    if not found or found["number"] in ("item", "class", "lesson"):
        return None
    return Comparison(sentence, found["number"], found["relation"], _limit(found["other"]))


def with_limit(sentence: str, value_of: Callable[[str], str | None]) -> str:
    """The sentence, with its number where it compares with a setting: "grade at most pin_grade", "grade at most 2".

    ``value_of`` gives the number of a setting as it is written, None for any other name.
    """
    found = _COMPARISON.fullmatch(" ".join(sentence.split()))
    value = value_of(found["other"]) if found else None
    return sentence if found is None or value is None else f"{found['number']} {found['relation']} {value}"


def clauses_for_some_item(conditions: Iterable[Condition]) -> tuple[Clause, ...]:
    """What ties "some item is …" to "item is …", one clause for each mark that is asked for in that way."""
    asked = dict.fromkeys(each.atom[0] for each in conditions if each.atom[0].startswith("some item is "))
    return tuple(Clause((some,), (Condition((some.removeprefix("some "), ITEM)),)) for some in asked)


def _behind(sentence: str, beginning: str) -> str | None:
    return sentence[len(beginning) :] if sentence.startswith(beginning) else None


def _denied(sentence: str, known: KnownWords) -> Condition | Mistake:
    if sentence.startswith("not "):
        return Mistake(f'"not {sentence}" says "not" twice')
    meant = condition_from(sentence, known)
    if isinstance(meant, Mistake):
        return meant
    if sentence not in known.tags and not sentence.startswith(("need ", "lists ")) and len(meant.atom) > 1:
        return Mistake(f'"not {sentence}" cannot be asked', 'Say "item is not MARK".')
    if meant.negated or sentence.startswith("some item "):
        return Mistake(f'"not {sentence}" cannot be asked', 'Say "some item is MARK" or "no item is MARK".')
    if comparison_from(sentence) and sentence not in known.tags:
        return Mistake(f'"not {sentence}" cannot be asked', "Turn the comparison round: below, above, at least.")
    return Condition(meant.atom, negated=True)


def _unknown(what: str, word: str, known: frozenset[str], proposed: frozenset[str] = frozenset()) -> Mistake | None:
    """``proposed`` are further words that might be meant."""
    if word in known:
        return None
    return Mistake(f'unknown {what} "{word}"', ask_for_nearest(word, known | proposed))


def _unknown_mark(mark: str, known: KnownWords) -> Mistake | None:
    return _unknown("mark", mark, known.marks)


def _compared(sentence: str, known: KnownWords) -> Condition | Mistake:
    found = _COMPARISON.fullmatch(sentence)
    if not found:
        return Mistake(f'unknown tag "{sentence}"', ask_for_nearest(sentence, known.tags))
    if mistake := _unknown("number", found["number"], known.numbers):
        return mistake
    if isinstance(_limit(found["other"]), str) and (
        mistake := _unknown("number", found["other"], known.numbers, known.settings)
    ):
        return mistake
    return Condition((sentence,))


def _limit(text: str) -> float | str:
    if text in _GRADES:
        return _GRADES[text]
    return float(text) if re.fullmatch(r"-?\d{1,6}(\.\d{1,4})?", text) else text
