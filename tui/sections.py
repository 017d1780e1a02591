"""The three orders of one list: by container, by shelf (the gathering walk), by class in time order."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import TYPE_CHECKING, Literal, NamedTuple

from checklists.daybook.fetching import to_fetch
from checklists.daybook.marks import Marks
from checklists.daybook.taking_out import say_take_out
from checklists.lines.records import GROUPS, Check, Container, Day, Decision, Line, TakeOut, Task
from checklists.pages.reasons import is_hidden
from checklists.words import clock, plural, say_date, say_room
from tui.tally import Counts, Tally
from tui.wording import visits_text

if TYPE_CHECKING:
    from checklists.route.departure import Departure

Order = Literal["container", "shelf", "class"]
ORDERS: tuple[Order, ...] = ("container", "shelf", "class")
TO_DO = "to do"
TO_DECIDE = "to decide"
TO_FETCH = "to fetch"
TO_LEAVE = "to leave ahead"
IN_THE_KIT = "in the kit"
PRIVATE = "a private matter; w shows it"


class Todo(NamedTuple):
    """A task, a check at the store, a carried matter, something to take out or to decide: seen to, or not.

    ``what`` is what anybody may read; ``is_hidden``: the words that tell of a child's need are on the why page.
    """

    key: str
    number: int
    what: str
    detail: str
    critical: bool
    is_hidden: bool = False


class Section(NamedTuple):
    """What stands together on the list: a container, a shelf or a class, and at the end what there is to do."""

    key: str
    name: str
    detail: str
    lines: tuple[Line, ...]
    todos: tuple[Todo, ...] = ()
    """What there is to do: in a container what is to be taken out of it."""
    when: str = ""
    """The later stop at the store that it leaves at, "after V4, lunch"; "": it goes now."""

    @property
    def keys(self) -> set[str]:
        return {line.key for line in self.lines} | {todo.key for todo in self.todos}

    def count_open(self, tally: Tally) -> Counts:
        """What is open of its lines and of what there is to do."""
        lines = tally.count_lines(self.lines)
        waiting = [todo for todo in self.todos if todo.key not in tally.settled]
        critical = lines.critical + sum(todo.critical for todo in waiting)
        return Counts(lines.open + len(waiting), critical, lines.short, lines.later)


def sections_of(day: Day, order: Order, departure: Departure) -> tuple[Section, ...]:
    """The day's lines in an order; empty sections are left out."""
    other = {"shelf": by_shelf, "class": by_class}
    made = by_container(day, departure) if order == "container" else other[order](day)
    decisions = tuple(Todo(each.key, 0, decision_text(each, day), "", each.stops) for each in day.decisions)
    if decisions:
        stops = any(each.stops for each in day.decisions)
        detail = "nothing is packed for it until you choose" if stops else "packed meanwhile as it was planned"
        made.insert(0, Section(TO_DECIDE, "To decide", detail, (), decisions))
    leaving = leave_todos(departure)
    if leaving:
        ahead = {each for trip in departure.to_leave for each in trip.containers}
        behind = (
            max((n for n, each in enumerate(made) if each.key in ahead), default=-1) if order == "container" else -1
        )
        detail = f"{departure.when or 'before you go'}, in this order"
        made.insert(behind + 1, Section(TO_LEAVE, "To leave ahead", detail, (), leaving))
    fetched = fetch_todos(day, departure)
    if fetched:
        made.insert(0, Section(TO_FETCH, "To fetch", "it is not at the store and needed today", (), fetched))
    todos = todos_of(day)
    if todos:
        made.append(Section(TO_DO, "To do", "tasks, checks at the store, what was carried over", (), todos))
    return tuple(section for section in made if section.lines or section.todos)


def by_container(day: Day, departure: Departure) -> list[Section]:
    """As the containers leave the store: what goes now, then what waits for each later stop."""
    made = []
    known = {container.id: container for container in day.containers}
    when = {each: group.when for group in departure.groups for each in group.containers}
    for container in (known[each] for each in when):
        lines = grouped(line for line in day.lines if line.container == container.id)
        out = tuple(take_out_todo(each) for each in day.take_out if each.container == container.id)
        made.append(
            Section(container.id, container.name, container_text(container), lines, out, when.get(container.id, ""))
        )
    homeless = tuple(line for line in day.lines if line.container not in known)
    out = tuple(take_out_todo(each) for each in day.take_out if each.container not in known)
    return [*made, Section("", "Elsewhere", "", homeless, out)]


def decision_text(decision: Decision, day: Day) -> str:
    """What must be decided, of which visit."""
    visit = next((f"{each.name} {each.class_id}: " for each in day.visits if each.key == decision.visit), "")
    return visit + decision.text


def take_out_todo(take_out: TakeOut) -> Todo:
    return Todo(take_out.key, take_out.number, say_take_out(take_out), "", False)


def grouped(lines: Iterable[Line]) -> tuple[Line, ...]:
    """By group, each class's catch-up kit together, then by number."""
    return tuple(sorted(lines, key=lambda line: (GROUPS.index(line.group), line.catch_up_for, line.number)))


def by_shelf(day: Day) -> list[Section]:
    shelves = sorted({line.shelf for line in day.lines}, key=lambda shelf: (not shelf, shelf))
    return [
        Section(f"shelf {shelf}", shelf or "elsewhere", "", grouped(line for line in day.lines if line.shelf == shelf))
        for shelf in shelves
    ]


def by_class(day: Day) -> list[Section]:
    return [
        Section(
            visit.key,
            visit.class_id,
            f"{visit.name}, {clock(visit.start)}, {say_room(visit.room)}, {students_text(visit.students, visit.about)}",
            grouped(line for line in day.lines if visit.key in line.visits),
        )
        for visit in day.visits
    ]


def students_text(students: int, about: bool) -> str:
    return f"{'about ' if about else ''}{plural(students, 'student')}"


def container_text(container: Container) -> str:
    """Sign, place and mass of a container in words."""
    said = [container.sign]
    if container.place != "store":
        since = f" since {container.place_since}" if container.place_since else ""
        said.append(f"stands in {say_room(container.place)}{since}")
    elif container.shelf:
        said.append(f"shelf {container.shelf}")
    if container.kilograms is not None:
        said.append(f"{container.kilograms:.1f} kg")
    return ", ".join(part for part in said if part)


def fetch_todos(day: Day, departure: Departure) -> tuple[Todo, ...]:
    """What was not at the store when the day opened and is needed: what cannot wait for a later stop is critical."""
    found = departure.to_fetch(day, Marks())
    return tuple(Todo(each.key, 0, each.words, each.detail, not each.waits) for each in found)


def leave_todos(departure: Departure) -> tuple[Todo, ...]:
    """What is to stand in a room before she leaves the store next."""
    return tuple(Todo(each.key, 0, each.words, "", True) for each in departure.to_leave)


def todos_of(day: Day) -> tuple[Todo, ...]:
    """What there is to do at the store today besides packing and fetching: carried matters, checks and tasks due."""
    fetched = {f"left/{each.container}" for each in to_fetch(day, Marks())}
    carried = [
        Todo(matter.key, 0, matter.what, f"since {say_date(matter.since)}" if matter.since < day.date else "", False)
        for matter in day.matters
        if matter.key not in fetched
    ]
    checks = [todo_of(check, check.what, "check") for check in day.checks if check.at == "store"]
    tasks = [todo_of(task, task.what, task_text(task, day.date)) for task in day.tasks if task.due <= day.date]
    return (*carried, *checks, *tasks)


def todo_of(thing: Task | Check, what: str, detail: str) -> Todo:
    """A task or a check as anybody may read it."""
    hidden = is_hidden(thing, private=False)
    return Todo(thing.key, thing.number, PRIVATE if hidden else what, detail, thing.critical, hidden)


def task_text(task: Task, today: date) -> str:
    """ "12 min, planning, 11:45, for Fri 9 Oct"."""
    said = [f"{task.minutes} min", task.place, "" if task.for_date == today else f"for {say_date(task.for_date)}"]
    return ", ".join(each for each in said if each)


def names_of_visits(line: Line, day: Day) -> str:
    """ "V3 V4", or "all" where every visit needs it."""
    wanted = [visit for visit in day.visits if visit.key in line.visits]
    return "all" if len(wanted) == len(day.visits) > 2 else visits_text(wanted)


def shelf_text(line: Line, day: Day) -> str:
    """Where a line is taken from; what lives in the kit it is needed in says so."""
    container = next((each for each in day.containers if each.id == line.container), None)
    is_own = container is not None and container.kind == "kit" and line.shelf.casefold() == container.name.casefold()
    return IN_THE_KIT if is_own else line.shelf
