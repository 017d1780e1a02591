"""A class as the rows its screen draws: what it avoids and needs, how many it is, and what is so only today."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal, NamedTuple, get_args

from rich.cells import cell_len

from checklists.daybook.class_list import say_size
from checklists.lines.records import Visit
from checklists.pages.known_class import count_private, name_of_supply
from checklists.plan.class_notes import Known, last_number
from checklists.plan.records import Need, Plan, SchoolClass
from checklists.words import clock, join_words, plural, say_room
from tui.columns import fit
from tui.rows import Row

Topic = Literal["avoid", "need", "size", "left", "join", "adults", "place", "has", "adults today", "size today"]
TOPICS: tuple[Topic, ...] = get_args(Topic)
AVOIDED, NEEDED = "avoided ", "needed "
"""How the keys of what can be taken away begin; the word of the file follows."""
NAME_CELLS = 20
LEAST_CLASS_CELLS, MOST_CLASS_CELLS = 6, 12


class Today(NamedTuple):
    """What is so on one date only; None where the class is not visited then."""

    date: str
    adults: int
    students: int


def class_rows(
    plan: Plan, each: SchoolClass, place: str, today: Today | None, letters: Mapping[Topic, str]
) -> list[Row]:
    """Everything that can be noted of a class, and what is noted. ``place``: which part of its lesson is next."""

    def row(topic: Topic, name: str, value: str) -> Row:
        return Row("matter", topic, told(name, value), number=letters[topic])

    rows = [Row("heading", "heading private", "Private", tone="heading")]
    rows.append(row("avoid", "avoids", "one more thing" if each.avoid else "nothing so far"))
    rows += [Row("matter", f"{AVOIDED}{word}", told("", name_of_supply(plan, word))) for word in each.avoid]
    rows.append(row("need", "needs", "one more need" if each.needs else "nothing so far"))
    rows += [Row("matter", f"{NEEDED}{need.need}", told("", need_text(need))) for need in each.needs]
    rows.append(Row("heading", "heading class", "The class", tone="heading"))
    rows.append(row("size", "children", f"{'about ' if each.is_about else ''}{each.headcount}"))
    rows.append(row("left", "left", numbers_text(each.left)))
    rows.append(row("join", "new child", f"gets number {last_number(each) + 1}"))
    rows.append(row("adults", "adults in the room", f"{each.adults}, you among them"))
    rows.append(row("place", "comes next", place))
    own = join_words(name_of_supply(plan, word) for word in each.has)
    rows.append(row("has", "has of its own", own or "nothing so far"))
    if today is not None:
        rows.append(Row("heading", "heading today", f"On {today.date} only", tone="heading"))
        rows.append(row("adults today", "adults in the room", str(today.adults)))
        rows.append(row("size today", "children", str(today.students)))
    return rows


def told(name: str, value: str) -> str:
    return f"{fit(name, NAME_CELLS)}{value}"


def need_text(need: Need) -> str:
    """ "fine motor: 2 children, table 3"."""
    tables = join_words(str(table) for table in need.tables)
    where = f", {'table' if len(need.tables) == 1 else 'tables'} {tables}" if tables else ""
    return f"{need.need.replace('-', ' ')}: {plural(need.count, 'child')}{where}"


def numbers_text(left: tuple[int, ...]) -> str:
    """ "numbers 7 and 12"."""
    if not left:
        return "nobody"
    return f"{'number' if len(left) == 1 else 'numbers'} {join_words(str(number) for number in left)}"


def rows_of_classes(plan: Plan, visits: Iterable[Visit], typed: str) -> list[Row]:
    """The classes, those visited on the day first and in time order; narrowed by the first signs of their ids."""
    times: dict[str, str] = {}
    for visit in visits:
        times.setdefault(visit.class_id, f"{visit.name} {clock(visit.start)}")
    shown = [each for each in plan.classes if bare(each.id).startswith(bare(typed))]
    by_id = {each.id: each for each in shown}
    today = [by_id[ident] for ident in times if ident in by_id]
    others = [each for each in shown if each.id not in times]
    rows, cells = [], class_cells(each.id for each in shown)
    for title, classes in (("Today", today), ("Other classes", others)):
        if classes:
            rows.append(Row("heading", f"heading {title}", title, tone="heading"))
        rows += [Row("matter", each.id, class_text(each, cells), state=times.get(each.id, "")) for each in classes]
    return rows


def class_cells(names: Iterable[str]) -> int:
    """Cells for the names of classes: of 3-B as of 2-Okafor, so that none is cut or runs into what follows."""
    return min(MOST_CLASS_CELLS, max([LEAST_CLASS_CELLS, *(cell_len(each) for each in names)]))


def class_text(each: SchoolClass, cells: int) -> str:
    """A class in one line, without anything private but that there is something."""
    private = count_private(each)
    notes = f", {plural(private, 'private note')}" if private else ""
    return f"{fit(each.id, cells)}  {say_room(each.room)}, {say_size(each)}{notes}"


def bare(ident: str) -> str:
    """An id as somebody types it in a hurry: "2-R" is "2r"."""
    return "".join(sign for sign in ident.casefold() if sign.isalnum())


def rows_of_known(known: Iterable[Known], noted: Iterable[str], state: str) -> list[Row]:
    """Things to choose from; what is noted already says so."""
    there = set(noted)
    return [
        Row(
            "matter",
            each.word,
            told(each.name, each.meaning) if each.meaning and each.meaning != each.name else each.name,
            state=state if each.word in there else "",
        )
        for each in known
    ]
