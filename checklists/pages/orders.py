"""The lines of a day in three orders: by container, by shelf, by class. Plain text for 80 columns."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING

from checklists.daybook.line_states import LineState, has_now, is_critical, is_open, is_to_fill, left_to_take, state_of
from checklists.daybook.marks import Marks
from checklists.daybook.taking_out import say_take_out
from checklists.lines.records import GROUPS, Container, Day, Line, Visit
from checklists.pages.plain import WIDTH, pad, ruled, wrap
from checklists.pages.reasons import say_forbidden
from checklists.words import clock, join_words, plural, say_number, say_room

if TYPE_CHECKING:
    from checklists.route.departure import Departure, PackingGroup

SIGNS: dict[LineState, str] = {
    "open": "[ ]",
    "part packed": "[~]",
    "packed": "[x]",
    "met": "[=]",
    "short": "[?]",
    "not needed": "[-]",
    "forbidden": "[#]",
}
LATER = "[>]"
"""Today has enough of it; later visits, which the container is filled for, need more."""
_NAME_WIDTH, _PLACE_WIDTH = 26, 11


def by_container(day: Day, marks: Marks, private: bool, departure: Departure) -> list[str]:
    """As the containers leave the store: what goes now, then what waits for each later stop."""
    parts: list[str] = []
    for group in departure.groups:
        title = group.when.upper() if group.is_out else f"NOT YET: {group.when.upper()}"
        parts += ["", title] if group.when else []
        parts += _of_containers(in_order(day, group), day, marks, private)
    return parts


def in_order(day: Day, group: PackingGroup) -> list[Container]:
    """The containers of a stop, in the order they are wanted."""
    by_id = {each.id: each for each in day.containers}
    return [by_id[each] for each in group.containers]


def _of_containers(containers: list[Container], day: Day, marks: Marks, private: bool) -> list[str]:
    parts: list[str] = []
    for container in containers:
        lines = [line for line in day.lines if line.container == container.id]
        if not lines and container.kind == "cart":
            continue
        parts += ["", *_container_head(container, day, lines, marks)]
        groups = [group for group in GROUPS if any(line.group == group for line in lines)]
        for group in groups:
            parts.append(f"  {group}")
            for line in lines:
                if line.group == group:
                    parts += line_rows(line, day, marks, line.shelf, private)
        parts += take_out_rows(container, day, marks)
    return parts


def take_out_rows(container: Container, day: Day, marks: Marks) -> list[str]:
    """What is to come out of a container, behind its lines."""
    out = [each for each in day.take_out if each.container == container.id]
    if not out:
        return []
    rows = ["  Take out"]
    for each in out:
        left = left_to_take(each, marks)
        said = say_take_out(each, left) if left else f"{each.name}: {'left in' if each.key in marks.let_go else 'out'}"
        start = f"  {each.number:>4} {'[ ]' if left else '[x]'}  "
        rows += wrap(said, first=start, indent=len(start))
    return rows


def _container_head(container: Container, day: Day, lines: list[Line], marks: Marks) -> list[str]:
    about = [container.sign, f"shelf {container.shelf}" if container.shelf else ""]
    if container.kilograms is not None:
        about.append(f"{say_number(round(container.kilograms, 1))} kg")
    still = sum(is_open(line, marks) for line in lines)
    about.append(f"open {still}" if still else "done")
    parts = [ruled(f"{container.name.upper()}  {', '.join(each for each in about if each)}")]
    stands = marks.places.get(container.id)
    place, since = (stands.place, "today") if stands else (container.place, container.place_since)
    if place != "store":
        parts += wrap(f"stands in {say_room(place)}" + (f" since {since}" if since else ""), first=" !  ", indent=4)
    return parts


def by_shelf(day: Day, marks: Marks, private: bool) -> list[str]:
    names = {container.id: container.name for container in day.containers}
    wanted = [line for line in day.lines if _is_gathered(line, marks)]
    shelves = sorted({line.shelf for line in wanted}, key=lambda shelf: (not shelf, shelf))
    parts: list[str] = []
    for shelf in shelves:
        parts += ["", ruled(f"SHELF {shelf}" if shelf else "NO SHELF NOTED")]
        for line in wanted:
            if line.shelf == shelf:
                parts += line_rows(line, day, marks, names.get(line.container, line.container), private)
    rest = sum(is_open(line, marks) for line in day.lines if line not in wanted)
    if rest:
        more = f"{plural(rest, 'more open line')} {'needs' if rest == 1 else 'need'} nothing from a shelf,"
        parts += ["", f"{more} only to be seen in the container."]
    return parts


def _is_gathered(line: Line, marks: Marks) -> bool:
    """Whether some of it must be fetched from its shelf. What must not come along is not."""
    if is_to_fill(line, marks):
        return True
    return is_open(line, marks) and not line.forbidden and line.need + line.ahead > has_now(line, marks)


def by_class(day: Day, marks: Marks, private: bool) -> list[str]:
    names = {container.id: container.name for container in day.containers}
    parts: list[str] = []
    for visit in day.visits:
        lines = [line for line in day.lines if visit.key in line.visits]
        still = sum(is_open(line, marks) for line in lines)
        parts += [
            "",
            ruled(f"{visit.name}  {clock(visit.start)}  {visit.class_id}, {say_room(visit.room)}  open {still}"),
        ]
        for line in lines:
            parts += line_rows(line, day, marks, names.get(line.container, line.container), private)
    return parts


def line_rows(line: Line, day: Day, marks: Marks, place: str, private: bool) -> list[str]:
    """A line of the list: critical, number, sign, need, in it, to add, name, ``place``, visits."""
    state = state_of(line, marks)
    has = has_now(line, marks)
    missing = line.need + line.ahead - has
    add = missing if missing > 0 and state not in ("short", "not needed", "forbidden") else 0
    need = f"{'~' if line.about else ''}{line.need + line.ahead}"
    numbers = f"{need:>5} {f'has {has}' if has else '':>8} {f'+{add}' if add else '':>5}"
    sign = LATER if is_to_fill(line, marks) else SIGNS[state]
    start = f" {'!' if is_critical(line) else ' '}{line.number:>4} {sign}{numbers}  "
    name = line.name if not line.catch_up_for else f"{line.name} (missed it, {line.catch_up_for})"
    visits = _say_visits(line.visits, day.visits)
    columns = (name, _NAME_WIDTH), (place, _PLACE_WIDTH), (visits, WIDTH - len(start) - _NAME_WIDTH - _PLACE_WIDTH - 2)
    rows = zip_longest(*(wrap(text, width=width) for text, width in columns), fillvalue="")
    parts = [f"{pad(named, _NAME_WIDTH)} {pad(where, _PLACE_WIDTH)} {who}".rstrip() for named, where, who in rows]
    parts = [(" " * len(start) if at else start) + part for at, part in enumerate(parts)]
    remarks = [_remark(line, state, marks, private), _later(line), line.sets]
    return parts + [row for each in remarks if each for row in wrap(each, indent=len(start) + 2)]


def _later(line: Line) -> str:
    """Which later visits it is filled for."""
    if not line.ahead:
        return ""
    whom = join_words(line.later) or "later visits"
    return f"{line.ahead} for later, also {whom}" if line.need else f"for later: {whom}"


def _remark(line: Line, state: LineState, marks: Marks, private: bool) -> str:
    mark = marks.lines.get(line.key)
    if state == "forbidden":
        return say_forbidden(line, private)
    if mark is not None and mark.reason:
        return f"not needed: {mark.reason}"
    if mark is not None and mark.remedy:
        return f"short of {line.need}: {mark.remedy}"
    return ""


def _say_visits(keys: tuple[str, ...], visits: tuple[Visit, ...]) -> str:
    """ "V1 V3" of visit keys; "V1-V4" for three or more in a row; "all" for every one of several."""
    numbers = sorted(visit.number for visit in visits if visit.key in keys)
    if len(numbers) > 2 and len(numbers) == len(visits):
        return "all"
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    said = [f"V{run[0]}-V{run[-1]}" if len(run) > 2 else " ".join(f"V{each}" for each in run) for run in runs]
    return " ".join(said)
