"""Why a rule applies, in words: the given facts of its chain first, then what followed from them."""

from __future__ import annotations

from collections.abc import Callable

from checklists.rules.clauses import applies
from checklists.rules.conditions import AVOID_ITEM, CLASS_IS, LESSON_IS, comparison_from
from checklists.rules.engine import Atom
from checklists.rules.fixpoint import Derived
from checklists.rules.read import RuleSet
from checklists.rules.records import VisitFacts
from checklists.rules.vocabulary import fill

_UNKNOWN_NUMBER = "an unknown number of"
_UNTOLD = "item is replaced"
"""Whose absence goes without saying: that a thing on the list is still there."""
_GRADES = {-1: "PK", 0: "K"}


class Telling:
    """The words of one visit: fills sentences and tells the chain behind an atom that was derived."""

    def __init__(
        self, rules: RuleSet, facts: VisitFacts, derived: Derived, name_of: Callable[[str], str] | None = None
    ) -> None:
        self._rules = rules
        self._vocabulary = rules.vocabulary
        self._facts = facts
        self._derived = derived
        self._name_of = name_of or (lambda supply: supply.replace("-", " "))
        self._words_of: dict[Atom, str] = {}
        self._words_of_absent: dict[Atom, str] = {}

    def filled(self, sentence: str, items: tuple[str, ...] = ()) -> str:
        """The sentence with its blanks filled in; {item} and {items} name all of ``items``."""
        return fill(sentence, lambda blank: self._word(blank, items)) if "{" in sentence else sentence

    def chain_of(self, atom: Atom) -> tuple[str, ...]:
        """The chain of facts behind a derived atom, each fact once."""
        given: dict[str, None] = {}
        followed: dict[str, None] = {}
        first = self._derived.first
        told = {atom}
        path = [(atom, iter(first[atom].body))]
        while path:  # not by recursion, and nothing twice: chains may be long, and meet again
            at, body = path[-1]
            for used in body:
                if used not in first:
                    given[self._said_once(used)] = None
                elif used not in told:
                    told.add(used)
                    path.append((used, iter(first[used].body)))
                    break
            else:
                path.pop()
                for missing in first[at].absent:
                    if missing[0] != _UNTOLD:
                        given[self._said_absent_once(missing)] = None
                if path and first[at].clause:
                    followed[self._said_once(at)] = None
        return (*given, *(fact for fact in followed if fact not in given))

    def _said_once(self, atom: Atom) -> str:
        """What is given or followed in words; many rules of a visit rest on the same things."""
        if (said := self._words_of.get(atom)) is None:
            step = self._derived.first.get(atom)
            if step is None:
                said = self._said(atom)
            else:
                because = self._rules.rules[self._rules.places[applies(step.clause)]].because
                said = self._sentence(because, atom[1:])
            self._words_of[atom] = said
        return said

    def _said_absent_once(self, atom: Atom) -> str:
        if (said := self._words_of_absent.get(atom)) is None:
            said = self._words_of_absent[atom] = self._said_absent(atom)
        return said

    def _said(self, atom: Atom) -> str:
        sentence, items = atom[0], atom[1:]
        if sentence == AVOID_ITEM:
            return self._avoided(items[0])
        if items:
            mark = sentence.removeprefix("item is ")
            return self._sentence(f"{{item}}: {self._vocabulary.marks.get(mark, mark)}", items)
        if sentence in self._vocabulary.visit:
            return self._sentence(self._vocabulary.visit[sentence][0])
        if class_id := _behind(sentence, CLASS_IS):
            return f"It is {class_id}"
        if _behind(sentence, LESSON_IS):
            return self._sentence("the lesson is {lesson}")
        if mark := _behind(sentence, "lists "):
            return f"On the part's own list: {self._vocabulary.marks.get(mark, mark)}"
        if need := _behind(sentence, "need "):
            return self._sentence(f"{{class}} has {{need {need}}}: {self._vocabulary.needs.get(need, need)}")
        if word := _behind(sentence, "avoid "):
            return self._sentence(f"{{class}} avoids {self._vocabulary.avoid.get(word, word)}")
        return self._compared(sentence) or f"The part is tagged {sentence}"

    def _said_absent(self, atom: Atom) -> str:
        sentence, items = atom[0], atom[1:]
        if items:
            mark = sentence.removeprefix("item is ")
            return self._sentence(f"{{item}}: not {self._vocabulary.marks.get(mark, mark)}", items)
        if f"no {sentence}" in self._facts.tags and f"no {sentence}" in self._vocabulary.visit:
            return self._said((f"no {sentence}",))
        if sentence in self._vocabulary.visit:
            return self._sentence(self._vocabulary.visit[sentence][1])
        if sentence in self._vocabulary.given:
            return self._sentence(self._vocabulary.given[sentence])
        if class_id := _behind(sentence, CLASS_IS):
            return f"It is not {class_id}"
        if lesson := _behind(sentence, LESSON_IS):
            return f"The lesson is not {lesson}"
        if mark := _behind(sentence, "lists "):
            return f"Not on the part's own list: {self._vocabulary.marks.get(mark, mark)}"
        if mark := _behind(sentence, "some item is "):
            return f"Not among the supplies of this visit: {self._vocabulary.marks.get(mark, mark)}"
        if need := _behind(sentence, "need "):
            return self._sentence(f"no child of {{class}} has this need: {self._vocabulary.needs.get(need, need)}")
        if word := _behind(sentence, "avoid "):
            return self._sentence(f"{{class}} does not avoid {self._vocabulary.avoid.get(word, word)}")
        return f"The part is not tagged {sentence}"

    def _avoided(self, item: str) -> str:
        marks = {*self._facts.items.get(item, ()), item}
        held = [self._vocabulary.avoid.get(word, word) for word in sorted(self._facts.avoid & marks)]
        return self._sentence(
            f"{{class}} avoids {_listed(held)}, and so {{item}}" if held else "{class} avoids {item}", (item,)
        )

    def _compared(self, sentence: str) -> str:
        made = comparison_from(sentence)
        if made is None or made.number not in self._vocabulary.numbers:
            return ""
        if made.number == "part":
            return f"It is part {self._number('part')}"
        limit = sentence.removeprefix(f"{made.number} ")
        if isinstance(made.other, str):
            other = f"{self._vocabulary.numbers.get(made.other, made.other)}, {self._number(made.other)}"
            limit = f"{made.relation} {other}"
        name = self._vocabulary.numbers[made.number]
        return f"{name[:1].upper()}{name[1:]}: {self._number(made.number)} ({limit})"

    def _sentence(self, template: str, items: tuple[str, ...] = ()) -> str:
        """Filled in, with a capital unless it begins with a name."""
        said = self.filled(template, items)
        return said if template.startswith("{class}") else said[:1].upper() + said[1:]

    def _word(self, blank: str, items: tuple[str, ...] = ()) -> str:
        if blank in ("item", "items"):
            return _listed([self._name_of(item) for item in items])
        if need := _behind(blank, "need "):
            count = self._facts.needs.get(need, 0)
            return "1 child" if count == 1 else f"{count} children"
        word = self._facts.words.get(blank, "")
        if word or blank in self._vocabulary.words:
            return word or self._vocabulary.words[blank]
        return self._number(blank)

    def _number(self, name: str) -> str:
        value = self._facts.numbers.get(name)
        if value is None:
            return _UNKNOWN_NUMBER
        return _GRADES.get(int(value), f"{value:g}") if name == "grade" else f"{value:g}"


def _behind(sentence: str, beginning: str) -> str:
    return sentence.removeprefix(beginning) if sentence.startswith(beginning) else ""


def _listed(names: list[str]) -> str:
    """ "needles", "needles and scissors", "needles, pins and scissors"."""
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
