"""A section's lines as the rows the list draws. A row is only text: what it says was decided before."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, NamedTuple

from checklists.daybook.marks import LineState, Marks, has_now, is_critical
from checklists.lines.records import Day, Line
from tui.sections import Section, Todo, names_of_visits, shelf_text
from tui.tally import Tally

Tone = Literal["plain", "critical", "quiet", "heading", "unsaved"]
RowKind = Literal["heading", "line", "todo", "matter", "fold", "text"]

STATE_WORDS: dict[LineState, str] = {
    "open": "open",
    "part packed": "part",
    "packed": "packed",
    "met": "in it",
    "short": "short",
    "not needed": "off",
    "forbidden": "stop",
}
GAUGE = " ▁▂▃▄▅▆▇█"
"""How full a line is, in eighths; nothing at all leaves the lowest bar away."""
FOLD = "folded"


class Row(NamedTuple):
    """One row of the list. ``add`` is what must still be put in, ``amount`` what is in it of what is needed."""

    kind: RowKind
    key: str
    name: str
    number: str = ""
    add: str = ""
    amount: str = ""
    shelf: str = ""
    visits: str = ""
    gauge: str = ""
    state: str = ""
    mark: str = ""
    """A word behind the name that must show however long the name is: "low"."""
    tone: Tone = "plain"
    critical: bool = False


def fill_sign(has: int, need: int) -> str:
    """How full a line is, in eighths."""
    return GAUGE[min(8, -(-8 * has // need)) if need else 8]


def line_row(line: Line, day: Day, marks: Marks, state: LineState, unsaved: bool) -> Row:
    """One line of the list as a row."""
    has = has_now(line, marks)
    is_done = state in ("packed", "met", "not needed")
    missing = max(0, line.need - has)
    add = "" if is_done or state == "forbidden" else f"+{missing}" if missing else "look"
    level = marks.levels.get(line.supply)
    tone: Tone = "quiet" if is_done else "critical" if is_critical(line) else "plain"
    gauge = {"not needed": "–", "forbidden": "×"}.get(state) or fill_sign(has, line.need)
    return Row(
        kind="line",
        key=line.key,
        name=line.name,
        mark=level if level in ("low", "out") else "",
        number=str(line.number),
        add=add,
        amount=f"{has} of {'~' if line.about else ''}{line.need}",
        shelf=shelf_text(line, day),
        visits=names_of_visits(line, day),
        gauge=gauge,
        state="unsaved" if unsaved else STATE_WORDS[state],
        tone="unsaved" if unsaved else tone,
        critical=is_critical(line),
    )


def todo_row(todo: Todo, settled: bool, unsaved: bool) -> Row:
    tone: Tone = "quiet" if settled else "critical" if todo.critical else "plain"
    return Row(
        kind="todo",
        key=todo.key,
        name=f"{todo.what} ({todo.detail})" if todo.detail else todo.what,
        number=str(todo.number or ""),
        gauge=GAUGE[8] if settled else " ",
        state="unsaved" if unsaved else "seen to" if settled else "open",
        tone="unsaved" if unsaved else tone,
        critical=todo.critical,
    )


def rows_of(
    section: Section, day: Day, marks: Marks, tally: Tally, folded: frozenset[str], unsaved: frozenset[str]
) -> list[Row]:
    """The rows of a section: headings by group, the lines under them, and one row for all that is folded away."""
    rows: list[Row] = []
    heading = ""
    for line in section.lines:
        if line.key in folded:
            continue
        title = f"{line.group} for {line.catch_up_for}" if line.catch_up_for else line.group
        if title != heading:
            heading = title
            row = Row("heading", f"heading {title}", title, tone="heading")
            rows.append(row if rows else row._replace(amount="in it", shelf="shelf", visits="for"))
        rows.append(line_row(line, day, marks, tally.states[line.key], line.key in unsaved))
    rows.extend(
        todo_row(todo, todo.key in tally.settled, todo.key in unsaved)
        for todo in section.todos
        if todo.key not in folded
    )
    away = fold_text(section, tally, folded)
    if away:
        rows.append(Row("fold", FOLD, away, tone="quiet"))
    return rows


def fold_text(section: Section, tally: Tally, folded: frozenset[str]) -> str:
    """ "5 packed, 9 in it already"."""
    states = [tally.states[line.key] for line in section.lines if line.key in folded]
    seen_to = sum(todo.key in folded for todo in section.todos)
    words: dict[LineState, str] = {"packed": "packed", "met": "in it already", "not needed": "not needed"}
    said = [f"{states.count(state)} {word}" for state, word in words.items() if state in states]
    return ", ".join([*said, f"{seen_to} seen to"] if seen_to else said)


def settled_keys(section: Section, tally: Tally) -> frozenset[str]:
    """What of a section can be folded away: nothing of it asks for hands or eyes."""
    lines = {line.key for line in section.lines if tally.states[line.key] in ("packed", "met", "not needed")}
    return frozenset(lines | {todo.key for todo in section.todos if todo.key in tally.settled})


def first_open(rows: Iterable[Row], tally: Tally, *, critical: bool = False) -> int | None:
    """Index of the first row that still asks for hands."""
    wanted = tally.critical_lines if critical else tally.open_lines
    for index, row in enumerate(rows):
        if row.key in wanted or (row.kind == "todo" and row.key not in tally.settled and row.critical >= critical):
            return index
    return None
