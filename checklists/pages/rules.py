"""Rules as plain text: by subject, one in full, what is off, the numbers they go by, and what a change does."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from checklists.own_rules.off import OffEntry, say_off
from checklists.own_rules.preview import Preview, say_preview
from checklists.own_rules.telling import RuleTold
from checklists.pages.plain import ruled, wrap
from checklists.rules.records import Rule, Setting
from checklists.rules.settings import say_setting
from checklists.words import plural

_WIDE = 30
"""Columns for an id before its title."""


def rules_page(subjects: Mapping[str, Sequence[Rule]], off: Iterable[OffEntry]) -> str:
    """Every rule on a row: whether it is on, its id and title. `+` is on, `-` off, `~` off for some."""
    partly = {each.entry.rule for each in off if not each.comes_off and not each.is_over}
    entirely = {
        each.entry.rule
        for each in off
        if not each.entry.class_id and not each.entry.lesson and not each.is_over and not each.comes_off
    }
    parts = ["+ on   - off   ~ off for a class or a lesson   ! a safety rule"]
    for subject, rules in subjects.items():
        parts += ["", ruled(subject)]
        if not rules:
            parts += wrap("You have made no rules. trundle rule --help shows how.", indent=2)
        for rule in rules:
            sign = "-" if not rule.on or rule.id in entirely else "~" if rule.id in partly else "+"
            first = f"{sign}{'!' if rule.safety else ' '} {rule.id:<{_WIDE}} "
            parts += wrap(rule.title, first=first, indent=_WIDE + 4)
    parts += ["", *wrap("trundle rules --why ID tells one in full.")]
    return "\n".join(parts) + "\n"


def rule_page(rule: RuleTold, off: Sequence[OffEntry]) -> str:
    """One rule in full."""
    kind = "your own rule" if rule.own else "comes with the program"
    marks = [kind, *(["safety rule"] if rule.safety else []), *([] if rule.on else ["comes switched off"])]
    parts = [*wrap(rule.title), *wrap(f"{rule.id} ({', '.join(marks)})", indent=2), ""]
    parts += wrap(rule.asks, first="Counts ", indent=7)
    parts += [row for each in rule.does for row in wrap(each, first="It     ", indent=7)]
    parts += wrap(rule.because, first="Why    ", indent=7)
    parts += wrap(rule.source, first="Source ", indent=7)
    if rule.private:
        parts += wrap("Its reason tells of a child's need; public pages never show it.", first="Shown  ", indent=7)
    parts += [row for each in off for row in wrap(say_off(each), first="Off    ", indent=7)]
    if rule.safety:
        parts += ["", *wrap("Advice only: local rules, the nurse and the building's safety person decide.")]
    return "\n".join(parts) + "\n"


def off_page(off: Iterable[OffEntry], hidden: int) -> str:
    """What she switched off, then what comes switched off."""
    every = list(off)
    hers = [each for each in every if not each.comes_off]
    parts = [ruled("Switched off by you")]
    parts += [row for each in hers for row in wrap(f"{each.entry.rule}: {say_off(each)}", first="- ", indent=2)]
    if not hers:
        parts += ["  nothing"]
    if hidden:
        parts += wrap(f"{plural(hidden, 'entry')} left out as private; --private shows all.", first="  ", indent=2)
    shipped = [each for each in every if each.comes_off]
    if shipped:
        parts += ["", ruled("Comes switched off")]
        parts += [row for each in shipped for row in wrap(f"{each.entry.rule}: {each.title}", first="- ", indent=2)]
    return "\n".join(parts) + "\n"


def settings_page(settings: Iterable[Setting]) -> str:
    """Each number with what it means; what it comes as where she changed it."""
    parts = [ruled("Numbers that rules go by")]
    for each in settings:
        builtin = Setting(each.name, each.builtin, each.builtin, each.meaning, each.least, each.most, each.whole)
        changed = f" (comes as {say_setting(builtin)})" if each.value != each.builtin else ""
        parts += wrap(
            f"{each.meaning}{changed}", first=f"{each.name:<{_WIDE}} {say_setting(each):>6}  ", indent=_WIDE + 9
        )
    parts += ["", *wrap("trundle set NAME NUMBER changes one; built-in as the number puts it back.")]
    return "\n".join(parts) + "\n"


def changed_rules_page(said: str, preview: Preview, *, private: bool) -> str:
    """What was done or would be, and what that changes in the coming two weeks."""
    rows = say_preview(preview, private=private)
    parts = [*wrap(said), ""]
    parts += [row for each in rows[:1] for row in wrap(each)]
    parts += [row for each in rows[1:] for row in wrap(each, first="  ", indent=4)]
    return "\n".join(parts) + "\n"
