"""Why a line, a task or a check is on the list, as plain text: the numbers, and the chain of facts in words."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.daybook.marks import Marks, has_now, state_of
from checklists.lines.records import Because, Check, Day, Line, Task
from checklists.pages.plain import wrap
from checklists.pages.reasons import Explained, reasons_of, say_forbidden
from checklists.words import join_words, plural, say_date


def why_line_page(line: Line, day: Day, marks: Marks, private: bool) -> str:
    """Where a line comes from and how its number was worked out."""
    container = next((each.name for each in day.containers if each.id == line.container), line.container)
    has = has_now(line, marks)
    need = f"about {line.need}" if line.about else str(line.need)
    parts = wrap(f"{line.number}  {need} {line.name}, in {container}", indent=4)
    add = max(0, line.need - has)
    parts += wrap(f"{has} in it, {add} to add; {state_of(line, marks)}", indent=4)
    marked = [
        "critical: without it the lesson cannot start or is unsafe" if line.critical else "",
        "counted out and back" if line.counted else "",
        f"for the catch-up kit of {line.catch_up_for}" if line.catch_up_for else "",
    ]
    parts += [row for each in marked if each for row in wrap(each, indent=4)]
    if line.forbidden:
        parts += wrap(say_forbidden(line, private), first="  # ", indent=4)
    return "\n".join([*parts, *_reasons(line, day, private)]) + "\n"


def why_other_page(thing: Task | Check, day: Day, private: bool) -> str:
    """Where a task or a check comes from. Its own words are left out where they tell of a child's need."""
    hidden = bool(thing.because) and not reasons_of(thing, private)
    what = "a private matter" if hidden else thing.what
    parts = wrap(f"{thing.number}  {what}", indent=4)
    if isinstance(thing, Task):
        parts += wrap(f"{plural(thing.minutes, 'minute')}, due {say_date(thing.due)}", indent=4)
    return "\n".join([*parts, *_reasons(thing, day, private)]) + "\n"


def _reasons(thing: Explained, day: Day, private: bool) -> list[str]:
    shown = reasons_of(thing, private)
    parts = [row for each in shown for row in _reason_rows(each, day)]
    hidden = len(thing.because) - len(shown)
    if hidden:
        parts += wrap(
            f"{plural(hidden, 'reason')} left out as private; --private shows the whole.", first="  - ", indent=4
        )
    return parts


def _reason_rows(because: Because, day: Day) -> list[str]:
    visits = _say_visits(because.visits, day)
    rows = wrap(because.text + (f" ({visits})" if visits else ""), first="  - ", indent=4)
    if because.rule:
        rows += wrap(f"rule: {because.rule_title or because.rule}", indent=6)
    if because.facts:
        rows += wrap(f"because {join_words(because.facts, 'and')}", indent=6)
    return rows


def _say_visits(keys: Iterable[str], day: Day) -> str:
    names = {visit.key: f"{visit.name} {visit.class_id}" for visit in day.visits}
    return join_words(names.get(key, key) for key in keys)
