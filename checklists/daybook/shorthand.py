"""One line about a visit, as it is typed from the cart sheet: "v3 a4,11 t13 3f". What it says, and back into a line.

Words stand apart by spaces, in any order. A letter before numbers tells of children by their class-list numbers, a
number before a letter how many. Nothing of the day is known here: whether it can be so is for ``noting`` to say.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

from msgspec import Struct, structs

from checklists.daybook.entries import OutcomeKind

LONGEST = 200
"""Signs of one line; more are not read."""
FORMS = (
    ("v3", "the visit, where it is not the one in hand"),
    ("a4,11", "absent by number; 2a: two, nobody knows who; a0: nobody; au: nobody could say"),
    ("3f", "so many not done; f9,12: not done by number; f0: all done"),
    ("13", "so many back, in the order of the lines: t13,26; =: all back; l: count later"),
    ("t21=13", "so many back of line 21; 14/13: 14 went out, 13 are back"),
    ("h", "about half; h6: number 6 was there for half of it"),
    ("n", "not taught; d: done after all"),
    ("p3", "went on through part 3; i3: part 3 in place of the planned one"),
    ("c25", "so many children came"),
    ("l14", "the supply of line 14 is low; o14: it is out"),
    ("rbox3", "this box or kit stayed in the room; by line number r14"),
    ("k", "the catch-up kit was handed out; k-: it was not"),
)
"""What can be typed, an example each, for pages of help."""


class Back(Struct, frozen=True):
    """How many of a counted thing came back: ``count``, all of it where that is None, or it is counted ``later``."""

    count: int | None = None
    line: int = 0
    """Number of its line; 0: the next counted thing in the order of the lines."""
    later: bool = False
    out: int | None = None
    """How many went out, where that was another number than the list has."""


class Shorthand(Struct, frozen=True, kw_only=True):
    """What one line says. None or empty: it says nothing of that."""

    visit: int = 0
    outcome: OutcomeKind | None = None
    part: int | None = None
    """The part that was reached, or taught in place of the planned one."""
    absent: tuple[int, ...] | None = None
    absent_count: int | None = None
    absent_unknown: bool = False
    not_done: int | None = None
    not_done_numbers: tuple[int, ...] | None = None
    half: tuple[int, ...] | None = None
    students: int | None = None
    back: tuple[Back, ...] = ()
    all_back: bool = False
    all_later: bool = False
    low: tuple[int, ...] = ()
    out: tuple[int, ...] = ()
    """Numbers of lines whose supply is low, or out."""
    stayed: tuple[str, ...] = ()
    """Containers that stayed in the room: first letters, or the number of a line."""
    handed_out: bool | None = None


class NotRead(Exception):  # noqa: N818 - what it says, in the words of the message
    """A word of the line says nothing; the message says which, and what to type."""


_NUMBER = r"[0-9]{1,4}"
_NUMBERS = rf"{_NUMBER}(?:,{_NUMBER})*"
_COUNT = rf"(?:{_NUMBER}=)?(?:{_NUMBER}/{_NUMBER}|{_NUMBER}|=|l)|{_NUMBER}="
_OUTCOMES: dict[str, OutcomeKind] = {"d": "done", "h": "about half", "n": "not taught"}


def read_shorthand(text: str) -> Shorthand | str:
    """What a line says; or, in words, which of it is not understood. Never raises, whatever was typed."""
    line = Shorthand()
    said = re.sub(r"\s*,\s*", ",", text[:LONGEST].casefold().replace(".", " "))
    try:
        for word in said.split():
            line = _with_word(line, word)
    except NotRead as problem:
        return str(problem)
    return line


def _with_word(line: Shorthand, word: str) -> Shorthand:
    for pattern, take in _WORDS:
        found = re.fullmatch(pattern, word, re.ASCII)
        if found is not None:
            return take(line, found)
    near = next((form for form, _ in FORMS if form[0] == word[0]), "")
    raise NotRead(f"{word} is not understood." + (f" Type it like {near}." if near else ""))


def _once(line: Shorthand, what: str, **fields: Any) -> Shorthand:
    """The line with fields that may be said once."""
    if any(getattr(line, name) != getattr(Shorthand(), name) for name in fields):
        raise NotRead(f"{what} is said twice. Say it once.")
    return structs.replace(line, **fields)


def _numbers(text: str) -> tuple[int, ...]:
    return tuple(sorted({int(each) for each in text.split(",")}))


def _visit(line: Shorthand, found: re.Match[str]) -> Shorthand:
    if not int(found[1]):
        raise NotRead("There is no visit v0. Type it like v3.")
    return _once(line, "The visit", visit=int(found[1]))


def _outcome(line: Shorthand, found: re.Match[str]) -> Shorthand:
    return _once(line, "What it reached", outcome=_OUTCOMES[found[0]])


def _part(line: Shorthand, found: re.Match[str]) -> Shorthand:
    outcome: OutcomeKind = "went further" if found[1] == "p" else "another part"
    return _once(line, "What it reached", outcome=outcome, part=int(found[2]))


def _absence(line: Shorthand, **fields: Any) -> Shorthand:
    if line.absent is not None or line.absent_count is not None or line.absent_unknown:
        raise NotRead("Who was absent is said twice. Say it once.")
    return structs.replace(line, **fields)


def _absent(line: Shorthand, found: re.Match[str]) -> Shorthand:
    numbers = _numbers(found[1])
    return _absence(line, absent=() if numbers == (0,) else numbers)


def _not_done(line: Shorthand, found: re.Match[str]) -> Shorthand:
    numbers = _numbers(found[1])
    if numbers == (0,):
        return _once(line, "How many are not done", not_done=0)
    return _once(line, "Who is not done", not_done_numbers=numbers)


def _half(line: Shorthand, found: re.Match[str]) -> Shorthand:
    return structs.replace(line, half=tuple(sorted({*(line.half or ()), *_numbers(found[1])})))


def _back(line: Shorthand, found: re.Match[str]) -> Shorthand:
    counts = tuple(_one_back(each) for each in found[1].split(","))
    if line.all_back or line.all_later:
        raise NotRead("What came back is said twice. Say it once.")
    return structs.replace(line, back=(*line.back, *counts))


def _one_back(word: str) -> Back:
    number, _, count = word.rpartition("=")
    line = int(number.rstrip("=") or 0)
    if count == "l":
        return Back(line=line, later=True)
    out, _, back = count.rpartition("/")
    return Back(int(back) if back else None, line, out=int(out) if out else None)


def _all_back(line: Shorthand, found: re.Match[str]) -> Shorthand:
    if line.back or line.all_back or line.all_later:
        raise NotRead("What came back is said twice. Say it once.")
    return structs.replace(line, all_back=found[0] == "=", all_later=found[0] == "l")


def _lines(name: str) -> Callable[[Shorthand, re.Match[str]], Shorthand]:
    def take(line: Shorthand, found: re.Match[str]) -> Shorthand:
        return structs.replace(line, **{name: tuple(sorted({*getattr(line, name), *_numbers(found[1])}))})

    return take


def _stayed(line: Shorthand, found: re.Match[str]) -> Shorthand:
    return structs.replace(line, stayed=tuple(dict.fromkeys((*line.stayed, *found[1].split(",")))))


_WORDS: tuple[tuple[str, Callable[[Shorthand, re.Match[str]], Shorthand]], ...] = (
    (rf"v({_NUMBER})", _visit),
    (r"[dhn]", _outcome),
    (rf"([pi])({_NUMBER})", _part),
    (rf"a({_NUMBERS})", _absent),
    (rf"({_NUMBER})a", lambda line, found: _absence(line, absent_count=int(found[1]))),
    (r"a[u?]", lambda line, found: _absence(line, absent_unknown=True)),
    (rf"f({_NUMBERS})", _not_done),
    (rf"({_NUMBER})f", lambda line, found: _once(line, "How many are not done", not_done=int(found[1]))),
    (rf"h({_NUMBERS})", _half),
    (rf"({_NUMBERS})h", _half),
    (rf"c({_NUMBER})", lambda line, found: _once(line, "How many came", students=int(found[1]))),
    (r"[=l]", _all_back),
    (rf"t?((?:{_COUNT})(?:,(?:{_COUNT}))*)", _back),
    (rf"l({_NUMBERS})", _lines("low")),
    (rf"o({_NUMBERS})", _lines("out")),
    (r"k-?", lambda line, found: _once(line, "The catch-up kit", handed_out=found[0] == "k")),
    (r"r([^\s,]+(?:,[^\s,]+)*)", _stayed),
)


def write_shorthand(line: Shorthand) -> str:
    """A line that says the same."""
    return " ".join(_words_of(line))


def _words_of(line: Shorthand) -> Iterator[str]:
    if line.visit:
        yield f"v{line.visit}"
    if line.part is not None:
        yield f"{'p' if line.outcome == 'went further' else 'i'}{line.part}"
    elif line.outcome is not None:
        yield next(word for word, outcome in _OUTCOMES.items() if outcome == line.outcome)
    if line.absent is not None:
        yield f"a{_joined(line.absent) or 0}"
    if line.absent_count is not None:
        yield f"{line.absent_count}a"
    if line.absent_unknown:
        yield "au"
    if line.not_done_numbers is not None:
        yield f"f{_joined(line.not_done_numbers)}"
    if line.not_done is not None:
        yield f"{line.not_done}f"
    if line.half is not None:
        yield f"h{_joined(line.half)}"
    if line.students is not None:
        yield f"c{line.students}"
    if line.back:
        yield f"t{','.join(_say_back(each) for each in line.back)}"
    if line.all_back or line.all_later:
        yield "=" if line.all_back else "l"
    for letter, numbers in (("l", line.low), ("o", line.out)):
        if numbers:
            yield f"{letter}{_joined(numbers)}"
    if line.stayed:
        yield f"r{','.join(line.stayed)}"
    if line.handed_out is not None:
        yield "k" if line.handed_out else "k-"


def _joined(numbers: tuple[int, ...]) -> str:
    return ",".join(str(number) for number in numbers)


def _say_back(back: Back) -> str:
    out = "" if back.out is None else f"{back.out}/"
    count = "l" if back.later else "" if back.count is None else f"{out}{back.count}"
    if back.line:
        return f"{back.line}={count}"
    return count or "="
