"""What was understood of something brought in, as text and as JSON: what is wrong first, then what it would do."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.bringing_in.bring_in import rows_behind
from checklists.bringing_in.understood import Does, RowRead, Understood
from checklists.pages.fields import Fields
from checklists.pages.plain import WIDTH, wrap
from checklists.problems import Problem
from checklists.words import join_words

SECTIONS: tuple[tuple[Does, str], ...] = (
    ("not understood", "Not understood"),
    ("not taken", "Not taken"),
    ("changes", "Changes"),
    ("adds", "New"),
    ("there already", "There already"),
)
"""In the order in which they ask to be looked at."""
TITLES = {"classes": "Classes", "timetable": "The timetable", "supplies": "Supplies", "days-off": "Days off"}
MOST_SHOWN = 40
"""Rows of a section on a page of text; the screen and the JSON have all."""


def understood_page(understood: Understood, source: str, done: tuple[str, ...] = ()) -> str:
    """What would happen or, with ``done``, what did."""
    rows = [f"{TITLES[understood.kind].upper()} FROM {source}", *wrap(f"{understood.counted}.")]
    rows += [row for note in understood.notes for row in wrap(note)]
    rows += [row for text in say_problems(understood) for row in wrap(text, first="! ", indent=2)]
    for does, title in SECTIONS:
        found = understood.those_that(does)
        if found:
            rows += ["", title.upper()]
            rows += [line for each in found[:MOST_SHOWN] for line in row_lines(each, understood)]
            if len(found) > MOST_SHOWN:
                rows.append(f"  and {len(found) - MOST_SHOWN:,} more")
    rows += ["", *(row for each in done or (say_what_next(understood),) for row in wrap(each))]
    return "\n".join(rows) + "\n"


def row_lines(row: RowRead, understood: Understood, width: int = WIDTH) -> list[str]:
    """A row of the page, wrapped."""
    return wrap(f"{say_place(row, understood)}  {say_row(row)}", first="  ", indent=4, width=width)


def say_place(row: RowRead, understood: Understood) -> str:
    """ "row 7", "event 7"."""
    return row.place.replace("row", "event") if understood.is_calendar else row.place


def say_row(row: RowRead) -> str:
    """What comes of a row; of one that was not understood what stood there, why, and what to write."""
    if row.does != "not understood":
        return f"{row.said} {row.to_do}".strip()
    stood = f"“{row.stood}”: " if row.stood else ""
    return f"{stood}{row.said} {row.to_do}".strip()


def say_problems(understood: Understood) -> Iterator[str]:
    """What would be wrong in the plan then, and which rows make it."""
    for problem in understood.problems[:MOST_SHOWN]:
        numbers = rows_behind(understood, problem)
        noun = "event" if understood.is_calendar else "row"
        which = f"{noun.capitalize()} {join_words(map(str, numbers))}: " if numbers else ""
        yield f"{which}{problem.entry}: {problem.what} {problem.to_do}".strip()


def say_what_next(understood: Understood) -> str:
    """What to do with what was understood, on the command line."""
    if understood.problems:
        return "It cannot be brought in so; nothing is changed. Correct it, or leave these rows out: --leave 7."
    if not understood.changes_anything:
        return "Nothing is to be changed."
    return "Nothing is changed yet. With --yes it is brought in."


# -------------------------------------------------------------------------------------------------------- as JSON


def understood_as_json(understood: Understood, source: str, done: tuple[str, ...]) -> Fields:
    """The page "bring-in".

    ``kind`` is what was brought in, ``source`` the file; ``understood`` counts it in words; ``rows`` have ``number
    column does said stood to_do``, where ``does`` is "adds", "changes", "there already", "not taken" or "not
    understood"; ``notes`` say how it was read; ``in_the_way`` is what would be wrong then, with ``rows what``;
    ``can_be_taken``; ``done`` whether it is in the plan now, ``did`` that in words.
    """
    return {
        "format": 1,
        "page": "bring-in",
        "kind": understood.kind,
        "source": source,
        "understood": understood.counted,
        "rows": [_row_fields(each) for each in understood.rows],
        "notes": list(understood.notes),
        "in_the_way": [_problem_fields(understood, each) for each in understood.problems],
        "can_be_taken": understood.can_be_taken,
        "done": bool(done),
        "did": list(done),
    }


def _row_fields(row: RowRead) -> Fields:
    return {
        "number": row.number,
        "column": row.column or None,
        "does": row.does,
        "said": row.said,
        "stood": row.stood,
        "to_do": row.to_do,
    }


def _problem_fields(understood: Understood, problem: Problem) -> Fields:
    what = f"{problem.entry}: {problem.what} {problem.to_do}".strip()
    return {"rows": list(rows_behind(understood, problem)), "what": what}
