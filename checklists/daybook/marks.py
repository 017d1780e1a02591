"""What the entries of a day amount to: the newest word on each line, visit, container and matter."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from typing import Literal

from msgspec import Struct, field, structs

from checklists.daybook import entries as book
from checklists.daybook.loans import Move, moved, moves_of
from checklists.daybook.state import Carried
from checklists.lines.containers import catch_up_kit_of
from checklists.lines.pails import in_pail
from checklists.lines.records import Day, Line, Matter, TakeOut, Task, Visit

AT_STORE = "store"
FETCH = "fetch/"
"""How the key of a container to fetch begins."""
ORDER = "order/"
"""How the key of an order begins; the supply's id comes behind it."""
LineState = Literal["open", "part packed", "packed", "met", "short", "not needed", "forbidden"]
"""``met``: the container holds enough, the line asks only to be seen. ``forbidden`` blocks until it is taken out."""


class Short(Struct, frozen=True):
    """That a line came up short: when, how few there are; how many were thought to be in it by a word of the day."""

    at: datetime
    count: int
    thought: int | None = None
    thought_at: datetime | None = None


class Mark(Struct, frozen=True):
    """The newest word on a line: how many are in the container now, and what she does where that is not enough."""

    at: datetime
    count: int | None = None
    remedy: str = ""
    reason: str = ""
    went_with: int | None = None
    """How many she had said when a later look into the container found another number; None without such a look."""
    short: Short | None = None
    """How the line came up short, where she has said what she does about it."""
    counted_at: datetime | None = None
    """When the count was said, where that was before the newest word."""

    @property
    def count_at(self) -> datetime:
        """The moment the count is of."""
        return self.counted_at or self.at


class Marks(Struct):
    """The newest word on everything of a day. Built once by ``marks_of`` and read from then on."""

    lines: dict[str, Mark] = field(default_factory=dict)
    seen_to: dict[str, datetime] = field(default_factory=dict)
    """Tasks, checks and carried matters that were ticked."""
    levels: dict[str, book.StoreLevel] = field(default_factory=dict)
    orders: list[book.Ordered | book.Delivered | book.LetGo] = field(default_factory=list)
    """What was ordered, what came and which orders were dropped, in the order it was said."""
    was_out: set[str] = field(default_factory=set)
    """Supplies of which none was on the shelf when packs of them came."""
    counted: dict[str, int] = field(default_factory=dict)
    contents: dict[tuple[str, str], int] = field(default_factory=dict)
    contents_at: dict[tuple[str, str], datetime] = field(default_factory=dict)
    """When it was said how many of a supply are in a container."""
    taken_out: dict[tuple[str, str], int] = field(default_factory=dict)
    """Container and supply -> how many were taken out of it today, in all."""
    reports: dict[str, book.Reported] = field(default_factory=dict)
    sharps: dict[tuple[str, str], book.CountedSharps] = field(default_factory=dict)
    late_counts: dict[tuple[date, str, str], book.CountedSharps] = field(default_factory=dict)
    """Counts of earlier days' visits: date, visit, supply."""
    looked_at: dict[str, datetime] = field(default_factory=dict)
    """When a supply, or "container/supply", was last counted: what was used before is no longer to be taken off."""
    handed_out: dict[str, bool] = field(default_factory=dict)
    put_right: dict[str, bool] = field(default_factory=dict)
    places: dict[str, book.Stands] = field(default_factory=dict)
    let_go: dict[str, str] = field(default_factory=dict)
    carried_over: dict[str, book.CarriedOver] = field(default_factory=dict)
    reported_cases: dict[str, book.ReportedMissing] = field(default_factory=dict)
    closed_cases: dict[str, book.ClosedCase] = field(default_factory=dict)
    found_some: dict[str, list[book.ClosedCase]] = field(default_factory=dict)
    """Case -> what was found of it while the others are still missing."""
    count_later: dict[tuple[str, str], book.CountLater] = field(default_factory=dict)
    """Visit and supply that could not be counted back yet."""
    loans: list[book.Lent | book.GivenBack] = field(default_factory=list)
    """What was lent and what came back, in the order it was said."""
    testing: list[book.Testing] = field(default_factory=list)
    left: book.LeftStore | None = None
    changes: book.Changed | None = None
    sized: dict[str, book.Sized] = field(default_factory=dict)
    """Classes that have another number of children from now on."""
    children: list[book.AboutChildren] = field(default_factory=list)
    """Everything said of single children and their work, in order."""


def marks_of(entries: Iterable[book.AnyEntry]) -> Marks:
    """Fold the entries of one day, oldest first; of two words on one thing the later one stands."""
    marks = Marks()
    for entry in entries:
        add_to(marks, entry)
    return marks


def add_to(marks: Marks, entry: book.AnyEntry) -> None:
    """Take one more entry into ``marks``."""
    match entry:
        case book.Packed():
            marks.lines[entry.line] = Mark(entry.at, count=entry.count)
        case book.CameUpShort():
            where = _place_of(entry.line)
            short = Short(entry.at, entry.count, marks.contents.get(where), marks.contents_at.get(where))
            marks.lines[entry.line] = Mark(entry.at, count=entry.count, remedy=entry.remedy, short=short)
        case book.NotNeeded():
            before = marks.lines.get(entry.line)
            count, said = (before.count, before.count_at) if before else (None, None)
            marks.lines[entry.line] = Mark(entry.at, count=count, reason=entry.reason, counted_at=said)
        case book.Ticked():
            marks.seen_to[entry.matter] = entry.at
            marks.let_go.pop(entry.matter, None)
            marks.carried_over.pop(entry.matter, None)
        case book.FoundLevel():
            marks.levels[entry.supply] = entry.level
        case book.Ordered():
            marks.orders.append(entry)
        case book.Delivered():
            marks.orders.append(entry)
            if entry.packs and marks.levels.pop(entry.supply, "") == "out":
                marks.was_out.add(entry.supply)
        case book.CountedStock():
            marks.counted[entry.supply] = entry.count
            marks.looked_at[entry.supply] = entry.at
            if entry.count and marks.levels.get(entry.supply) == "out":
                del marks.levels[entry.supply]
        case book.FoundInContainer():
            marks.contents[entry.container, entry.supply] = entry.count
            marks.contents_at[entry.container, entry.supply] = entry.at
            marks.looked_at[f"{entry.container}/{entry.supply}"] = entry.at
            _recount(marks, entry)
        case book.TakenOut():
            what = entry.container, entry.supply
            marks.contents[what] = entry.left
            marks.contents_at[what] = entry.at
            marks.taken_out[what] = marks.taken_out.get(what, 0) + entry.count
            _take_out(marks, entry)
        case book.Reported():
            marks.reports[entry.visit] = entry
        case book.CountedSharps(on=None):
            marks.sharps[entry.visit, entry.supply] = entry
            marks.count_later.pop((entry.visit, entry.supply), None)
        case book.CountedSharps(on=day) if day is not None:
            marks.late_counts[day, entry.visit, entry.supply] = entry
        case book.CountLater():
            marks.count_later[entry.visit, entry.supply] = entry
            marks.sharps.pop((entry.visit, entry.supply), None)
        case book.Lent() | book.GivenBack():
            marks.loans.append(entry)
        case book.HandedOut():
            marks.handed_out[entry.visit] = entry.given
        case book.PutRight():
            marks.put_right[entry.container] = entry.done
        case book.Stands():
            marks.places[entry.container] = entry
        case book.LetGo():
            marks.let_go[entry.matter] = entry.reason
            if entry.matter.startswith(ORDER):
                marks.orders.append(entry)
            marks.seen_to.pop(entry.matter, None)
            marks.carried_over.pop(entry.matter, None)
        case book.CarriedOver():
            marks.carried_over[entry.matter] = entry
            marks.seen_to.pop(entry.matter, None)
            marks.let_go.pop(entry.matter, None)
        case book.ReportedMissing():
            marks.reported_cases[entry.case] = entry
        case book.ClosedCase(count=None):
            marks.closed_cases[entry.case] = entry
        case book.ClosedCase():
            marks.found_some.setdefault(entry.case, []).append(entry)
        case book.LeftStore():
            marks.left = entry
        case book.Testing():
            marks.testing.append(entry)
        case book.Changed():
            marks.changes = merge_changes(marks.changes, entry)
        case book.Sized():
            marks.sized[entry.class_id] = entry
        case book.Joined() | book.Left() | book.Excused() | book.Broken() | book.WorkAway():
            marks.children.append(entry)


def _recount(marks: Marks, found: book.FoundInContainer) -> None:
    """What she found is newer than what she packed; a remedy stands as long as no more are there than it was for."""
    line = f"{found.container}/{found.supply}"
    for pail in [each for each in marks.lines if each.startswith(f"{line}/pail ")]:
        del marks.lines[pail]  # what she counted is of all pails together
    for key, mark in marks.lines.items():
        if _place_of(key) == (found.container, found.supply) and mark.count is not None:
            remedy = mark.remedy if found.count <= mark.count else ""
            said = mark.count if mark.went_with is None else mark.went_with
            new = structs.replace(mark, at=found.at, count=found.count, remedy=remedy, went_with=said, counted_at=None)
            marks.lines[key] = new


def _take_out(marks: Marks, taken: book.TakenOut) -> None:
    """What was packed before is out again; a line it was packed for asks anew."""
    for key, mark in marks.lines.items():
        if _place_of(key) == (taken.container, taken.supply) and mark.count is not None:
            marks.lines[key] = structs.replace(mark, at=taken.at, count=taken.left, counted_at=None)


def _place_of(line: str) -> tuple[str, str]:
    """Under which container, and supply, what is packed of a line is kept, by the line's key."""
    container, _, rest = line.partition("/")
    supply, _, catch_up_kit = rest.partition("/")
    return catch_up_kit or container, supply


def merge_changes(before: book.Changed | None, after: book.Changed) -> book.Changed:
    """The day's changes so far with a further one: what the later one leaves open stays as it was said before."""
    if before is None:
        return after
    said = {name: value for name, value in structs.asdict(after).items() if value is not None}
    for name, value in said.items():
        if isinstance(value, dict):  # of each class, or visit, the newest word
            said[name] = (getattr(before, name) or {}) | value
    return structs.replace(before, **said)


def changes_of(entries: Iterable[book.AnyEntry]) -> book.Changed | None:
    """Only the changes of a day: what its calendar and visits depend on."""
    merged: book.Changed | None = None
    for entry in entries:
        if isinstance(entry, book.Changed):
            merged = merge_changes(merged, entry)
    return merged


def has_now(line: Line, marks: Marks) -> int:
    """How many are in the container now: what she said, else what it held when the day opened; less what was lent."""
    said = _last_said(line, marks)
    return max(0, said + _lent_since(line, marks)) if marks.loans else said


def lendings(line: Line, marks: Marks) -> tuple[Move, ...]:
    """What lending and giving back moved of a line's supply, of what was said since the day opened."""
    mine = [each for each in marks.loans if each.supply == line.supply]
    return moves_of(mine, dict(line.loans)) if mine and not line.pail and not line.catch_up_for else ()


def _lent_since(line: Line, marks: Marks) -> int:
    """How many came back since she last said how many are in the container, less what was lent."""
    return moved(lendings(line, marks), line.container, line.supply, after=told_at(line.key, marks))


def told_at(line: str, marks: Marks) -> datetime | None:
    """When she last said how many are in a container of a line's supply; None where she did not on this day."""
    mark = marks.lines.get(line)
    if mark is not None and mark.count is not None:
        return mark.count_at
    of_kit = [
        each.count_at
        for key, each in marks.lines.items()
        if "/".join(_place_of(key)) == line and each.count is not None
    ]
    if of_kit:
        return max(of_kit)
    pails = [each.at for key, each in marks.lines.items() if key.startswith(f"{line}/pail ")]
    container, _, supply = line.partition("/")
    return max(pails, default=marks.contents_at.get((container, supply)))


def _last_said(line: Line, marks: Marks) -> int:
    mark = marks.lines.get(line.key)
    if mark is not None and mark.count is not None:
        return mark.count
    held = marks.contents.get((stands_in(line), line.supply)) if marks.contents else None
    if held is None:
        return _in_pails_before(line, marks) if f"{line.key}/pail 1" in marks.lines else line.in_it
    return in_pail(held, line.before_pail, line.need + line.ahead, line.is_last_pail) if line.pail else held


def _in_pails_before(line: Line, marks: Marks) -> int:
    """How many were packed in pails, of a line that was in several and needs them no longer."""
    return sum(pail.count or 0 for key, pail in marks.lines.items() if key.startswith(f"{line.key}/pail "))


def stands_in(line: Line) -> str:
    """Under which container its contents are kept: a catch-up kit has its own."""
    return catch_up_kit_of(line.catch_up_for) if line.catch_up_for else line.container


def state_of(line: Line, marks: Marks) -> LineState:
    """Where a line stands. It is packed only while its need is met, so a need that grows opens it again.

    What is forbidden stays so, whatever was said of it before, until it is off the list and none of it is in there.
    """
    mark = marks.lines.get(line.key)
    is_off = mark is not None and bool(mark.reason)
    if line.forbidden and (not is_off or has_now(line, marks)):
        return "forbidden"
    if is_off:
        return "not needed"
    if mark is None:
        must_be_seen = bool(line.need) and (line.critical or line.counted)
        return "open" if must_be_seen or has_now(line, marks) < line.need else "met"
    if mark.remedy:
        return "short"
    count = has_now(line, marks)
    if count >= line.need:
        return "packed"
    return "part packed" if count > 0 else "open"


def is_critical(line: Line) -> bool:
    """Whether the lesson cannot start or is unsafe while the line is open. What must not come along always is."""
    return line.critical or bool(line.forbidden)


def is_to_fill(line: Line, marks: Marks) -> bool:
    """Whether today has enough of it and only later visits, which the container is filled for, need more."""
    is_less = has_now(line, marks) < line.need + line.ahead
    return is_less and bool(line.ahead) and state_of(line, marks) in ("packed", "met")


def is_open(line: Line, marks: Marks) -> bool:
    """Whether the line still asks for hands before she leaves."""
    return state_of(line, marks) in ("open", "part packed", "forbidden")


def is_settled(key: str, marks: Marks) -> bool:
    """Whether a task, a check or a carried matter was seen to, dropped or put off on purpose."""
    return key in marks.seen_to or key in marks.let_go or key in marks.carried_over


def goes_without_a_look(line: Line, marks: Marks) -> bool:
    """Whether one key for a whole container may tick it: never what is critical, counted, short or part packed."""
    if is_critical(line) or line.counted:
        return False
    return state_of(line, marks) in ("open", "met") or is_to_fill(line, marks)


def packed_in_full(line: Line, marks: Marks, at: datetime) -> book.Packed:
    """The entry that says its need, for later visits too, is in the container, or more where more is in it."""
    return book.Packed(at=at, line=line.key, count=max(line.need + line.ahead, has_now(line, marks)))


def open_lines(day: Day, marks: Marks) -> tuple[Line, ...]:
    """Lines that still ask for hands, critical ones first, else in order of number."""
    return tuple(sorted((line for line in day.lines if is_open(line, marks)), key=lambda line: not is_critical(line)))


def readiness_of(visit: Visit, day: Day, marks: Marks) -> tuple[int, int]:
    """(open lines, critical ones among them) of a visit."""
    lines = [line for line in day.lines if visit.key in line.visits and is_open(line, marks)]
    return len(lines), sum(is_critical(line) for line in lines)


def left_to_take(take_out: TakeOut, marks: Marks) -> int:
    """How many are still to be taken out of the container; none once it was let go."""
    if take_out.key in marks.let_go or take_out.key in marks.seen_to:
        return 0
    what = take_out.container, take_out.supply
    left = max(0, take_out.count - marks.taken_out.get(what, 0))
    return min(left, marks.contents.get(what, left))


def packing_minutes_left(day: Day, marks: Marks, minutes_a_line: float) -> float:
    """Minutes that the open lines, what is to be taken out, and the open tasks for today's own visits still take."""
    lines = sum(is_open(line, marks) for line in day.lines)
    lines += sum(left_to_take(each, marks) > 0 for each in day.take_out)
    return lines * minutes_a_line + sum(task.minutes for task in _open_tasks(day, marks) if task.for_date == day.date)


def preparation_minutes_left(day: Day, marks: Marks) -> int:
    """Minutes of preparation for later days that is due and open."""
    return sum(task.minutes for task in _open_tasks(day, marks) if task.for_date != day.date)


def leave_by_now(day: Day, marks: Marks) -> int | None:
    """Minute of the day by which to leave the store, with what is still to be fetched; None without visits."""
    if day.leave_by is None:
        return None
    fetched = {container for container, said in marks.places.items() if said.place == AT_STORE}
    fetched |= {key.removeprefix(FETCH) for key in marks.let_go if key.startswith(FETCH)}
    return day.leave_by - sum(minutes for each, minutes in day.fetch_minutes.items() if each not in fetched)


def _open_tasks(day: Day, marks: Marks) -> list[Task]:
    return [task for task in day.tasks if task.due <= day.date and not is_settled(task.key, marks)]


def is_over(matter: Matter | Carried, day: Day, marks: Marks) -> bool:
    """Whether a carried matter has come to its end on this day, by being ticked or by what was done."""
    if matter.key in marks.seen_to or matter.key in marks.let_go:
        return True
    match matter.kind:
        case "short":
            same = (line for line in day.lines if (line.container, line.supply) == (matter.container, matter.supply))
            line = next((line for line in same if not line.catch_up_for), None)
            return line is not None and state_of(line, marks) in ("packed", "met")
        case "not put right":
            return bool(marks.put_right.get(matter.container))
        case "left in a room":
            said = marks.places.get(matter.container)
            return said is not None and said.place == AT_STORE
        case "catch-up not handed out":
            return any(marks.handed_out.get(visit.key) for visit in day.visits if visit.class_id == matter.for_class)
        case "preparation":
            task = next((each for each in day.tasks if each.key == matter.key), None)
            return task is None or task.for_date <= day.date
        case "count pending":
            return any(late_key(key) == matter.key for key in marks.late_counts)
    return False


def late_key(late: tuple[date, str, str]) -> str:
    """The key of a count that is pending: date, visit, supply."""
    day, visit, supply = late
    return f"count/{day.isoformat()}/{visit}/{supply}"


def case_key(day: date, visit: str, supply: str) -> str:
    """The key of a case of something missing from a visit."""
    return f"{day.isoformat()}/{visit}/{supply}"
