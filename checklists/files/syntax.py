"""Why a text is not TOML, in words for somebody who never heard of TOML, and for all its bad lines at once.

tomllib stops at the first thing it does not understand. Here the line it stops at is told, emptied, and the reading
goes on, until nothing is wrong or until emptying a line would only make the lines after it look wrong.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any

from msgspec import Struct

from checklists.problems import Problem
from checklists.words import clean

MOST_TOLD = 20
"""Bad lines told of one file; more than that help nobody. Common practice, no source."""

_PLACE = re.compile(r"\(at (?:line (\d+), column (\d+)|end of document)\)")
_KEY_AND_SIGN = re.compile(r"""^\s*(?:[\w.-]+|"[^"]*"|'[^']*')\s*=(?!=)""")
_TEXT_OR_REMARK = re.compile(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'|#.*')


class Parsed(Struct, frozen=True):
    """What tomllib made of a text. With problems, ``table`` is what the lines without a problem hold."""

    table: dict[str, Any] | None
    problems: tuple[Problem, ...] = ()


def parse(text: str, name: str) -> Parsed:
    """Read a TOML text. Never raises; every problem has ``name`` as its file and the number of its line."""
    lines = text.split("\n")
    problems: list[Problem] = []
    emptied = 0
    while True:
        try:
            table = tomllib.loads("\n".join(lines))
        except RecursionError:
            problems.append(Problem(name, "", "Brackets stand inside brackets, far too many times."))
            return Parsed(None, tuple(problems))
        except ValueError as error:
            bad = _bad_line(str(error), lines)
            problems.append(Problem(name, "", *_in_words(bad), line=bad.number + 1))
            if len(problems) == MOST_TOLD or not _can_be_left_out(lines, bad):
                return Parsed(None, tuple(problems))
            emptied += 1
            # What stands under a bad [heading] must not fall to the heading before it: it goes under one of its own.
            is_heading = lines[bad.first].lstrip().startswith("[") and bad.first == bad.number
            lines[bad.first : bad.number + 1] = [""] * (bad.number + 1 - bad.first)
            if is_heading:
                lines[bad.first] = f'["{_left_out(emptied)}"]'
        else:
            for number in range(1, emptied + 1):
                table.pop(_left_out(number), None)
            return Parsed(table, tuple(problems))


def _left_out(number: int) -> str:
    return f"\ufffd left out {number}"


class _Bad(Struct, frozen=True):
    """Where tomllib stopped. ``first`` and ``number`` are indexes of lines, ``column`` of a character of the latter."""

    message: str
    first: int
    number: int
    column: int
    text: str


def _bad_line(message: str, lines: list[str]) -> _Bad:
    place = _PLACE.search(message)
    at_end = place is None or place[1] is None
    if place is None or at_end:
        number = max((i for i, line in enumerate(lines) if line.strip()), default=0)
        column = len(lines[number])
    else:
        number, column = min(int(place[1]), len(lines)) - 1, int(place[2]) - 1
    if message.startswith("Unclosed") and (at_end or _KEY_AND_SIGN.match(lines[number])):
        number = _opening_line(lines, number if at_end else number - 1)
    elif message.startswith(("Unterminated", "Expected \"'")) and at_end:
        number = next((i for i in range(number, -1, -1) if '"""' in lines[i] or "'" in lines[i]), number)
    return _Bad(message, number, number, column, lines[number])


def _opening_line(lines: list[str], from_line: int) -> int:
    """The nearest line above that opens a bracket which it does not close."""
    for number in range(from_line, -1, -1):
        if _KEY_AND_SIGN.match(lines[number]) and _open_brackets(lines[number]) > 0:
            return number
    return max(from_line, 0)


def _open_brackets(line: str) -> int:
    bare = _TEXT_OR_REMARK.sub("", line)
    return sum(bare.count(sign) for sign in "[{") - sum(bare.count(sign) for sign in "]}")


def _can_be_left_out(lines: list[str], bad: _Bad) -> bool:
    """Whether the lines after the bad one can be read without it."""
    if lines[bad.first].lstrip().startswith("["):
        return True
    whole = "\n".join(lines[bad.first : bad.number + 1])
    return bool(whole.strip()) and _open_brackets(whole) == 0 and '"""' not in whole and "'''" not in whole


def _in_words(bad: _Bad) -> tuple[str, str]:
    """What is wrong and what to do."""
    line, message = bad.text, bad.message
    shown = _short(line)
    if message.startswith("Unclosed"):
        return _unclosed(bad)
    if message.startswith(("Illegal character '\\n'", "Illegal character '\\r'", "Unterminated", "Expected \"'")):
        return f"The closing quote is missing in: {shown}", "Put the same quote at the end of the text as at its start."
    if message.startswith(("Illegal character", "Found invalid character")):
        return f"There is a sign that cannot be seen in: {shown}", "Type this line again."
    if message.startswith(("Unescaped", "Escaped")):
        return f"A \\ inside quotes is not understood in: {shown}", "Write / or \\\\ in its place."
    if message.startswith(("Cannot", "Duplicate")):
        return f"This is there a second time: {shown}", "Keep one of the two."
    if line.lstrip().startswith("["):
        return (
            f"This heading is not understood: {shown}",
            "A heading is one name in brackets, [cart] or [[classes]]; a name with a space needs quotes.",
        )
    sign = _KEY_AND_SIGN.match(line)
    if sign is None:
        return _no_key(line)
    if message.startswith("Invalid value") and bad.column >= sign.end():
        return _bad_value(re.split(r"[,\]}#]", line[bad.column :])[0].strip())
    return _bad_value(line[sign.end() :].split(" #")[0].strip())


def _unclosed(bad: _Bad) -> tuple[str, str]:
    kind, closing = ("list", "]") if "array" in bad.message else ("entry in braces", "}")
    rest = bad.text[bad.column :].strip()
    if rest and not rest.startswith("#") and _open_brackets(bad.text) <= 0:
        return f"A comma is missing before {_short(rest)}", ""
    return f"This {kind} is never closed: {_short(bad.text)}", f"Put {closing} where it ends."


def _no_key(line: str) -> tuple[str, str]:
    if re.match(r"^\s*[\w .\"'-]+:(?!\d)", line):
        return f"There is a colon where = must stand: {_short(line)}", "Write: name = value"
    if line.lstrip().startswith("="):
        return f"Nothing stands before the = sign: {_short(line)}", "Write: name = value"
    if "=" in line:
        return f"What stands before the = sign is not one word: {_short(line)}", "Put it in quotes."
    return f"This line has no = sign: {_short(line)}", "Write: name = value. A remark starts with #."


def _bad_value(word: str) -> tuple[str, str]:
    if not word:
        return "Nothing stands after the = sign.", "Write a value there, or take the line out."
    if word.lower() in ("true", "false", "yes", "no", "on", "off"):
        return f"{word} is not understood.", "Write true or false in small letters, without quotes."
    if re.fullmatch(r"\d+,\d+", word):
        return f"{word} is not a number as it is written here.", f"Write it with a point: {word.replace(',', '.')}"
    if re.fullmatch(r"\d{4}-\d\d?-\d\d?", word):
        return f"{word} is not a date.", "Write year-month-day with two digits each, such as 2026-10-05."
    if word[0] in "\"'[{":
        return f"Something stands behind the end of: {_short(word)}", "Write one value after the = sign."
    return (
        f"{_short(word)} is neither a number nor text in quotes.",
        f'If it is text, put quotes around it: "{_short(word)}"',
    )


def _short(text: str) -> str:
    whole = clean(text.strip())
    return whole if len(whole) <= 60 else whole[:57] + "…"
