"""Where a thing stands in a TOML text: text to a table from paths ("classes", 2, "students") to lines or to places.

For saying where a problem is, and for changing one thing of a text and nothing else. The text was read before by
tomllib, so nothing is judged here; where the scan does not understand a line it stops, and what comes after has no
place.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import suppress

from msgspec import Struct

TomlPath = tuple[str | int, ...]

_KEY = re.compile(r"""[ \t]*(?:"((?:[^"\\\n]|\\.)*)"|'([^'\n]*)'|([A-Za-z0-9_-]+))[ \t]*""")
_TEXT = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'',
    re.DOTALL,
)
_PLAIN = re.compile(r"[^,\]}#\n]*")
_SPACE = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")


def lines_of(text: str) -> dict[TomlPath, int]:
    """Line numbers, from 1, of every table, key and list element of a TOML text that tomllib has read."""
    return _Scan(text).lines()


class Places(Struct, frozen=True):
    """First sign and the sign after the last one, as places in the text.

    ``things``: a table from its heading to the last value in it, a key from its name to its value, a list element.
    ``values``: of a key only what stands behind the equals sign.
    """

    things: dict[TomlPath, tuple[int, int]]
    values: dict[TomlPath, tuple[int, int]]


def places_of(text: str) -> Places:
    """Places of every table, key and list element of a TOML text that tomllib has read."""
    return _Scan(text).places()


def line_at(lines: Mapping[TomlPath, int], path: TomlPath) -> int | None:
    """The line of ``path``, or of the nearest thing around it that is written down."""
    while path:
        if path in lines:
            return lines[path]
        path = path[:-1]
    return None


class _Lost(Exception):  # noqa: N818 - not an error of anybody
    """The scan does not understand what stands here."""


class _Scan:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found: dict[TomlPath, int] = {}
        self.things: dict[TomlPath, tuple[int, int]] = {}
        self.values: dict[TomlPath, tuple[int, int]] = {}
        self._counted_to = 0
        self._line = 1

    def lines(self) -> dict[TomlPath, int]:
        with suppress(_Lost, RecursionError):
            self._statements()
        return self.found

    def places(self) -> Places:
        with suppress(_Lost, RecursionError):
            self._statements()
        return Places(self.things, self.values)

    def _statements(self) -> None:
        table: TomlPath = ()
        lists: dict[TomlPath, int] = {}
        while self._skip_space():
            if self.text[self.at] == "[":
                table = self._header(lists)
            else:
                self._pair(table)

    def _header(self, lists: dict[TomlPath, int]) -> TomlPath:
        is_list = self.text.startswith("[[", self.at)
        line, start = self._line_here(), self.at
        self.at += 2 if is_list else 1
        path: TomlPath = ()
        keys = self._keys()
        for key in keys[:-1]:
            path += (key,)
            if path in lists:
                path += (lists[path] - 1,)
            self.found.setdefault(path, line)
        path += (keys[-1],)
        if is_list:
            self.found.setdefault(path, line)
            lists[path] = lists.get(path, 0) + 1
            path += (lists[path] - 1,)
        self.found.setdefault(path, line)
        self._expect("]]" if is_list else "]")
        self._stands(path, start)
        return path

    def _pair(self, table: TomlPath) -> None:
        line, start = self._line_here(), self.at
        path = table
        for key in self._keys():
            path += (key,)
            self.found.setdefault(path, line)
        self._expect("=")
        self._skip_space()
        value = self.at
        self._value(path)
        self.values[path] = value, self._end_of_value()
        self._stands(path, start)

    def _keys(self) -> list[str]:
        keys = []
        while True:
            key = _KEY.match(self.text, self.at)
            if key is None:
                raise _Lost
            keys.append(next(each for each in key.groups() if each is not None))
            self.at = key.end()
            if not self.text.startswith(".", self.at):
                return keys
            self.at += 1

    def _value(self, path: TomlPath) -> None:
        self._skip_space()
        start = self.text[self.at : self.at + 1]
        if start == "[":
            self._list(path)
        elif start == "{":
            self._inline_table(path)
        elif start in ("'", '"'):
            text = _TEXT.match(self.text, self.at)
            if text is None:
                raise _Lost
            self.at = text.end()
        elif plain := _PLAIN.match(self.text, self.at):
            self.at = plain.end()

    def _list(self, path: TomlPath) -> None:
        self.at += 1
        number = 0
        while self._skip_space() and self.text[self.at] != "]":
            here = (*path, number)
            self.found[here] = self._line_here()
            start = self.at
            self._value(here)
            self.things[here] = start, self._end_of_value()
            self._skip_space()
            if self.text.startswith(",", self.at):
                self.at += 1
            number += 1
        self._expect("]")

    def _inline_table(self, path: TomlPath) -> None:
        self.at += 1
        while self._skip_space() and self.text[self.at] != "}":
            self._pair(path)
            self._skip_space()
            if self.text.startswith(",", self.at):
                self.at += 1
        self._expect("}")

    def _skip_space(self) -> bool:
        """Go to the next sign that means something. False at the end of the text."""
        space = _SPACE.match(self.text, self.at)
        if space is not None:
            self.at = space.end()
        return self.at < len(self.text)

    def _end_of_value(self) -> int:
        """Where the value just read ends: white space behind it is not its own."""
        end = self.at
        while end and self.text[end - 1] in " \t\r\n":
            end -= 1
        return end

    def _stands(self, path: TomlPath, start: int) -> None:
        """What was just read stands from ``start`` to here, and every table around it reaches at least as far."""
        end = self._end_of_value()
        self.things.setdefault(path, (start, end))
        for depth in range(1, len(path) + 1):
            around = path[:depth]
            if around in self.things:
                self.things[around] = self.things[around][0], end

    def _expect(self, sign: str) -> None:
        if not self.text.startswith(sign, self.at):
            raise _Lost
        self.at += len(sign)

    def _line_here(self) -> int:
        self._line += self.text.count("\n", self._counted_to, self.at)
        self._counted_to = self.at
        return self._line
