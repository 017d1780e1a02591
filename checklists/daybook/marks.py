"""What the entries of a day amount to: the newest word on each line, visit, container and matter."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from msgspec import Struct, field, structs

from checklists.daybook import entries as book

AT_STORE = "store"
FETCH = "fetch/"
"""How the key of a container to fetch begins."""
LEAVE_AHEAD = "ahead/"
"""How the key of something to leave ahead begins; the room comes behind it."""
ASK = "ask/"
"""How the key of a question about a fact begins; what it is about comes behind it."""
ORDER = "order/"
"""How the key of an order begins; the supply's id comes behind it."""


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
    route: book.RouteKept | None = None
    """The route she was going by when something changed last."""
    sized: dict[str, book.Sized] = field(default_factory=dict)
    """Classes that have another number of children from now on."""
    class_places: dict[str, book.ClassPlace] = field(default_factory=dict)
    """Classes whose place was said: which part of which lesson is next."""
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
            where = place_of_line(entry.line)
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
        case book.RouteKept():
            marks.route = entry
        case book.Sized():
            marks.sized[entry.class_id] = entry
        case book.ClassPlace():
            marks.class_places[entry.class_id] = entry
        case book.Joined() | book.Left() | book.Excused() | book.Broken() | book.WorkAway():
            marks.children.append(entry)


def _recount(marks: Marks, found: book.FoundInContainer) -> None:
    """What she found is newer than what she packed; a remedy stands as long as no more are there than it was for."""
    line = f"{found.container}/{found.supply}"
    for pail in [each for each in marks.lines if each.startswith(f"{line}/pail ")]:
        del marks.lines[pail]  # what she counted is of all pails together
    for key, mark in marks.lines.items():
        if place_of_line(key) == (found.container, found.supply) and mark.count is not None:
            remedy = mark.remedy if found.count <= mark.count else ""
            said = mark.count if mark.went_with is None else mark.went_with
            new = structs.replace(mark, at=found.at, count=found.count, remedy=remedy, went_with=said, counted_at=None)
            marks.lines[key] = new


def _take_out(marks: Marks, taken: book.TakenOut) -> None:
    """What was packed before is out again; a line it was packed for asks anew."""
    for key, mark in marks.lines.items():
        if place_of_line(key) == (taken.container, taken.supply) and mark.count is not None:
            marks.lines[key] = structs.replace(mark, at=taken.at, count=taken.left, counted_at=None)


def place_of_line(line: str) -> tuple[str, str]:
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


def late_key(late: tuple[date, str, str]) -> str:
    """The key of a count that is pending: date, visit, supply."""
    day, visit, supply = late
    return f"count/{day.isoformat()}/{visit}/{supply}"


def case_key(day: date, visit: str, supply: str) -> str:
    """The key of a case of something missing from a visit."""
    return f"{day.isoformat()}/{visit}/{supply}"
