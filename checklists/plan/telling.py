"""Telling what does not fit in a plan: where it stands, what is wrong, and the nearest thing that would be right."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable

from checklists.problems import Problem
from checklists.words import join_words, nearest

Path = tuple[str | int, ...]
LineOf = Callable[[str, Path], int | None]
"""The line of a file on which a thing stands; None where nobody knows."""


def no_line(file: str, path: Path) -> int | None:
    """For a plan that was not read from files."""
    return None


class Teller:
    """Gathers problems."""

    def __init__(self, line_of: LineOf) -> None:
        self.line_of = line_of
        self.problems: list[Problem] = []

    def tell(self, file: str, path: Path, entry: str, what: str, to_do: str = "", *, note: bool = False) -> None:
        line = self.line_of(file, path)
        self.problems.append(Problem(file, entry, what, to_do, line, "note" if note else "grave"))

    def known(
        self, file: str, path: Path, entry: str, noun: str, word: str, right: Iterable[str], *, note: bool = False
    ) -> None:
        """Tell of a word that leads nowhere, with the nearest that leads somewhere."""
        if isinstance(right, Collection) and word in right:  # as nearly always, and quick where there are thousands
            return
        every = list(dict.fromkeys(right))
        if word in every:
            return
        near = nearest(word, every)
        if near is not None:
            to_do = f'Is "{near}" meant?'
        elif 0 < len(every) <= 8:
            to_do = f"Known are {join_words(sorted(every))}."
        else:
            to_do = f"Add the {noun}, or write one that is there."
        self.tell(file, path, entry, f'There is no {noun} "{word}".', to_do, note=note)

    def once(self, file: str, noun: str, found: Iterable[tuple[str, Path]]) -> None:
        """Tell of ids that are there more than once, with both lines."""
        first: dict[str, Path] = {}
        for ident, path in found:
            if ident not in first:
                first[ident] = path
                continue
            line = self.line_of(file, first[ident])
            where = f" in line {line}" if line is not None else ""
            self.tell(
                file, path, f"{noun} {ident}", f"It is there already{where}.", "Rename one of the two, or take it out."
            )
