"""Sentences of rules where no visit is meant: what stands in braces becomes a word for that kind of thing."""

from __future__ import annotations

from checklists.rules.vocabulary import Vocabulary, fill


def for_any_visit(sentence: str, words: Vocabulary) -> str:
    """ "scissors for each of so many children", "the room has a carpet"."""

    def word_for(blank: str) -> str:
        if blank in ("item", "items"):
            return "it"
        if blank.startswith("need "):
            return "so many children"
        return words.words.get(blank, "so many" if blank in words.numbers else blank)

    return fill(sentence, word_for)
