"""What `trundle --help` says, from the table of commands."""

from __future__ import annotations

from checklists.commandline.commands import COMMANDS
from checklists.commandline.option import Command, Option
from checklists.pages.plain import wrap

_BEGIN = """\
Trundle gets your cart to every classroom with everything the lesson needs.

Type trundle alone for the day on the screen. The same without the screen:
"""
_END = """\
Examples
  trundle morning --by shelf          what to take from which shelf
  trundle tick 11 14                  lines 11 and 14 are packed
  trundle report V3 --missed 4,11     who was absent in the third visit
  trundle morning --help              more about one command

The exit status is 0 when all is well, 1 when something critical is open, and 2
when a file or what was typed is not right. Cautions are advice: local rules,
the nurse and the building's safety person decide.
"""


def help_for_all() -> str:
    """The overview of every command."""
    rows = [_row(f"trundle {each.name}", each.summary, 18) for each in COMMANDS]
    return "\n".join([_BEGIN, *rows, "", _END])


def help_for(command: Command) -> str:
    """Everything about one command: what comes behind it, its options, examples."""
    parts = [*wrap(f"trundle {command.name}: {command.summary}"), ""]
    if command.words:
        parts += [*wrap(f"Behind it type {command.words}."), ""]
    parts.append("Options")
    parts += [_row(_typed(each), each.meaning, 28) for each in command.options]
    if command.examples:
        parts += ["", "Examples"]
        for typed, does in command.examples:
            parts += [f"  {typed}", *wrap(does, indent=6)]
    return "\n".join([*parts, ""])


def _typed(option: Option) -> str:
    return f"{option.name} {option.example}".rstrip()


def _row(typed: str, meaning: str, width: int) -> str:
    if len(typed) > width:
        return "\n".join([f"  {typed}", *wrap(meaning, indent=width + 4)])
    return "\n".join(wrap(meaning, first=f"  {typed:<{width}}  ", indent=width + 4))
