"""Random days for the route with everything a day brings, and days that have begun and then are told otherwise.

A day under way is cut out of a best plan of the same day at some visit: what is over is as it was, what was left ahead
stands. Then the rest changes: a visit falls out, needs something else, moves to another room. Nothing of the product
is used for that but the records and the plan itself.
"""

from __future__ import annotations

from random import Random

from msgspec import structs

from checklists.route.legs import Like
from checklists.route.problem import STANDS, Begun, Leg, RoutePlan, RouteProblem, Session, Standing
from checklists.route.solve import solve
from tests.references.random_routes import a_random_day


def a_full_day(chance: Random, visits: int, containers: int) -> RouteProblem:
    """A random day with folders, longer ways, visits by hand, wishes of hers, a locked store, what stands in a room."""
    problem = a_random_day(chance, visits, containers)
    taught = list(problem.visits)
    stop_after = set()
    for n, visit in enumerate(taught):
        if chance.random() < 0.2:
            visit = structs.replace(visit, walk_more=chance.randint(1, 3))
        if chance.random() < 0.3:
            visit = structs.replace(visit, folders=chance.randint(1, 2))
        if chance.random() < 0.1:
            visit = structs.replace(visit, needs=(), folders=0, carried=chance.randint(1, 6))
            stop_after |= {n} if n and chance.random() < 0.8 else set()
        taught[n] = visit
    if visits > 1 and chance.random() < 0.2:
        stop_after.add(chance.randint(1, visits - 1))
    masses = {each.id: chance.randint(11, 49) / 10 for each in problem.containers}
    # A limit that some of them come to exactly, so that rounding must not count.
    some = chance.sample(sorted(masses), min(containers, chance.randint(2, 5)))
    has_folders = chance.random() < 0.5
    names = [each.id for each in problem.containers]
    problem = structs.replace(
        problem,
        visits=tuple(taught),
        containers=tuple(structs.replace(each, kilograms=masses[each.id]) for each in problem.containers),
        most_kilograms=round(sum(masses[each] for each in some), 1) if problem.most_kilograms is not None else None,
        stop_after=frozenset(stop_after),
        must_ride=frozenset(chance.sample(names, 1)) if chance.random() < 0.2 else frozenset(),
        folders_on_top=chance.randint(0, 2) if has_folders else 0,
        folder_size=chance.randint(1, 2) if has_folders else 0,
    )
    standing = [
        Standing(each, problem.visits[next_use(problem, each)].room)
        for each in names
        if next_use(problem, each) < visits and chance.random() < 0.12
    ]
    # A store that opens before the first visit, or in the morning's lessons.
    opens = problem.visits[0].start + chance.randint(-8, 60) if chance.random() < 0.25 else 0
    sessions = sessions_with_rooms_been_to(chance, problem)
    return structs.replace(problem, standing=tuple(standing), sessions=sessions, opens=opens)


def sessions_with_rooms_been_to(chance: Random, problem: RouteProblem) -> tuple[Session, ...]:
    rooms = sorted({visit.room for visit in problem.visits})
    return tuple(
        structs.replace(each, been=tuple(sorted(chance.sample(rooms, 1)))) if chance.random() < 0.12 else each
        for each in problem.sessions
    )


def next_use(problem: RouteProblem, container: str, since: int = 0) -> int:
    """The first visit from ``since`` on that needs it, or one past the last."""
    coming = range(since, len(problem.visits))
    return next((n for n in coming if container in problem.visits[n].needs), len(problem.visits))


# ------------------------------------------------------------------------------------------------- a day under way


def cut(problem: RouteProblem, plan: RoutePlan, over: int, *, out: bool) -> tuple[RouteProblem, Like]:
    """The day when so many visits have begun, and its plan as the one to be like.

    ``out``: she is on the leg of the last of them, or of the first one. Otherwise she is at the store, where a leg
    begins with the next visit.
    """
    current = max((leg.first for leg in plan.legs if leg.first < over), default=0)
    legs, ahead = [], {}
    standing = {each for each in problem.standing if next_use(problem, each.container) >= over}
    for leg in plan.legs:
        has_begun = leg.first < over or (out and leg.first == 0)
        since = max(leg.first, problem.begun.visits)
        used = {each for was in problem.begun.legs if was.first == leg.first for each in was.ahead}
        was = {
            each: next_use(problem, each.container, since if each.session == STANDS else leg.first)
            if each not in used
            else leg.first
            for each in leg.ahead
        }
        for each, visit in was.items():
            if visit < over:
                continue
            # What was brought to its room stands there; a session that is to come is a matter of the plan.
            to_come = each.session != STANDS and problem.sessions[each.session].after >= over
            if to_come and not (out and problem.sessions[each.session].after <= current):
                ahead[each.container, visit] = each.session
            else:
                standing.add(Standing(each.container, each.room))
        if has_begun:
            over_here = tuple(each for each, visit in was.items() if visit < over)
            legs.append(Leg(leg.first, leg.last, leg.rides, over_here, leg.kept))
    here = {each for each in standing if next_use(problem, each.container, over) < len(problem.visits)}
    begun = Begun(tuple(legs), over, out=out)
    like = Like(frozenset(leg.first for leg in plan.legs if leg.first), ahead)
    return structs.replace(problem, begun=begun, standing=tuple(sorted(here))), like


def places_to_cut(plan: RoutePlan) -> list[tuple[int, bool]]:
    """Visits begun, and whether she is out: while a visit lasts, and at the store after it where a leg ends."""
    places = [(0, False), (0, True)]
    for leg in plan.legs:
        places += [(n + 1, True) for n in range(leg.first, leg.last + 1)]
        places.append((leg.last + 1, False))
    return places


def a_day_under_way(chance: Random, visits: int, containers: int) -> tuple[RouteProblem, Like] | None:
    """A day that began by its best plan and whose rest is told otherwise, with that plan; None: it has no plan."""
    problem = a_full_day(chance, visits, containers)
    plan = solve(problem)
    if plan is None:
        return None
    over, out = chance.choice(places_to_cut(plan))
    problem, like = cut(problem, plan, over, out=out)
    for _ in range(chance.choice((0, 1, 1, 2))):
        problem, like = told_otherwise(chance, problem, like)
    again = solve(problem, like) if chance.random() < 0.3 else None
    if again is not None:  # it went on as is best then, and is told otherwise once more
        with_it = put_down(chance, problem) if chance.random() < 0.3 and problem.begun.legs else problem
        goes_on = solve(with_it, like)
        if goes_on is not None:
            problem, again = with_it, goes_on
        later = [each for each in places_to_cut(again) if each >= (problem.begun.visits, problem.begun.out)]
        over, out = chance.choice(later)
        problem, like = cut(problem, again, over, out=out)
        problem, like = told_otherwise(chance, problem, like)
    if chance.random() < 0.15:
        problem = structs.replace(problem, sessions=sessions_with_rooms_been_to(chance, problem))
    if chance.random() < 0.15 and problem.begun.legs:
        problem = put_down(chance, problem)
    return problem, like


def told_otherwise(chance: Random, problem: RouteProblem, like: Like) -> tuple[RouteProblem, Like]:
    """One change of a visit that has not begun. What stands in a room that is not its next visit's does not count."""
    over, visits = problem.begun.visits, list(problem.visits)
    if over == len(visits):
        return problem, like
    n = chance.randint(over, len(visits) - 1)
    names = [each.id for each in problem.containers]
    kind = chance.choice(("falls out", "falls out", "needs", "needs", "room", "room", "helper"))
    if kind == "falls out" and len(visits) > 1:
        problem, like = without_visit(problem, like, n)
    elif kind == "needs" and names:
        more = tuple(sorted(set(visits[n].needs) ^ {chance.choice(names)}))
        visits[n] = structs.replace(visits[n], needs=more if visits[n].carried is None else ())
        problem = structs.replace(problem, visits=tuple(visits))
    elif kind == "helper" and names:
        problem = without_container(problem, chance.choice(problem.containers).id)
    elif kind == "room":
        rooms = sorted({room for pair in problem.walks for room in pair} - {"store"})
        visits[n] = structs.replace(visits[n], room=chance.choice(rooms))
        problem = structs.replace(problem, visits=tuple(visits))
    return with_what_stands(problem), like


def with_what_stands(problem: RouteProblem) -> RouteProblem:
    """Only what stands in the room of its next visit is standing there for it."""
    room = {
        each: problem.visits[next_use(problem, each.container, problem.begun.visits)].room
        for each in problem.standing
        if next_use(problem, each.container, problem.begun.visits) < len(problem.visits)
    }
    return structs.replace(problem, standing=tuple(each for each in problem.standing if room.get(each) == each.room))


def without_visit(problem: RouteProblem, like: Like, gone: int) -> tuple[RouteProblem, Like]:
    """The day without one visit: what is said of places between visits is said of those that are left."""

    def moved(after: int) -> int:
        return after - (after > gone)

    count = len(problem.visits) - 1
    sessions: list[Session] = []
    number: dict[int, int] = {}
    for n, each in enumerate(problem.sessions):
        after = moved(each.after)
        if each.after == 0 or (0 < after < count and all(one.after != after for one in sessions)):
            number[n] = len(sessions)
            sessions.append(structs.replace(each, after=after))
    begun = problem.begun
    legs = tuple(
        structs.replace(
            leg,
            last=max(leg.first, leg.last - (gone <= leg.last)),
            ahead=tuple(
                each if each.session == STANDS else structs.replace(each, session=number.get(each.session, STANDS))
                for each in leg.ahead
            ),
        )
        for leg in begun.legs
    )
    ahead = {
        (container, moved(visit)): number[session]
        for (container, visit), session in like.ahead.items()
        if visit != gone and session in number
    }
    return (
        structs.replace(
            problem,
            visits=tuple(visit for n, visit in enumerate(problem.visits) if n != gone),
            sessions=tuple(sessions),
            no_stop_after=frozenset(moved(each) for each in problem.no_stop_after if 0 < moved(each) < count),
            stop_after=frozenset(moved(each) for each in problem.stop_after if 0 < moved(each) < count),
            begun=structs.replace(begun, legs=legs),
        ),
        Like(frozenset(moved(each) for each in like.stops if 0 < moved(each) < count), ahead),
    )


def without_container(problem: RouteProblem, container: str) -> RouteProblem:
    """From now on somebody else carries it; what has begun with it has."""
    visits = tuple(
        structs.replace(visit, needs=tuple(each for each in visit.needs if each != container))
        for visit in problem.visits
    )
    containers = tuple(each for each in problem.containers if each.id != container)
    return structs.replace(problem, visits=visits, containers=containers)


def put_down(chance: Random, problem: RouteProblem) -> RouteProblem:
    """Something that rode on the leg she is on was put down where its next visit is."""
    riding = [
        each
        for each in problem.begun.legs[-1].rides
        if next_use(problem, each, problem.begun.visits) < len(problem.visits)
        and all(one.container != each for one in problem.standing)
    ]
    if not riding:
        return problem
    each = chance.choice(riding)
    room = problem.visits[next_use(problem, each, problem.begun.visits)].room
    return structs.replace(problem, standing=tuple(sorted((*problem.standing, Standing(each, room)))))
