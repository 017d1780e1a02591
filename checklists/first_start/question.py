"""One question of the first start, and what it makes of the text that was typed."""

from __future__ import annotations

from collections.abc import Callable, Generator
from typing import Any, Generic, NamedTuple, TypeVar

from msgspec import Struct

from checklists.words import clean

T = TypeVar("T")
LONGEST_TYPED = 400
NONE = ("none", "no", "-")
"""What is typed for: there is none."""


class NotTaken(Exception):  # noqa: N818 - read as a sentence where it is caught
    """What was typed is no answer; the text says why and how it is typed."""


class Option(NamedTuple):
    """One of a few answers: its digit or first letters choose it."""

    key: str
    label: str


class Question(Struct, Generic[T], frozen=True):
    """What is asked in her words, and what Enter alone takes. ``read`` gives the answer or raises NotTaken."""

    id: str
    topic: str
    """What the answer is called among the answers so far: "First day"."""
    text: str
    how: str
    """How it is typed, and what for."""
    default: str
    """What Enter alone takes, as it would be typed."""
    read: Callable[[str], T]
    say: Callable[[T], str] = str
    """The answer in words, as it was understood."""
    options: tuple[Option, ...] = ()
    keep: Callable[[T], str] | None = None
    """The answer as it is kept, where the text that was typed would mean something else on another day."""

    def understood(self, typed: str) -> T:
        """The answer; with nothing typed the default's. Raises NotTaken in words."""
        text = clean(typed).strip()
        if len(text) > LONGEST_TYPED:
            raise NotTaken(f"That is longer than {LONGEST_TYPED} letters.")
        return self.read(text or self.default)

    def say_default(self) -> str:
        """What Enter takes, in words."""
        return self.say(self.read(self.default))


Asking = Generator[Question[Any], Any, T]
"""Questions in order, each given its answer; what they come to at the end."""


def ask(question: Question[T]) -> Asking[T]:
    """Ask one question; its answer."""
    answer: T = yield question
    return answer


def option_typed(text: str, options: tuple[Option, ...]) -> Option:
    """The option of a digit, or the only one that begins with the letters typed. Raises NotTaken."""
    if text.isdecimal():
        if 1 <= int(text) <= len(options):
            return options[int(text) - 1]
        raise NotTaken(f"There are {len(options)}: a number from 1 to {len(options)}.")
    typed = text.casefold()
    exact = [each for each in options if typed in (each.key.casefold(), each.label.casefold())]
    found = exact or [each for each in options if each.label.casefold().startswith(typed)]
    found = found or [each for each in options if any(word.startswith(typed) for word in each.label.casefold().split())]
    if len(found) == 1:
        return found[0]
    if found:
        names = " or ".join(f"{options.index(each) + 1} {each.label}" for each in found[:3])
        raise NotTaken(f"One more letter, or the number: {names}.")
    raise NotTaken("None of them begins so: type its number or its first letters.")


def whole_number(text: str, least: int, most: int, what: str) -> int:
    """A number between two others, both included. Raises NotTaken."""
    if text.isdecimal() and len(text) < 6 and least <= int(text) <= most:
        return int(text)
    raise NotTaken(f"{what}: a number from {least} to {most}.")
