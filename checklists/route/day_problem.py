"""A day's list as a problem of its route: what each visit needs of boxes and kits, walks, sessions at the store."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import structs

from checklists.daybook.entries import Changed, Stands
from checklists.daybook.marks import FETCH, Marks
from checklists.lines.carrying import ByHand, visits_before_carrying
from checklists.lines.containers import CART, FOLDER, standing_in
from checklists.lines.loads import box_or_kit
from checklists.lines.records import Container, Day, Line, Visit
from checklists.lines.store_stops import breaks_between, free_period_before, minutes_of_break
from checklists.plan.records import Bells, Plan, Supply
from checklists.route.kept import KeptNow
from checklists.route.problem import Begun, RouteContainer, RouteProblem, RouteVisit, Session, Standing
from checklists.taught_periods import is_meal
from checklists.walks import STORE, DayWalks, walks_of
from checklists.words import minute_of_day

NEVER_LEFT = frozenset(
    {
        *("hot-tool", "high-temperature", "blade", "relief-cutter", "open-liquid", "solvent", "acid", "photochemical"),
        *("lead-glaze", "instant-glue", "rubber-cement", "spray", "powder", "button-cell", "small-magnet"),
    }
)
"""Marks of supplies that are never left in a room with children; what is sharp is not either.

Common practice, no source; her local rules decide.
"""


def problem_of_day(
    plan: Plan, bells: Bells, day: Day, changes: Changed | None, by_hand: Sequence[ByHand]
) -> RouteProblem:
    """The problem of a day without her wishes and before anything happened. It depends on the list and not on the hour.

    Containers on the cart for good, and those that take up no room on it, are left out. ``by_hand`` is what is carried
    where no cart gets to.
    """
    riding = [each for each in day.containers if each.kind != "cart" and each.visits]
    sized = [each for each in riding if box_or_kit(plan, each.id).half_slots > 0]
    cart, habits = plan.school.cart, plan.school.habits
    rooms = dict.fromkeys(visit.room for visit in day.visits)
    walks = walks_of(plan, day)
    ahead = [one for one in by_hand if one.visit.left_ahead]
    carried = {one.visit.key: one.minutes_before for one in by_hand}
    folders = [line for line in day.lines if line.supply.startswith(FOLDER)]
    lines: dict[str, list[Line]] = {each.id: [] for each in sized}
    for line in day.lines:
        if line.container in lines:
            lines[line.container].append(line)
    # To a visit that is over when the store opens nothing comes from there.
    locked_out = sum(visit.end <= day.store_opens for visit in day.visits)
    return RouteProblem(
        visits=tuple(
            _visit(visit, _there(visit, sized), [], {}) if n < locked_out else _visit(visit, sized, folders, carried)
            for n, visit in enumerate(day.visits)
        ),
        containers=tuple(_container(plan, each, day, lines[each.id]) for each in sized),
        capacity=cart.half_slots,
        walks=dict(_walks(walks, [STORE, *rooms])),
        handling=habits.swap_minutes,
        sessions=tuple(_less_what_is_carried(day.visits, sessions_of(plan, bells, day, changes), ahead)),
        most_kilograms=_most_kilograms(plan, day),
        stop_after=frozenset(
            {*_stops_in_any_case(day.visits, locked_out), *(visits_before_carrying(one, day.visits) for one in ahead)}
            - {0}
        ),
        folders_on_top=cart.folders_on_top,
        folder_size=cart.folder_half_slots,
        opens=day.store_opens,
    )


def _less_what_is_carried(
    visits: Sequence[Visit], sessions: Iterable[Session], ahead: Sequence[ByHand]
) -> Iterator[Session]:
    """The sessions without the minutes in which something is carried ahead where no cart gets to."""
    for each in sessions:
        carrying = sum(one.there_and_back for one in ahead if visits_before_carrying(one, visits) == each.after)
        yield structs.replace(each, minutes=max(0, each.minutes - carrying))


def _there(visit: Visit, containers: Sequence[Container]) -> Sequence[Container]:
    """What stands in the visit's own room when the day begins."""
    return [each for each in containers if each.place == visit.room]


def _visit(
    visit: Visit, containers: Sequence[Container], folders: Iterable[Line], carried: dict[str, int]
) -> RouteVisit:
    on_cart = containers if not visit.by_hand else ()
    return RouteVisit(
        key=visit.key,
        room=visit.room,
        start=visit.start,
        end=visit.end,
        needs=tuple(sorted(each.id for each in on_cart if visit.key in each.visits)),
        walk_more=visit.walk_more,
        carried=None if visit.left_ahead else carried.get(visit.key),
        folders=sum(visit.key in line.visits for line in folders if on_cart),
        by_hand=tuple(sorted(each.id for each in containers if visit.by_hand and visit.key in each.visits)),
    )


def _stops_in_any_case(visits: Sequence[Visit], locked_out: int) -> Iterator[int]:
    """By the store before each visit whose things are carried from there, back to the cart after it, and once it opens.

    ``locked_out`` visits are over by then.
    """
    if 0 < locked_out < len(visits):
        yield locked_out
    for n in range(locked_out + 1, len(visits)):
        before, visit = visits[n - 1], visits[n]
        if (visit.by_hand and not visit.left_ahead) or (before.by_hand and not visit.by_hand):
            yield n


def _container(plan: Plan, container: Container, day: Day, lines: Sequence[Line]) -> RouteContainer:
    facts = box_or_kit(plan, container.id)
    is_private = any(_is_private_sheet(plan, line) for line in lines)
    in_it = {
        *standing_in(plan, container.id),
        *(line.supply for line in lines),
        *(each.supply for each in day.take_out if each.container == container.id),
    }
    known = (plan.supply_by_id[each] for each in in_it if each in plan.supply_by_id)
    safe = not is_private and not any(is_never_left(each) for each in known)
    return RouteContainer(container.id, facts.half_slots, container.kilograms or 0, facts.may_be_left and safe)


def why_never_left(plan: Plan, day: Day, container: str) -> str:
    """ "Something sharp is in it"; empty where it may be left for all that. Private sheets are not told of."""
    in_it = {
        *standing_in(plan, container),
        *(line.supply for line in day.lines if line.container == container),
        *(each.supply for each in day.take_out if each.container == container),
    }
    known = [plan.supply_by_id[each] for each in in_it if each in plan.supply_by_id]
    if any(each.sharp for each in known):
        return "something sharp is in it"
    return "something hot, open or harmful is in it" if any(map(is_never_left, known)) else ""


def is_never_left(supply: Supply) -> bool:
    """Whether a supply is sharp, hot, open or harmful."""
    return supply.sharp or not NEVER_LEFT.isdisjoint(supply.marks)


def _is_private_sheet(plan: Plan, line: Line) -> bool:
    """Whether a line is a sheet that tells of a child's need."""
    supply = plan.supply_by_id.get(line.supply)
    return supply is not None and supply.kind == "sheet" and any(each.private for each in line.because)


def _walks(walks: DayWalks, places: Sequence[str]) -> Iterator[tuple[tuple[str, str], int]]:
    for n, start in enumerate(places):
        for end in places[n + 1 :]:
            yield (start, end), walks.minutes(start, end)


def _most_kilograms(plan: Plan, day: Day) -> float | None:
    """What the cart's limit leaves for boxes and kits; None where no mass is known."""
    if not any(each.kilograms for each in day.containers if each.kind != "cart"):
        return None
    own = sum(each.kilograms or 0 for each in day.containers if each.id == CART)
    return max(0.0, plan.school.cart.limit_kg - own)


def sessions_of(plan: Plan, bells: Bells, day: Day, changes: Changed | None = None) -> Iterator[Session]:
    """Before school, and each break or free period between two visits that is long enough for the way by the store.

    The minutes are those for leaving ahead: no more than she gives it, before school from when the store is open, in a
    break what is no meal, in a free period what the way by the store leaves.
    """
    habits, visits = plan.school.habits, day.visits
    before_school = habits.leave_ahead_before_school
    if changes is not None and changes.store_opens and day.leave_by is not None:
        at_first = {each.place for each in day.containers if visits[0].key in each.visits}
        fetching = sum(minutes for room, minutes in day.fetch_minutes.items() if room in at_first)
        before_school = min(before_school, max(0, day.leave_by - fetching - day.store_opens))
    yield Session(0, before_school)
    for n in range(1, len(visits)):
        breaks = breaks_between(bells, visits[n - 1], visits[n])
        free = free_period_before(habits, visits[n], breaks)
        if (breaks or free) and visits[n].gap_before >= visits[n].swap_minutes_before:
            in_breaks = sum(minutes_of_break(each) for each in breaks if not is_meal(each))
            besides = max(0, free - visits[n].swap_minutes_before)
            yield Session(n, min(in_breaks + besides, habits.leave_ahead_in_a_break))


# ------------------------------------------------------------------------------------------- as the day has come so far


def as_it_stands(plan: Plan, problem: RouteProblem, day: Day, marks: Marks, kept: KeptNow) -> RouteProblem:
    """The problem from where the day has come to: legs that have begun, and what stands in a room already.

    What rode on them is part of it, though no visit may need it any more.
    """
    by_id = {each.id: each for each in day.containers}
    standing: list[Standing] = []
    been: dict[str, int] = {}
    for container in (each.id for each in problem.containers):
        users = [n for n, visit in enumerate(problem.visits) if container in visit.needs]
        coming = [n for n in users if n >= kept.begun.visits]
        if not coming:
            continue
        room = problem.visits[coming[0]].room
        used = [day.visits[n].start for n in users if n < kept.begun.visits]
        said = marks.places.get(container)
        if said is not None:
            is_there = said.place == room and _is_between(said, day, max(used, default=0), coming[0])
            if is_there and said.at.date() == day.date:
                been[room] = max(been.get(room, 0), _session_of(said, problem))
        elif f"{FETCH}{container}" in marks.let_go:
            is_there = by_id[container].place == room and not used
        else:
            is_there = (container, room) in kept.stands
        if is_there:
            standing.append(Standing(container, room))
    sessions = tuple(
        structs.replace(session, been=tuple(sorted(room for room, at in been.items() if at == n)))
        for n, session in enumerate(problem.sessions)
    )
    begun = _back_at_the_store(problem, kept.begun, [each.container for each in standing])
    rode = sorted(begun.containers - {each.id for each in problem.containers})
    more = (RouteContainer(each, box_or_kit(plan, each).half_slots, may_be_left=False) for each in rode)
    return structs.replace(
        problem,
        containers=(*problem.containers, *more),
        standing=tuple(sorted(standing)),
        sessions=sessions,
        begun=begun,
    )


def _back_at_the_store(problem: RouteProblem, begun: Begun, standing: Sequence[str]) -> Begun:
    """Where she set out without what the first visit of the leg needs by now, she goes back: the leg has not begun."""
    if not begun.out or begun.legs[-1].first < begun.visits:
        return begun
    leg = begun.legs[-1]
    needs = set(problem.visits[leg.first].needs)
    return begun if needs <= {*leg.rides, *leg.kept, *standing} else Begun(begun.legs[:-1], begun.visits)


def _is_between(said: Stands, day: Day, used: int, visit: int) -> bool:
    """Whether it was said before the visit began, after which the thing is left behind there.

    ``used``: when a visit began that needed it last; what stood there before was used in it and went along, or stayed.
    """
    minute = minute_of_day(said.at)
    if said.at.date() < day.date:
        return not used
    return said.at.date() == day.date and used <= minute < day.visits[visit].start


def _session_of(said: Stands, problem: RouteProblem) -> int:
    """The session she was in, or had been in last, when it was said."""
    minute = minute_of_day(said.at)
    over = sum(visit.start <= minute for visit in problem.visits)
    return max(n for n, session in enumerate(problem.sessions) if session.after <= over)
