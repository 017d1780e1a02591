"""Settings of the rules: the built-in ones, her own numbers in their place, and rules with the numbers put in.

A setting is named where a number stands: behind a comparison ("grade at most pin_grade"), in a number of an action
(count = "towels_a_child", days_before = "-kiln_school_days"), or in braces in a sentence ("{pin_grade}").
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path

from msgspec import Struct, convert
from msgspec.structs import replace

from checklists.plan.records import Spare, grade_number
from checklists.problems import Problem
from checklists.rules.conditions import Mistake, with_limit
from checklists.rules.records import ACTIONS, Action, Rule, Setting
from checklists.rules.vocabulary import ask_for_nearest, fill

_FILE = Path(__file__).parent / "builtin" / "settings.toml"
_GRADES = {-1: "PK", 0: "K"}
_NUMBER = re.compile(r"-?\d{1,6}(\.\d{1,6})?")

_NUMBERS: dict[str, tuple[float, float, bool]] = {
    "count": (0, 100_000, False),
    "plus": (0, 100_000, False),
    "each_holds": (0, 100_000, False),
    "times": (0, 100_000, False),
    "sets": (0, 100_000, False),
    "minutes": (0, 600, True),
    "minutes_each": (0, 600, False),
    "days_before": (-600, 600, True),
    "after_days": (0, 600, True),
    "not_before_days": (0, 600, True),
    "not_before_school_days": (0, 600, True),
    "not_after_days": (0, 600, True),
    "at_least": (0, 1_000_000, True),
    "percent": (0, 200, False),
}
"""Field of an action or a spare in which a setting may be named -> least, most, and whether it takes whole numbers."""


class _BuiltIn(Struct, frozen=True, forbid_unknown_fields=True):
    """A setting as ``builtin/settings.toml`` has it."""

    value: float
    meaning: str
    least: float = 0
    most: float = 100
    whole: bool = False
    source: str = "common practice, no source"


@lru_cache(maxsize=1)
def builtin_settings() -> tuple[Setting, ...]:
    """The settings that come with the program, in the order of their file."""
    read = convert(tomllib.loads(_FILE.read_text(encoding="utf-8")), dict[str, _BuiltIn])
    return tuple(
        Setting(name, each.value, each.value, each.meaning, each.least, each.most, each.whole, each.source)
        for name, each in read.items()
    )


def settings_with(own: Mapping[str, float | str], file: str) -> tuple[tuple[Setting, ...], tuple[Problem, ...]]:
    """The settings with her own numbers in place of the built-in ones; one that cannot be used stays as it was."""
    builtin = {each.name: each for each in builtin_settings()}
    settings = dict(builtin)
    problems: list[Problem] = []
    for name, value in own.items():
        setting = builtin.get(name)
        if setting is None:
            to_do = ask_for_nearest(name, builtin)
            problems.append(Problem(file, f"setting {name}", f'unknown setting "{name}"', to_do))
            continue
        number = float(grade_number(value)) if isinstance(value, str) else value
        if wrong := _wrong_value(setting, value, number):
            problems.append(
                Problem(file, f"setting {name}", wrong, f"Write {_said_range(setting)}. {setting.meaning}.")
            )
        else:
            settings[name] = replace(setting, value=number)
    return tuple(settings.values()), tuple(problems)


def _wrong_value(setting: Setting, value: float | str, number: float) -> str:
    if isinstance(value, str) and not is_grade(setting):
        return f'"{value}" is a grade, and this is a number; {say_setting(setting)} is used'
    if not setting.least <= number <= setting.most or (setting.whole and number != int(number)):
        return f"{number:g} cannot be; {say_setting(setting)} is used"
    return ""


def _said_range(setting: Setting) -> str:
    kind = "a grade" if is_grade(setting) else "a whole number" if setting.whole else "a number"
    return f"{kind} from {_said(setting, setting.least)} to {_said(setting, setting.most)}"


def is_grade(setting: Setting) -> bool:
    """Whether its number is a grade, told as grades are."""
    return setting.name.endswith("_grade")


def say_setting(setting: Setting) -> str:
    """Its value as it is told: "0.2", "11", and for a grade "K" or "4"."""
    return _said(setting, setting.value)


def _said(setting: Setting, value: float) -> str:
    return _GRADES.get(int(value), f"{value:g}") if is_grade(setting) else f"{value:g}"


# ------------------------------------------------------------------------------------------------- put into rules


def with_numbers(rule: Rule, settings: Mapping[str, Setting]) -> tuple[Rule, tuple[Mistake, ...]]:
    """The rule with a number in place of every name of a setting, and what is wrong with the names."""
    mistakes: list[Mistake] = []

    def value_of(name: str) -> str | None:
        return say_setting(settings[name]) if name in settings else None

    def told(sentence: str) -> str:
        return fill(sentence, lambda name: value_of(name) or f"{{{name}}}")

    changed: dict[str, object] = {"when": tuple(with_limit(each, value_of) for each in rule.when)}
    changed |= {name: told(getattr(rule, name)) for name in ("title", "because")}
    for kind in ACTIONS:
        changed[kind] = tuple(_numbered(action, settings, mistakes, told) for action in getattr(rule, kind))
    return replace(rule, **changed), tuple(mistakes)


def _numbered(
    record: Action | Spare, settings: Mapping[str, Setting], mistakes: list[Mistake], told: Callable[[str], str]
) -> Action | Spare:
    changed: dict[str, object] = {}
    for name in record.__struct_fields__:
        value = getattr(record, name)
        if isinstance(value, Spare):
            changed[name] = _numbered(value, settings, mistakes, told)
        elif name in _NUMBERS and isinstance(value, str):
            number, mistake = _number_for(name, value, settings)
            changed[name] = number
            mistakes.extend(mistake)
        elif name in ("what", "text", "why") and "{" in value:
            changed[name] = told(value)
    return replace(record, **changed) if changed else record


def _number_for(field: str, written: str, settings: Mapping[str, Setting]) -> tuple[float, tuple[Mistake, ...]]:
    """The number that a name stands for; 1 and the mistake where there is none."""
    least, most, whole = _NUMBERS[field]
    name = written.strip().removeprefix("-")
    if name in settings:
        number = -settings[name].value if written.strip().startswith("-") else settings[name].value
    elif _NUMBER.fullmatch(written.strip()):
        number = float(written)
    else:
        to_do = ask_for_nearest(name, settings) or "Write a number, or the name of a setting."
        return 1, (Mistake(f'unknown setting "{name}" as "{field}"', to_do),)
    if not least <= number <= most or (whole and number != int(number)):
        kind = "a whole number" if whole else "a number"
        what = f'"{field}" cannot be {number:g}' + (f', which "{name}" is' if name in settings else "")
        return 1, (Mistake(what, f"Write {kind} from {least:g} to {most:g}."),)
    return (int(number) if whole else number), ()
