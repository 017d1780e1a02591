"""What a command and its options are, and the options that nearly every command takes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec import Struct

from checklists.commandline import values


class Option(Struct, frozen=True):
    """``read`` turns what was typed into the value of ``field``; None: the option takes nothing and means yes."""

    name: str
    field: str
    meaning: str
    example: str = ""
    """What to type behind it."""
    read: Callable[[str], Any] | None = None
    several: bool = False
    """It may be given more than once."""


class Command(Struct, frozen=True):
    name: str
    summary: str
    options: tuple[Option, ...] = ()
    examples: tuple[tuple[str, str], ...] = ()
    """What to type and what that does."""
    words: str = ""
    """What comes behind the command, in words; empty: nothing may."""
    most_words: int = 0
    least_words: int = 0


DATA = Option("--data", "folder", "the folder that plan and daybook are in", "my-school")
DATE = Option("--date", "date", "another day; tomorrow is the next day with visits", "2026-10-05", values.read_date)
AT = Option("--at", "at", "another time of day than the clock's", "7:40", values.read_minute)
JSON = Option("--json", "json", "for scripts: the same as JSON, with fields that stay as they are")
PRIVATE = Option("--private", "private", "with the reasons that tell of a child's need; not for a wall")
TEXT = Option("--text", "text", "print the list instead of opening the screen")
ALWAYS = (DATA, DATE, AT, JSON)
