"""The changeover of containers as plain text and as fields for scripts: take out, put in, leave."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checklists.daybook.changeover import Changeover, missing_of, say_changeover
from checklists.daybook.line_states import has_now, left_to_take
from checklists.daybook.marks import Marks
from checklists.lines.records import Day
from checklists.pages.fields import Fields, line_fields, take_out_fields
from checklists.pages.plain import ruled, wrap
from checklists.pages.reasons import say_forbidden
from checklists.words import join_words, say_date

Rows = tuple[str, tuple[str, ...]]
"""A heading and its rows in words."""


def changeover_rows(changeover: Changeover, marks: Marks, *, private: bool) -> tuple[Rows, ...]:
    """TAKE OUT, PUT IN and LEAVE of one container, each with its rows; a heading without rows says so."""
    return (
        ("TAKE OUT", tuple(_take_out(changeover, marks, private)) or ("nothing",)),
        ("PUT IN", tuple(_put_in(changeover, marks)) or ("nothing",)),
        ("LEAVE", tuple(_leave(changeover)) or ("nothing is in it that stays",)),
    )


def _take_out(changeover: Changeover, marks: Marks, private: bool) -> Iterator[str]:
    for line in changeover.forbidden:
        yield f"{line.number}  {has_now(line, marks)} {line.name}: {say_forbidden(line, private)}"
    for each in changeover.take_out:
        shelf = f" → shelf {each.shelf}" if each.shelf else ""
        yield f"{each.number}  {left_to_take(each, marks)} {each.name}{shelf}"


def _put_in(changeover: Changeover, marks: Marks) -> Iterator[str]:
    for line in changeover.put_in:
        kit = f", catch-up kit of {line.catch_up_for}" if line.catch_up_for else ""
        has = has_now(line, marks)
        inside = f" ({has} of {line.need + line.ahead} in it)" if has else ""
        later = f", also {join_words(line.later)}" if line.later else ""
        shelf = f" from shelf {line.shelf}" if line.shelf else ""
        yield f"{line.number}  {missing_of(line, marks)} {line.name}{shelf}{inside}{kit}{later}"


def _leave(changeover: Changeover) -> Iterator[str]:
    for each in changeover.leave:
        yield f"{each.count} {each.name}: {join_words(each.whom)}"


def changeover_page(day: Day, changeovers: Iterable[Changeover], marks: Marks, *, private: bool) -> str:
    """The changeovers of a day, container by container."""
    parts: list[str] = [f"Changeover for {say_date(day.date)}"]
    for each in changeovers:
        parts += ["", ruled(f"{each.name.upper()}  {say_changeover(each)}")]
        for heading, rows in changeover_rows(each, marks, private=private):
            parts += [f"  {heading}", *(row for said in rows for row in wrap(said, first="    ", indent=8))]
    if len(parts) == 1:
        parts += [
            "",
            "Nothing has to be taken out of any container.",
            "trundle changeover box-3 shows one all the same.",
        ]
    return "\n".join(parts) + "\n"


def changeover_fields(changeover: Changeover, marks: Marks, private: bool) -> Fields:
    """``container name take_out forbidden put_in leave``: ``leave`` has ``supply name count for`` (in words)."""
    return {
        "container": changeover.container,
        "name": changeover.name,
        "take_out": [take_out_fields(each, marks, private) for each in changeover.take_out],
        "forbidden": [line_fields(each, marks, private) for each in changeover.forbidden],
        "put_in": [line_fields(each, marks, private) for each in changeover.put_in],
        "leave": [
            {"supply": each.supply, "name": each.name, "count": each.count, "for": list(each.whom)}
            for each in changeover.leave
        ],
    }
