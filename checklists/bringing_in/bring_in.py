"""From the bytes of a file, or of what was pasted, to what was understood of them and to the plan as it would be."""

from __future__ import annotations

from datetime import date

from msgspec import structs

from checklists.bringing_in.calendar_file import is_calendar, read_events
from checklists.bringing_in.classes import bring_in_classes
from checklists.bringing_in.days_off import bring_in_days_off, bring_in_events
from checklists.bringing_in.decoding import Decoded, read_text
from checklists.bringing_in.supplies import bring_in_supplies
from checklists.bringing_in.table import MOST_ROWS, Table, read_table
from checklists.bringing_in.timetable import bring_in_timetable
from checklists.bringing_in.understood import Kind, Rows, Understood
from checklists.files.found_tables import MOST_BYTES
from checklists.files.plan_check import problems_in
from checklists.plan.plan_files import PlanFiles
from checklists.problems import Problem
from checklists.rules.read import builtin_supplies
from checklists.rules.records import RuleFile

_ZIP = b"PK\x03\x04"
_OLD_SHEET = b"\xd0\xcf\x11\xe0"
_PDF = b"%PDF"
_NO_TEXT = {
    _ZIP: "This is a spreadsheet or another packed file, not text. Save it as CSV, or copy its cells and paste them.",
    _OLD_SHEET: "This is a spreadsheet, not text. Save it as CSV, or copy its cells and paste them.",
    _PDF: "This is a PDF, not text. Open it, copy the rows and paste them.",
}
NO_RULES = RuleFile()


def bring_in(
    kind: Kind,
    content: bytes | str,
    files: PlanFiles,
    on: date,
    *,
    take: frozenset[int] = frozenset(),
    leave: frozenset[int] = frozenset(),
    own_rules: RuleFile = NO_RULES,
) -> Understood:
    """What was understood. Never raises, and changes nothing.

    ``on`` is the day on which what is counted was counted. Rows, or events of a calendar, whose numbers are in
    ``take`` are taken though they do not look it; those in ``leave`` are left out.
    """
    refused = _why_no_text(content)
    decoded = Decoded("") if refused else Decoded(content) if isinstance(content, str) else read_text(bytes(content))
    if refused or not decoded.text.strip("\ufeff \t\r\n\0"):
        return Understood(kind, files, (), (refused or "There is nothing in it.",))
    rows = Rows(leave, take)
    if is_calendar(decoded.text.lstrip("\ufeff")):
        if kind != "days-off":
            return Understood(kind, files, (), ("This is a calendar: bring it in as days off.",), is_calendar=True)
        read = read_events(decoded.text.lstrip("\ufeff"))
        return _checked(bring_in_events(read, files, rows), _say_encoding(decoded), files, own_rules)
    table = read_table(decoded.text)
    notes = (*_say_encoding(decoded), *_say_table(table))
    if kind == "classes":
        understood = bring_in_classes(table, files, rows)
    elif kind == "timetable":
        understood = bring_in_timetable(table, files, rows)
    elif kind == "supplies":
        understood = bring_in_supplies(table, files, rows, builtin_supplies(), on)
    else:
        understood = bring_in_days_off(table, files, rows)
    return _checked(understood, notes, files, own_rules)


def _why_no_text(content: bytes | str) -> str:
    if len(content) > MOST_BYTES:
        return "It is far too large for a list of a school."
    beginning = content[:4] if isinstance(content, bytes) else b""
    return next((why for mark, why in _NO_TEXT.items() if beginning.startswith(mark)), "")


def _say_encoding(decoded: Decoded) -> tuple[str, ...]:
    if not decoded.guessed:
        return ()
    look = f" Look whether “{decoded.example}” is right." if decoded.example else ""
    return (f"The file does not say how it is written: it was read as {decoded.guessed}.{look}",)


def _say_table(table: Table) -> tuple[str, ...]:
    notes = []
    if table.open_quote:
        notes.append(f"A quotation mark in row {table.open_quote} is not closed: every line was read by itself.")
    if table.left_out:
        notes.append(f"Only the first {MOST_ROWS:,} rows were read; {table.left_out:,} more are left out.")
    return tuple(notes)


def _checked(understood: Understood, notes: tuple[str, ...], before: PlanFiles, own_rules: RuleFile) -> Understood:
    """The same with what would be wrong in the plan then."""
    problems: tuple[Problem, ...] = ()
    if understood.files != before:
        found = problems_in(understood.files, own_rules)
        problems = tuple(each for each in found if each.level == "grave")
    return structs.replace(understood, notes=(*understood.notes, *notes), problems=problems)


def rows_behind(understood: Understood, problem: Problem) -> tuple[int, ...]:
    """Numbers of the rows that make a problem; () where none does by itself."""
    named = (each for each in understood.rows if each.entry and f"{problem.entry},".startswith(f"{each.entry},"))
    return tuple(dict.fromkeys(each.number for each in named))
