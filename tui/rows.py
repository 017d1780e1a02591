"""A section's lines as the rows the list draws. A row is only text: what it says was decided before."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, NamedTuple

from checklists.daybook.line_states import LineState, has_now, is_critical, left_to_take
from checklists.daybook.marks import FETCH, LEAVE_AHEAD, Marks
from checklists.daybook.taking_out import say_take_out
from checklists.lines.records import Day, Line, TakeOut
from tui.sections import TO_DO, Section, Todo, names_of_visits, shelf_text
from tui.tally import Tally

Tone = Literal["plain", "critical", "quiet", "heading", "unsaved"]
RowKind = Literal["heading", "line", "todo", "matter", "fold", "text", "reading"]
"""``text`` is passed over, on a row of ``reading`` the cursor stands, so that a long page can be gone through."""

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


def line_row(line: Line, day: Day, marks: Marks, tally: Tally, unsaved: bool) -> Row:
    """One line of the list as a row. What only later visits need more of is marked so."""
    has, need, state = has_now(line, marks), line.need + line.ahead, tally.states[line.key]
    is_later = line.key in tally.to_fill
    is_done = state in ("packed", "met", "not needed") and not is_later
    missing = max(0, need - has)
    add = "" if is_done or state == "forbidden" else f"+{missing}" if missing else "look"
    level = marks.levels.get(line.supply)
    tone: Tone = "quiet" if is_done else "critical" if is_critical(line) and not is_later else "plain"
    gauge = {"not needed": "–", "forbidden": "×"}.get(state) or fill_sign(has, need)
    return Row(
        kind="line",
        key=line.key,
        name=line.name,
        mark=level if level in ("low", "out") else "",
        number=str(line.number),
        add=add,
        amount=f"{has} of {'~' if line.about else ''}{need}",
        shelf=shelf_text(line, day),
        visits=names_of_visits(line, day) if line.need or not line.later else f"later: {line.later[0]}",
        gauge=gauge,
        state="unsaved" if unsaved else "later" if is_later else STATE_WORDS[state],
        tone="unsaved" if unsaved else tone,
        critical=is_critical(line) and not is_later,
    )


def todo_row(todo: Todo, settled: bool, unsaved: bool, take_out: TakeOut | None, marks: Marks) -> Row:
    """One thing to do; of what is to be taken out, how many still are."""
    done, what = "fetched" if todo.key.startswith(FETCH) else "seen to", todo.what
    if todo.key.startswith(LEAVE_AHEAD):
        done = "there"
    if take_out is not None:
        done = "left in" if todo.key in marks.let_go else "out"
        what = say_take_out(take_out, left_to_take(take_out, marks) or take_out.count)
    tone: Tone = "quiet" if settled else "critical" if todo.critical else "plain"
    return Row(
        kind="todo",
        key=todo.key,
        name=f"{what} ({todo.detail})" if todo.detail else what,
        number=str(todo.number or ""),
        gauge=GAUGE[8] if settled else " ",
        state="unsaved" if unsaved else done if settled else "open",
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
        rows.append(line_row(line, day, marks, tally, line.key in unsaved))
    todos = [todo for todo in section.todos if todo.key not in folded]
    out = {each.key: each for each in day.take_out}
    if any(todo.key in out for todo in todos):
        rows.append(Row("heading", "heading take out", "Take out", tone="heading"))
    rows.extend(
        todo_row(todo, todo.key in tally.settled, todo.key in unsaved, out.get(todo.key), marks) for todo in todos
    )
    away = fold_text(section, tally, folded)
    if away:
        rows.append(Row("fold", FOLD, away, tone="quiet"))
    return rows


def fold_text(section: Section, tally: Tally, folded: frozenset[str]) -> str:
    """ "5 packed, 9 in it already"."""
    states = [tally.states[line.key] for line in section.lines if line.key in folded]
    seen_to = sum(todo.key in folded for todo in section.todos)
    done = "seen to" if section.key == TO_DO else "taken out"
    words: dict[LineState, str] = {"packed": "packed", "met": "in it already", "not needed": "not needed"}
    said = [f"{states.count(state)} {word}" for state, word in words.items() if state in states]
    return ", ".join([*said, f"{seen_to} {done}"] if seen_to else said)


def settled_keys(section: Section, tally: Tally) -> frozenset[str]:
    """What of a section can be folded away: nothing of it asks for hands or eyes."""
    lines = {line.key for line in section.lines if tally.states[line.key] in ("packed", "met", "not needed")}
    lines -= tally.to_fill
    return frozenset(lines | {todo.key for todo in section.todos if todo.key in tally.settled})


def first_open(rows: Iterable[Row], tally: Tally, *, critical: bool = False) -> int | None:
    """Index of the first row that still asks for hands, for later visits too unless only what is critical counts."""
    wanted = tally.critical_lines if critical else tally.open_lines | tally.to_fill
    for index, row in enumerate(rows):
        if row.key in wanted or (row.kind == "todo" and row.key not in tally.settled and row.critical >= critical):
            return index
    return None
