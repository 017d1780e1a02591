"""What can be done about a line that is short, worked out: sharing, another supply, more of it, or what it means to go
without."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import ceil
from typing import Literal

from msgspec import Struct

from checklists.daybook.entries import Remedy
from checklists.daybook.line_states import has_now
from checklists.daybook.marks import Marks
from checklists.daybook.state import State
from checklists.daybook.stock_now import Stock, stock_now
from checklists.lines.catch_up import part_of
from checklists.lines.containers import FOLDER, name_of
from checklists.lines.merge import YOUNG
from checklists.lines.quantities import spare_of, usual_spare
from checklists.lines.records import Day, Line, Use, Visit
from checklists.plan.records import Plan, Spare, Supply
from checklists.words import plural, say_number

Shared = Literal["pair", "table"]


class Way(Struct, frozen=True):
    """One thing to do about a short line."""

    remedy: Remedy
    words: str = ""
    """What it comes to, "per pair 11 and 2 spare, 13: enough"; empty where nothing can be worked out."""
    brief: str = ""
    """The same in a word or two, "13, enough"."""
    enough: bool | None = None
    """Whether the lesson has what it needs then; None where nobody knows."""
    needs: int | None = None
    """How many of the line's own supply it takes then."""

    @property
    def label(self) -> str:
        """The remedy with what it comes to, "share: per pair 11 and 2 spare, 13: enough"."""
        return f"{self.remedy}: {self.words}" if self.words else self.remedy

    @property
    def short_label(self) -> str:
        """The remedy in few words, "share: 13, enough"."""
        return f"{self.remedy}: {self.brief}" if self.brief else self.remedy


class _Eaten(Struct, frozen=True):
    """How a visit uses a line: so many for each child, or for each pair."""

    visit: Visit
    per: Literal["student", "pair"]
    each: float


def labels_of(
    plan: Plan, day: Day, marks: Marks, opening: State, *, short: bool = False
) -> Callable[[Line], dict[Remedy, str]]:
    """What each remedy for a line of the day comes to, in few words where ``short``.

    The stock is worked out once, when the first line is asked about.
    """
    stock: list[Stock] = []

    def of_line(line: Line) -> dict[Remedy, str]:
        if not stock:
            stock.append(stock_now(plan, day, marks, opening))
        ways = remedies_for(plan, day, line, marks, stock[0])
        return {way.remedy: way.short_label if short else way.label for way in ways}

    return of_line


def remedies_for(
    plan: Plan, day: Day, line: Line, marks: Marks, stock: Stock, there: int | None = None
) -> tuple[Way, ...]:
    """Every remedy for a line of which only ``there`` are to be had, by default as many as are in the container."""
    has = has_now(line, marks) if there is None else there
    missing = max(0, line.need - has)
    supply = plan.supply_by_id.get(line.supply)
    if supply is None or line.supply.startswith(FOLDER):
        return tuple(Way(each) for each in ("share", "use another", "make more", "fetch", "go without"))
    used = tuple(_used_by(plan, day, line))
    return (
        _share(plan, supply, used, has),
        _use_another(plan, supply, stock, missing),
        _make_more(supply, missing),
        _fetch(plan, day, line, marks, stock, missing),
        _go_without(used, line, has),
    )


def share_of(plan: Plan, day: Day, line: Line, there: int) -> Way:
    """What sharing comes to where only ``there`` are to be had."""
    supply = plan.supply_by_id.get(line.supply)
    return Way("share") if supply is None else _share(plan, supply, tuple(_used_by(plan, day, line)), there)


def _used_by(plan: Plan, day: Day, line: Line) -> Iterator[_Eaten]:
    visits = {visit.key: visit for visit in day.visits}
    for use in line.uses:
        visit = visits.get(use.visit)
        if visit is not None and visit.steps and not line.catch_up_for:
            per = _counted_per(plan, visit, line, use)
            if per is not None:
                yield _Eaten(visit, *per)


def _counted_per(plan: Plan, visit: Visit, line: Line, use: Use) -> tuple[Literal["student", "pair"], float] | None:
    """What the part says of it; of what a rule adds, what the amount comes to."""
    part = part_of(plan, visit.steps[0].lesson, visit.steps[0].part)
    listed = (item for item in part.items if item.supply == line.supply) if part is not None else ()
    items = [item for item in listed if not item.demo and item.is_for(*visit.classes)]
    if items:
        each = sum(item.count for item in items)
        if all(item.per == "student" for item in items):
            return "student", each
        return ("pair", each) if all(item.per == "pair" for item in items) else None
    if not use.per_student or not visit.students:
        return None
    if use.amount >= visit.students:
        return "student", use.amount // visit.students
    return ("pair", 1) if use.amount >= ceil(visit.students / 2) else None


def _share(plan: Plan, supply: Supply, used: tuple[_Eaten, ...], has: int) -> Way:
    """Per pair or, where that does not do or is done already, per table. A sheet of paper each child needs itself."""
    if not used or supply.kind == "paper":
        return Way("share")
    per_pair_already = all(each.per == "pair" for each in used)
    wanted: tuple[Shared, ...] = ("table",) if per_pair_already else ("pair", "table")
    spare = usual_spare(plan.school.habits, supply, any(each.visit.grade in YOUNG for each in used))
    ways = [_shared(used, per, supply, spare, has) for per in wanted]
    return next((way for way in ways if way.enough), ways[0])


def _shared(used: tuple[_Eaten, ...], per: Shared, supply: Supply, spare: Spare, has: int) -> Way:
    units = [_units(each.visit, per) * each.each for each in used]
    needed = max(units) if supply.comes_back else sum(units)
    extra = spare_of(spare, needed)
    total = ceil(needed) + extra
    enough = total <= has
    said = f"per {per} {say_number(needed)}" + (f" and {extra} spare, {total}" if extra else "")
    how = "enough" if enough else f"{total - has} short still"
    return Way("share", f"{said}: {how}", f"{total}, {'enough' if enough else 'too few'}", enough, total)


def _units(visit: Visit, per: Shared) -> int:
    return ceil(visit.students / 2) if per == "pair" else visit.tables


def _use_another(plan: Plan, supply: Supply, stock: Stock, missing: int) -> Way:
    other = plan.supply_by_id.get(supply.instead or "")
    if other is None:
        return Way("use another")
    there = stock.on_shelf(other.id)
    shelf = f"shelf {other.shelf}" if other.shelf else "the shelf"
    on_shelf = f"{there} on {shelf}" if there is not None else f"from {shelf}"
    enough = None if there is None else there >= missing
    return Way("use another", f"{missing} {other.name}, {on_shelf}", "" if there is None else f"{there} there", enough)


def _make_more(supply: Supply, missing: int) -> Way:
    how = {"paper": "cut", "sheet": "copy"}.get(supply.kind)
    return Way("make more", f"{how} {missing}", f"{how} {missing}") if how else Way("make more")


def _fetch(plan: Plan, day: Day, line: Line, marks: Marks, stock: Stock, missing: int) -> Way:
    """From the shelf or, where that does not do, from the container that has most of it beyond its own need."""
    there = stock.on_shelf(line.supply)
    places = [(there, f"shelf {line.shelf}" if line.shelf else "the shelf")] if there else []
    needs = {each.container: each.need for each in day.lines if each.supply == line.supply and not each.catch_up_for}
    for container, inside in stock.contents.items():
        beyond = inside.get(line.supply, 0) - needs.get(container, 0)
        if container != line.container and beyond > 0:
            places.append((beyond, name_of(plan, container)))
    if not places:
        return Way("fetch")
    best = next((place for place in places if place[0] >= missing), max(places))
    taken = min(missing, best[0])
    where = best[1].removeprefix("shelf ").removeprefix("the ")
    return Way(
        "fetch", f"{taken} from {best[1]}, {best[0]} to spare there", f"{best[0]} in {where}", best[0] >= missing
    )


def _go_without(used: tuple[_Eaten, ...], line: Line, has: int) -> Way:
    """How many children have none; only the spare is missing where each of them has one."""
    if not used:
        return Way("go without")
    wanted = [
        each.each * (each.visit.students if each.per == "student" else ceil(each.visit.students / 2)) for each in used
    ]
    missing = (max(wanted) if line.comes_back else sum(wanted)) - has
    if missing <= 0:
        return Way("go without", "only the spare is missing", "spare only", True)
    least = min(each.each for each in used) or 1
    whom = "child" if all(each.per == "student" for each in used) else "pair"
    count = ceil(missing / least)
    said = f"{plural(count, whom)} {'has' if count == 1 else 'have'} none"
    return Way("go without", said, f"{count} without", False)
