"""A plan gone through step by step: what rides, the load, the minutes, the cost, or what is wrong with it.

It shares nothing with the search but the records, so that it proves what the search gives.
"""

from __future__ import annotations

from msgspec import Struct

from checklists.route.problem import STANDS, Cost, LeftAhead, Leg, RoutePlan, RouteProblem
from checklists.walks import STORE


class Step(Struct, frozen=True):
    """The way to one visit, and the cart on it."""

    visit: int
    by_store: bool
    way: int
    """Minutes of walking, and of handling where it goes by the store; 0 for the first visit."""
    gap: int
    """Minutes between the bells; 0 for the first visit."""
    load: int
    """Half slots taken on the cart in this leg, with what joins and what stays on it for a later one."""
    locked: int = 0
    """Minutes after the bell at which she comes at the earliest from a store that opens so late; 0: in time."""

    @property
    def late(self) -> int:
        return max(0, self.way - self.gap, self.locked)


class Replayed(Struct, frozen=True):
    """``faults`` in words; empty: the plan holds, and costs what ``cost`` says."""

    steps: tuple[Step, ...]
    cost: Cost
    session_minutes: tuple[int, ...]
    """Spent in each session for leaving ahead."""
    faults: tuple[str, ...]


def replay(problem: RouteProblem, plan: RoutePlan) -> Replayed:
    """Go through a plan. Whatever does not hold is a fault, a cost that is not its own too."""
    faults: list[str] = []
    steps: list[Step] = []
    expected = 0
    for leg in plan.legs:
        if leg.first != expected or leg.last < leg.first or leg.last >= len(problem.visits):
            faults.append(f"A leg begins with visit {leg.first + 1} where visit {expected + 1} is due.")
            break
        expected = leg.last + 1
        load = _check_leg(problem, leg, faults)
        for n in range(leg.first, leg.last + 1):
            by_store = n == leg.first
            steps.append(_step(problem, n, by_store, load, _locked(problem, leg) if by_store else 0))
    if expected != len(problem.visits):
        faults.append(f"{len(problem.visits) - expected} visits have no leg.")
    _check_kept(problem, plan, faults)
    minutes = _session_minutes(problem, plan, faults)
    _check_stops(problem, plan, faults)
    _check_begun(problem, plan, faults)
    sessions = {each.after for each in problem.sessions}
    left = [each for leg in plan.legs for each in leg.ahead]
    cost = Cost(
        late=sum(step.late for step in steps),
        stops=sum(leg.first > 0 and leg.first not in sessions for leg in plan.legs),
        ahead=sum(each.session != STANDS for each in left),
        behind=sum(not each.joins for each in left),
        loaded=sum(len(leg.rides) for leg in plan.legs),
    )
    if cost != plan.cost:
        faults.append(f"It costs {_say(cost)} and says {_say(plan.cost)}.")
    return Replayed(tuple(steps), cost, minutes, tuple(faults))


def _say(cost: Cost) -> str:
    return f"{cost.late}, {cost.stops}, {cost.ahead}, {cost.behind}, {cost.loaded}"


def _locked(problem: RouteProblem, leg: Leg) -> int:
    """Minutes late at the first visit of a leg that takes something from the store, if she leaves when it opens."""
    visit = problem.visits[leg.first]
    takes = bool(leg.rides) or any(each.session != STANDS for each in leg.ahead)
    if problem.opens and visit.carried is not None:
        return max(0, problem.opens + visit.carried - visit.start)
    handling = problem.handling if leg.first else 0
    there = problem.opens + handling + _minutes(problem, STORE, visit.room) + visit.walk_more
    return max(0, there - visit.start) if problem.opens and takes else 0


def _step(problem: RouteProblem, n: int, by_store: bool, load: int, locked: int) -> Step:
    if n == 0:
        return Step(0, True, 0, 0, load, locked)
    before, visit = problem.visits[n - 1], problem.visits[n]
    if not by_store:
        way = _minutes(problem, before.room, visit.room)
        way += visit.walk_more if way or before.room != visit.room else 0
    elif visit.carried is not None:
        way = _minutes(problem, before.room, STORE) + visit.walk_more + visit.carried
    else:
        way = _minutes(problem, before.room, STORE) + problem.handling + _minutes(problem, STORE, visit.room)
        way += 2 * visit.walk_more
    return Step(n, by_store, way, visit.start - before.end, load, locked)


def _minutes(problem: RouteProblem, start: str, end: str) -> int:
    if start == end:
        return 0
    known = problem.walks.get((start, end), problem.walks.get((end, start)))
    if known is not None:
        return known
    return _minutes(problem, start, STORE) + _minutes(problem, STORE, end)


def _check_leg(problem: RouteProblem, leg: Leg, faults: list[str]) -> int:
    """What a leg carries at most; everything its visits need must ride or stand there."""
    where = f"Visits {leg.first + 1} to {leg.last + 1}"
    begun = problem.begun
    has_begun = leg.first < begun.visits or (begun.out and leg.first == begun.legs[-1].first)
    was = next((each for each in begun.legs if each.first == leg.first), None)
    visits = range(max(leg.first, begun.visits), leg.last + 1)
    needed = {each for n in visits for each in problem.visits[n].needs}
    ahead = {each.container: each for each in leg.ahead}
    new = [each for each in leg.ahead if was is None or each not in was.ahead]
    # What rode may have been put down on the way, where it was needed next.
    put_down = {each.container for each in leg.ahead if each.session == STANDS} if has_begun else set()
    is_twice = len({each.container for each in new}) != len(new) or len(set(leg.rides)) != len(leg.rides)
    if is_twice or set(leg.rides) & set(ahead) - put_down:
        faults.append(f"{where}: something is there twice.")
    there = {*leg.rides, *_joining(leg), *(each.container for each in new), *(leg.kept if has_begun else ())}
    for each in sorted(needed - there):
        faults.append(f"{where}: {each} is needed and neither rides nor stands there.")
    taken = {each.container for each in new} if has_begun else {*leg.rides, *ahead}
    for each in sorted(taken - needed):
        faults.append(f"{where}: {each} is needed by no visit of it.")
    for one in new:
        if one.container in needed and one.session == STANDS:
            _check_standing(problem, leg, one, faults)
        elif one.container in needed:
            _check_ahead(problem, leg, one, faults)
    as_it_stands = {each.container for each in new if each.session == STANDS}
    for stands in problem.standing:
        if stands.container not in as_it_stands and _next_use(problem, stands.container) in visits:
            faults.append(f"{where}: {stands.container} stands in {stands.room} and is not taken as it is.")
    # A leg that has begun is loaded as it is; nothing more joins than there is room for.
    is_as_it_was = has_begun and not any(each.joins for each in new)
    return _check_load(problem, leg, [] if is_as_it_was else faults)


def _check_load(problem: RouteProblem, leg: Leg, faults: list[str]) -> int:
    where = f"Visits {leg.first + 1} to {leg.last + 1}"
    stays = {each.container for each in leg.ahead if not each.joins}
    carried = {*leg.rides, *_joining(leg), *leg.kept} - stays
    loads = [each for each in problem.containers if each.id in carried]
    folders = sum(problem.visits[n].folders for n in range(leg.first, leg.last + 1))
    load = sum(each.size for each in loads) + problem.folder_size * max(0, folders - problem.folders_on_top)
    if load > problem.capacity:
        faults.append(f"{where}: {load} half slots on a cart of {problem.capacity}.")
    grams = sum(each.grams for each in loads)
    if problem.most_grams is not None and grams > problem.most_grams:
        faults.append(f"{where}: {grams / 1000:g} kg on a cart for {problem.most_grams / 1000:g}.")
    return load


def _joining(leg: Leg) -> list[str]:
    return [each.container for each in leg.ahead if each.joins]


def _check_kept(problem: RouteProblem, plan: RoutePlan, faults: list[str]) -> None:
    """What stays on the cart was on it, is needed by no visit of the leg, and rides again later.

    In a leg that has begun it is as it was, whatever comes, and wherever it was put on: that leg's visits may be gone.
    """
    on_cart: set[str] = set()
    for n, leg in enumerate(plan.legs):
        where = f"Visits {leg.first + 1} to {leg.last + 1}"
        needed = {each for visit in problem.visits[leg.first : leg.last + 1] for each in visit.needs}
        if len(set(leg.kept)) != len(leg.kept):
            faults.append(f"{where}: something stays on the cart twice.")
        for each in sorted(set(leg.kept)):
            what = f"{where}: {each} stays on the cart"
            if n < len(problem.begun.legs):
                continue
            if each not in on_cart:
                faults.append(f"{what} and was not on it.")
            if each in needed:
                faults.append(f"{what} and is needed by a visit.")
            later = (one for one in plan.legs[n + 1 :] if each not in one.kept)
            again = next(later, None)
            if again is None or each not in again.rides:
                faults.append(f"{what} and does not ride again.")
        on_cart = {*leg.rides, *_joining(leg), *leg.kept}


def _check_ahead(problem: RouteProblem, leg: Leg, one: LeftAhead, faults: list[str]) -> None:
    visits = problem.visits
    users = [n for n in range(len(visits)) if one.container in visits[n].needs]
    mine = [n for n in users if leg.first <= n <= leg.last]
    container = next(each for each in problem.containers if each.id == one.container)
    what = f"{one.container} left ahead in {one.room}"
    if not container.may_be_left or one.container in problem.must_ride:
        faults.append(f"{what}: it may not be left.")
    if one.room in problem.never_in:
        faults.append(f"{what}: nothing is left in that room.")
    if one.room != visits[mine[0]].room:
        faults.append(f"{what}: its first visit is in {visits[mine[0]].room}.")
    if not 0 <= one.session < len(problem.sessions):
        faults.append(f"{what}: there is no such session.")
        return
    after = problem.sessions[one.session].after
    if after > leg.first:
        faults.append(f"{what}: that session is after the leg has begun.")
    if after in problem.no_stop_after - problem.stop_after:
        faults.append(f"{what}: she is not at the store then.")
    begun = problem.begun
    if after < begun.visits or (begun.out and after <= begun.legs[-1].first):
        faults.append(f"{what}: that session is over.")
    if any(after <= n < mine[0] for n in users):
        faults.append(f"{what}: another visit needs it before.")
    if not one.joins and (len(mine) > 1 or users[-1] > leg.last):
        faults.append(f"{what}: it stays behind, and is needed again.")


def _check_standing(problem: RouteProblem, leg: Leg, one: LeftAhead, faults: list[str]) -> None:
    what = f"{one.container} standing in {one.room}"
    if not any((each.container, each.room) == (one.container, one.room) for each in problem.standing):
        faults.append(f"{what}: it does not stand there.")
    if _next_use(problem, one.container) not in range(leg.first, leg.last + 1):
        faults.append(f"{what}: its next visit is in another leg.")
    needed_again = sum(one.container in visit.needs for visit in problem.visits[problem.begun.visits :]) > 1
    if one.joins != needed_again:
        faults.append(f"{what}: it {'is needed again and stays' if needed_again else 'joins and is not needed again'}.")


def _next_use(problem: RouteProblem, container: str) -> int:
    """The next visit that needs it, or one past the day's last."""
    coming = range(problem.begun.visits, len(problem.visits))
    return next((n for n in coming if container in problem.visits[n].needs), len(problem.visits))


def _session_minutes(problem: RouteProblem, plan: RoutePlan, faults: list[str]) -> tuple[int, ...]:
    spent: list[int] = []
    begun = {each for leg in problem.begun.legs for each in leg.ahead}
    for n, session in enumerate(problem.sessions):
        rooms = {each.room for leg in plan.legs for each in leg.ahead if each.session == n and each not in begun}
        minutes = sum(2 * _minutes(problem, STORE, room) + problem.handling for room in {*rooms, *session.been})
        spent.append(minutes)
        if minutes > session.minutes and not rooms <= set(session.been):
            faults.append(f"Leaving ahead takes {minutes} minutes of the {session.minutes} there are.")
    return tuple(spent)


def _check_stops(problem: RouteProblem, plan: RoutePlan, faults: list[str]) -> None:
    """Every break at the store, and every stop she wants, is one; none is where she wants none."""
    stops = {leg.first for leg in plan.legs}
    breaks = {each.after for each in problem.sessions if each.after} - problem.no_stop_after
    begun = problem.begun.visits
    for after in sorted((breaks | problem.stop_after) - stops):
        if begun <= after < len(problem.visits) and after:
            faults.append(f"After visit {after} there is no stop.")
    for after in sorted((problem.no_stop_after & stops) - problem.stop_after):
        if after < begun or (after == begun and not problem.begun.out):
            continue  # she was there, or is there already
        faults.append(f"After visit {after} there is a stop.")


def _check_begun(problem: RouteProblem, plan: RoutePlan, faults: list[str]) -> None:
    """The legs so far are as they were; the one she is on goes on with what rides on it."""
    begun = problem.begun
    for n, was in enumerate(begun.legs):
        now = plan.legs[n] if n < len(plan.legs) else None
        is_last = begun.out and n == len(begun.legs) - 1
        if now is None or (now.first, now.rides, now.kept) != (was.first, was.rides, was.kept):
            faults.append(f"Leg {n + 1} has begun otherwise.")
        elif not is_last and now != was:
            faults.append(f"Leg {n + 1} is over and was otherwise.")
        elif is_last and (not set(was.ahead) <= set(now.ahead) or now.last + 1 < begun.visits):
            faults.append(f"Leg {n + 1} has begun and cannot end there.")
        elif problem.folder_size and any(visit.folders for visit in problem.visits[was.last + 1 : now.last + 1]):
            faults.append(f"Leg {n + 1} goes on to visits whose folders are at the store.")
