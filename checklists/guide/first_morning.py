"""The steps of the first morning, each a title and a text in which keys stand out."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from msgspec import Struct, convert

_FILE = Path(__file__).with_name("first_morning.toml")
_BLANK = re.compile(r"\{([^{}]+)\}")
PAGE = "page "
TITLE = "The first morning, step by step"


class GuideKey(Struct, frozen=True, forbid_unknown_fields=True):
    """A key of the program: its table and action, how it is shown, and what it is said to mean."""

    table: str
    action: str
    shown: str
    means: str


class _Step(Struct, frozen=True, forbid_unknown_fields=True):
    title: str
    text: str


class GuideFile(Struct, frozen=True, forbid_unknown_fields=True):
    """The file as it stands."""

    keys: dict[str, GuideKey]
    pages: dict[str, str]
    """Name -> the beginning of what the page is called behind Tab."""
    steps: tuple[_Step, ...]


class Piece(NamedTuple):
    """Some words of a text; whether they are a key or the name of a page."""

    text: str
    stands_out: bool


class Step(Struct, frozen=True):
    title: tuple[Piece, ...]
    text: tuple[Piece, ...]


@lru_cache(maxsize=1)
def guide_file() -> GuideFile:
    return convert(tomllib.loads(_FILE.read_text(encoding="utf-8")), GuideFile)


def first_morning() -> tuple[Step, ...]:
    """Every step in order."""
    file = guide_file()
    return tuple(Step(_pieces(each.title, file), _pieces(each.text, file)) for each in file.steps)


def plain(pieces: tuple[Piece, ...]) -> str:
    return "".join(each.text for each in pieces)


def _pieces(text: str, file: GuideFile) -> tuple[Piece, ...]:
    """The text in pieces. Raises KeyError where it names a key or a page that the file does not have."""
    split = _BLANK.split(text)
    pieces = [Piece(_named(part, file), True) if n % 2 else Piece(part, False) for n, part in enumerate(split)]
    return tuple(each for each in pieces if each.text)


def _named(name: str, file: GuideFile) -> str:
    """ "[Enter]" of a key, “The cart sheet” of a page: told from the words around it in print too."""
    if name.startswith(PAGE):
        return f"“{file.pages[name.removeprefix(PAGE)]}”"
    return f"[{file.keys[name].shown}]"
