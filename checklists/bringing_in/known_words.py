"""The everyday words of ``words.toml``, and comparing with them."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

_ASIDE = re.compile(r"\([^)]*\)")
_APOSTROPHE = re.compile("['’‘`´]")
_NO_WORD = re.compile(r"[^\w#/]+|_+")


@cache
def known_words() -> dict[str, Any]:
    """The file as tables and lists."""
    return tomllib.loads((files("checklists.bringing_in") / "words.toml").read_text("utf-8"))


def folded(text: str) -> str:
    """Small letters, words apart by one space: "Rm. #" is "rm #", "New Year’s Day (no school)" "new years day"."""
    return _NO_WORD.sub(" ", _APOSTROPHE.sub("", _ASIDE.sub(" ", text)).casefold().replace("#", " # ")).strip()


def folded_whole(text: str) -> str:
    """The same with what stands in parentheses."""
    return folded(text.replace("(", " ").replace(")", " "))


def says_any(text: str, phrases: tuple[str, ...]) -> str:
    """The first of the phrases that stands in a folded text as whole words; empty: none."""
    padded = f" {text} "
    return next((each for each in phrases if f" {each} " in padded), "")
