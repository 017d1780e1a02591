"""A number of the rules as it is typed and as it is said: grades by their letters, everything else as digits."""

from __future__ import annotations

from typing import Literal

from msgspec import structs

from checklists.plan.records import grade_number
from checklists.rules.records import Setting
from checklists.rules.settings import is_grade, say_setting
from checklists.words import say_number

_LETTERS = {"k": "K", "pk": "PK"}


class CannotSet(ValueError):  # noqa: N818 - read as a sentence where it is caught
    """A number that cannot be; the message says what can."""


def said_number(setting: Setting, value: float) -> str:
    """A value of the setting as people write it: "0.2", "11", and for a grade "K"."""
    if is_grade(setting):
        return say_setting(structs.replace(setting, value=value))
    return say_number(value)


def said_range(setting: Setting) -> str:
    """ "a whole number from 0 to 20", "a grade from PK to 8"."""
    kind = "a grade" if is_grade(setting) else "a whole number" if setting.whole else "a number"
    return f"{kind} from {said_number(setting, setting.least)} to {said_number(setting, setting.most)}"


def written_number(setting: Setting, value: float) -> float | Literal["K", "PK"] | None:
    """What her file says for a value: nothing for the built-in one, letters for kindergarten, no needless digits."""
    if value == setting.builtin:
        return None
    if is_grade(setting) and value <= 0:
        return "K" if value == 0 else "PK"
    return int(value) if value == int(value) else value


def number_typed(text: str, setting: Setting) -> float:
    """The number that was typed for a setting. Raises CannotSet."""
    typed = text.strip().casefold()
    if is_grade(setting) and typed in _LETTERS:
        number = float(grade_number(_LETTERS[typed]))
    else:
        try:
            number = float(typed.replace(",", "."))
        except ValueError:
            number = float("nan")
    if not setting.least <= number <= setting.most or (setting.whole and number != int(number)):
        raise CannotSet(f'"{text.strip()}" cannot be: {said_range(setting)}.')
    return number
