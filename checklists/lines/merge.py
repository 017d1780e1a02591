"""Needs of many visits into lines: one line for a supply in a container, its reasons stacked."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeVar

from msgspec import Struct, structs

from checklists.daybook.state import State
from checklists.lines.containers import (
    CART,
    FOLDER,
    FOLDER_SUPPLY,
    box_of,
    catch_up_kit_of,
    folder_of,
)
from checklists.lines.need import Need
from checklists.lines.quantities import (
    counted_on,
    for_so_many_children,
    larger_spare,
    on_hand_of,
    round_up,
    spare_of,
    usual_spare,
)
from checklists.lines.records import GROUPS, Because, Line, Task, Use, Visit
from checklists.lines.tied_up import tied_up
from checklists.lines.work_away import say_here
from checklists.plan.records import Group, Plan, Spare, Supply
from checklists.walks import STORE
from checklists.words import plural, say_date, say_room

Listed = TypeVar("Listed", Line, Task)
YOUNG = ("PK", "K", "1")
FIRST_NUMBER = 11
"""Lines count from here, so that a number of a line is never taken for one of a visit or a table."""


def choose_step_needs(of_steps: Sequence[Iterable[Need]]) -> tuple[Need, ...]:
    """One visit that may teach either of several parts: of each supply what the part that needs most of it needs."""
    if len(of_steps) == 1:
        return tuple(of_steps[0])
    chosen: dict[tuple[str, str, str], Need] = {}
    for needs in of_steps:
        for need in needs:
            before = chosen.get((need.container, need.supply, need.of_class))
            if before is None:
                chosen[need.container, need.supply, need.of_class] = need
                continue
            larger = need if need.amount > before.amount else before
            chosen[need.container, need.supply, need.of_class] = structs.replace(
                larger,
                critical=before.critical or need.critical,
                forbidden=before.forbidden or need.forbidden,
                because=tuple(dict.fromkeys((*before.because, *need.because))),
            )
    return tuple(chosen.values())


def lines_from(plan: Plan, state: State, visits: Sequence[Visit], needs: Iterable[Need]) -> tuple[Line, ...]:
    """The day's lines in order: the cart first, containers by first visit, groups, critical ones first, by name."""
    visit_of = {visit.key: visit for visit in visits}
    together: dict[tuple[str, str, str], list[Need]] = {}
    for need in needs:
        supply = need.supply
        if supply == FOLDER_SUPPLY:
            supply = folder_of(need.of_class or visit_of[need.visit].class_id)
        together.setdefault((need.container, supply, need.catch_up_for), []).append(need)
    elsewhere = _elsewhere(plan, state)
    lines = [
        _line(plan, state, visit_of, container, supply, catch_up_for, group, elsewhere)
        for (container, supply, catch_up_for), group in together.items()
    ]
    first = {visit.key: visit.number for visit in visits}
    opens: dict[str, int] = {}
    for line in lines:
        at = min(first[key] for key in line.visits)
        opens[line.container] = min(opens.get(line.container, at), at)
    lines.sort(
        key=lambda line: (
            line.container != CART,
            opens[line.container],
            line.container,
            GROUPS.index(line.group),
            line.catch_up_for,
            not line.critical,
            line.name.casefold(),
            line.key,
        )
    )
    return tuple(lines)


def numbered(things: Iterable[Listed], first: int = FIRST_NUMBER) -> tuple[Listed, ...]:
    """The things in their order, numbered from ``first``."""
    return tuple(structs.replace(each, number=number) for number, each in enumerate(things, first))


def _elsewhere(plan: Plan, state: State) -> dict[str, int]:
    """What is not on the shelf: in containers (one that is no longer in the plan holds nothing), in work, lent."""
    known = {
        CART,
        *plan.kit_by_id,
        *(box_of(grade) for grade in (*plan.box_by_grade, *(each.grade for each in plan.classes))),
    }
    known |= {catch_up_kit_of(each.id) for each in plan.classes}
    held: dict[str, int] = {}
    for container, supplies in state.contents.items():
        if container not in known:
            continue
        for supply, count in supplies.items():
            held[supply] = held.get(supply, 0) + count
    for supply, by_class in tied_up(plan, state).items():
        held[supply] = held.get(supply, 0) + sum(by_class.values())
    for loan in state.lent:
        held[loan.supply] = held.get(loan.supply, 0) + loan.count
    return held


class _Amounts(Struct, frozen=True):
    total: float
    spared: float
    by_visit: dict[str, tuple[float, float, bool]]
    """Visit -> amount, the part of it that spare is added on, whether it shrinks with the students who come."""


def _add_up(needs: Sequence[Need], spare: Spare, comes_back: bool) -> _Amounts:
    """Consumed supplies add up, what is for a whole lesson once; what comes back needs the largest visit.

    Of a tool that stays in the work of some visits, theirs add up, and the others need the largest of them.
    """
    if comes_back and any(need.stays_in_work for need in needs):
        kept = _add_up([need for need in needs if need.stays_in_work], spare, comes_back=False)
        passed_on = [need for need in needs if not need.stays_in_work]
        lent = _add_up(passed_on, spare, comes_back) if passed_on else _Amounts(0, 0, {})
        return _Amounts(kept.total + lent.total, kept.spared + lent.spared, kept.by_visit | lent.by_visit)
    first: dict[str, Need] = {}
    for need in needs if not comes_back else ():
        before = first.get(need.lesson_wide)
        if need.once and (before is None or need.once > before.once):
            first[need.lesson_wide] = need
    by_visit: dict[str, tuple[float, float, bool]] = {}
    for need in needs:
        served = first.get(need.lesson_wide, need) is not need
        amount, spared, per_student = by_visit.get(need.visit, (0.0, 0.0, True))
        here = need.amount - (need.once if served else 0)
        shrinks = need.per_student or not need.amount  # what is only in reserve beside it is not what is used
        by_visit[need.visit] = amount + here, spared + need.spared, per_student and shrinks
    if comes_back:
        with_spare = {key: round_up(each[0]) + spare_of(spare, each[1]) for key, each in by_visit.items()}
        total, spared, _ = by_visit[max(with_spare, key=lambda key: with_spare[key])]
        return _Amounts(total, spared, by_visit)
    total = sum(amount for amount, _, _ in by_visit.values())
    return _Amounts(total, sum(spared for _, spared, _ in by_visit.values()), by_visit)


def _uses(
    amounts: _Amounts, spare: Spare, comes_back: bool, staying: set[str], sets: Mapping[str, str]
) -> tuple[Use, ...]:
    uses: list[Use] = []
    for visit, (amount, spared, per_student) in amounts.by_visit.items():
        stays = visit in staying
        if amount and comes_back and not stays:
            amount = round_up(amount) + spare_of(spare, spared)
        if amount:
            uses.append(Use(visit, amount, per_student, stays, sets.get(visit, "")))
    return tuple(uses)


def _line(
    plan: Plan,
    state: State,
    visit_of: Mapping[str, Visit],
    container: str,
    supply_id: str,
    catch_up_for: str,
    needs: Sequence[Need],
    elsewhere: Mapping[str, int],
) -> Line:
    visits = tuple(sorted({need.visit for need in needs}, key=lambda key: visit_of[key].number))
    is_folder = needs[0].supply == FOLDER_SUPPLY
    supply = plan.supply_by_id[needs[0].supply]
    spare = _spare(plan, supply, needs, [visit_of[key] for key in visits])
    staying = {need.visit for need in needs if need.stays_in_work}
    amounts = _add_up(needs, spare, supply.comes_back)
    margin, said = _margin(spare, amounts, sum(need.reserve for need in needs))
    because = tuple(dict.fromkeys(reason for need in needs for reason in need.because)) + said
    by_table = supply.kind == "tool" and not catch_up_for
    sets = {key: _by_tables(visit_of[key], spare, *used) for key, used in amounts.by_visit.items() if by_table}
    shelf = supply.shelf
    held = state.contents.get(catch_up_kit_of(catch_up_for) if catch_up_for else container, {})
    on_hand = on_hand_of(supply, state)
    stranded = _stranded(state, container) if supply.is_counted and not catch_up_for else ()
    critical = bool(stranded) or any(need.critical for need in needs)
    ordinary = next((need for need in needs if need.amount or not need.reserve), needs[0])
    return Line(
        key=f"{container}/{supply_id}" + (f"/{catch_up_kit_of(catch_up_for)}" if catch_up_for else ""),
        number=0,
        container=container,
        supply=supply_id,
        name=f"class {supply_id}{say_here(plan, state, supply_id.removeprefix(FOLDER))}" if is_folder else supply.name,
        group=_group_of(supply, ordinary, needs),
        need=1 if is_folder else round_up(amounts.total) + margin,
        in_it=0 if is_folder else held.get(supply_id, 0),
        visits=visits,
        critical=critical,
        counted=supply.is_counted,
        about=any(visit_of[key].about for key in visits),
        catch_up_for=catch_up_for,
        shelf=shelf,
        because=because + stranded,
        forbidden=next((need.forbidden for need in needs if need.forbidden), ""),
        instead=next((plan.supply_by_id[need.instead].name for need in needs if need.instead in plan.supply_by_id), ""),
        on_shelf=None if on_hand is None else max(0, on_hand - elsewhere.get(supply_id, 0)),
        counted_on=counted_on(supply, state),
        comes_back=supply.comes_back and not staying,
        uses=_uses(amounts, spare, supply.comes_back, staying, sets),
        sets=sets[max(sets, key=lambda each: amounts.by_visit[each][0])] if sets else "",
        stays_in_work=bool(staying),
        loans=tuple((loan.key, loan.count) for loan in state.lent if loan.supply == supply_id),
    )


def _stranded(state: State, container: str) -> tuple[Because, ...]:
    """Why a counted thing is critical whose container was not at the store overnight: count it first."""
    place = state.places.get(container)
    if place is None or place.where == STORE:
        return ()
    return (Because(f"it stayed in {say_room(place.where)} since {say_date(place.since)}: count it first"),)


def _group_of(supply: Supply, ordinary: Need, needs: Sequence[Need]) -> Group:
    if ordinary.group is not None:
        return ordinary.group
    chosen = next((need.group for need in needs if need.group not in (None, "Catch-up")), None)
    if chosen is not None:
        return chosen
    if supply.kind == "paper":
        return "Paper"
    return "Demo" if supply.kind == "sample" or supply.own else "Supplies"


def _by_tables(visit: Visit, spare: Spare, amount: float, spared: float, per_student: bool) -> str:
    """How a tool is laid out on table trays for a visit: "6 trays of 4, 2 spare"; empty where it is not by table."""
    count = round_up(amount)
    if not per_student or not visit.tables or not visit.tables <= count or visit.tables >= visit.students:
        return ""
    each, more = divmod(count, visit.tables)
    trays = [(more, each + 1), (visit.tables - more, each)]
    said = ", ".join(f"{plural(n, 'tray')} of {size}" for n, size in trays if n)
    extra = spare_of(spare, spared)
    return f"{said}, {extra} spare" if extra else said


def _spare(plan: Plan, supply: Supply, needs: Sequence[Need], visits: Sequence[Visit]) -> Spare:
    habits = plan.school.habits
    spare = usual_spare(habits, supply, any(visit.grade in YOUNG for visit in visits))
    for need in needs:
        spare = need.spare or spare
    for visit in visits:
        if visit.about:
            spared = sum(need.spared for need in needs if need.visit == visit.key)
            spare = larger_spare(spare, for_so_many_children(habits.spare_about, spared, visit.students)) or spare
    for need in needs:
        spare = larger_spare(spare, need.raised) or spare
    return spare


def _margin(spare: Spare, amounts: _Amounts, reserve: int) -> tuple[int, tuple[Because, ...]]:
    """Spare and reserve share one margin: the larger of them, with a sentence that says so."""
    extra = spare_of(spare, amounts.spared)
    if not extra and not reserve:
        return 0, ()
    if reserve >= extra:
        also = f", which covers the spare of {extra}" if extra else ""
        return reserve, (Because(f"{reserve} in reserve{also}"),)
    rule = f"the larger of {spare.at_least} and {spare.percent:g} %"
    also = ", which covers the reserve" if reserve else ""
    return extra, (Because(f"{extra} spare ({rule}){also}"),)
