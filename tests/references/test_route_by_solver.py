"""The best route of a day against an independent solver (clingo): up to ten visits and fourteen containers.

The whole problem of a day that has not begun is given to it as a logic program with the five costs as priorities; what
it shares with the product is the records of the problem. ROUTE_SOLVER_DAYS asks for more days.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from random import Random

import clingo
import pytest

from checklists.route.problem import RouteProblem
from checklists.route.replay import replay
from checklists.route.solve import solve
from tests.references.random_days_under_way import a_full_day
from tests.references.random_routes import STORE, a_random_day, minutes
from tests.references.solver import quoted

DAYS = int(os.environ.get("ROUTE_SOLVER_DAYS", "1000"))
CHUNKS = 4

PROGRAM = """
{ stop(N) } :- visit(N), N > 1, not break_before(N), not never_stop(N).
stop(N) :- break_before(N).
stop(N) :- always_stop(N).
begins(1).  begins(N) :- stop(N).
leg(N,N) :- begins(N).
leg(N,F) :- visit(N), leg(N-1,F), not stop(N).
needed(F,C) :- leg(N,F), need(N,C), not stands_for(F,C).
next_use(C,N) :- stands(C), need(N,C), not need_before(C,N).
need_before(C,N) :- stands(C), need(N,C), need(M,C), M < N.
stands_for(F,C) :- next_use(C,N), leg(N,F).
joins_there(F,C) :- stands_for(F,C), need(N,C), need(M,C), N < M.
stays_there(F,C) :- stands_for(F,C), not joins_there(F,C).
first_use(F,C,N) :- needed(F,C), leg(N,F), need(N,C), not before_in_leg(F,C,N).
before_in_leg(F,C,N) :- leg(N,F), need(N,C), leg(M,F), need(M,C), M < N.
able(F,C,S) :- first_use(F,C,N), may_be_left(C), room(N,R), not never_in(R), not must_ride(C),
               session(S,A,_), A < F, not used_between(S,C,N).
used_between(S,C,N) :- need(N,C), session(S,A,_), need(M,C), A < M, M < N.
1 { rides(F,C) ; ahead(F,C,S) : able(F,C,S) } 1 :- needed(F,C).
left(F,C) :- ahead(F,C,_).
{ joins(F,C) } :- left(F,C).
behind(F,C) :- left(F,C), not joins(F,C).
:- behind(F,C), need(N,C), need(M,C), leg(N,F), leg(M,F), N < M.
:- behind(F,C), need(N,C), leg(N,G), G > F.
carried(F,C) :- rides(F,C).
carried(F,C) :- joins(F,C).
carried(F,C) :- joins_there(F,C).
folders(F,X) :- begins(F), folder_size(_), X = #sum { Y,N : leg(N,F), folders_of(N,Y) }.
extra(F,(X-T)*Z) :- folders(F,X), folders_on_top(T), folder_size(Z), X > T.
:- begins(F), capacity(K), #sum { Z,C : carried(F,C), size(C,Z) ; Z,extra : extra(F,Z) } > K.
:- begins(F), most_grams(K), #sum { Z,C : carried(F,C), grams(C,Z) } > K.
trip(S,R) :- ahead(F,C,S), first_use(F,C,N), room(N,R).
new_trip(S) :- trip(S,R), not been(S,R).
:- new_trip(S), session(S,_,M), #sum { T,R : trip(S,R), trip_minutes(R,T) ; T,R : been(S,R), trip_minutes(R,T) } > M.
late(N,L) :- stop(N), not waits(N), late_by_store(N,L).
waits(F) :- store_opens_late, begins(F), needed(F,_).
waits(F) :- store_opens_late, begins(F), by_hand(F).
late(N,L) :- waits(N), late_waiting(N,L).
late(N,L) :- visit(N), N > 1, not stop(N), late_direct(N,L).
#minimize { L@5,N : late(N,L) }.
#minimize { 1@4,N : stop(N), not break_before(N) }.
#minimize { 1@3,F,C : left(F,C) }.
#minimize { 1@2,F,C : behind(F,C) ; 1@2,F,C : stays_there(F,C) }.
#minimize { 1@1,F,C : rides(F,C) }.
"""


def facts_of(problem: RouteProblem) -> Iterator[str]:
    """The day as facts; visits and what comes before them count from 1."""
    yield f"capacity({problem.capacity})."
    if problem.most_kilograms is not None:
        yield f"most_grams({round(problem.most_kilograms * 1000)})."
    for each in problem.containers:
        name = quoted(each.id)
        yield f"size({name},{each.size}). grams({name},{round(each.kilograms * 1000)})."
        if each.may_be_left:
            yield f"may_be_left({name})."
    if problem.opens:
        yield "store_opens_late."
    for n, session in enumerate(problem.sessions):
        if session.after in problem.no_stop_after - problem.stop_after:
            continue  # a break that she does not spend at the store
        yield f"session({n},{session.after},{session.minutes})."
        if session.after:
            yield f"break_before({session.after + 1})."
        yield from (f"been({n},{quoted(room)})." for room in session.been)
    for after in problem.no_stop_after:
        yield f"never_stop({after + 1})."
    for after in problem.stop_after:
        yield f"always_stop({after + 1})."
    if problem.folder_size:
        yield f"folders_on_top({problem.folders_on_top}). folder_size({problem.folder_size})."
    yield from (f"must_ride({quoted(each)})." for each in problem.must_ride)
    yield from (f"stands({quoted(each.container)})." for each in problem.standing)
    for room in problem.never_in:
        yield f"never_in({quoted(room)})."
    for n, visit in enumerate(problem.visits, 1):
        room = quoted(visit.room)
        yield f"visit({n}). room({n},{room}). folders_of({n},{visit.folders})."
        yield f"trip_minutes({room},{2 * minutes(problem, STORE, visit.room) + problem.handling})."
        yield from (f"need({n},{quoted(each)})." for each in visit.needs)
        out = minutes(problem, STORE, visit.room) + visit.walk_more + (problem.handling if n > 1 else 0)
        if visit.carried is not None:
            out = visit.carried
            yield f"by_hand({n})."
        locked = problem.opens + out - visit.start
        if n == 1:
            yield f"late_waiting(1,{max(0, locked)})."
        if n > 1:
            before = problem.visits[n - 2]
            gap = visit.start - before.end
            from_store = problem.handling + minutes(problem, STORE, visit.room) + visit.walk_more
            from_store = from_store if visit.carried is None else visit.carried
            by_store = minutes(problem, before.room, STORE) + visit.walk_more + from_store
            direct = minutes(problem, before.room, visit.room) + (visit.walk_more if before.room != visit.room else 0)
            yield f"late_direct({n},{max(0, direct - gap)})."
            yield f"late_by_store({n},{max(0, by_store - gap)})."
            yield f"late_waiting({n},{max(0, by_store - gap, locked)})."


def best_by_the_solver(problem: RouteProblem) -> list[int] | None:
    control = clingo.Control(["--warn=none"])
    control.add("base", [], PROGRAM + "\n".join(facts_of(problem)))
    control.ground([("base", [])])
    best: list[int] | None = None
    with control.solve(yield_=True) as found:
        for model in found:
            known = dict(zip(model.priority, model.cost, strict=True))
            best = [known.get(priority, 0) for priority in (5, 4, 3, 2, 1)]
    return best


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_the_plan_costs_what_the_solvers_best_one_costs(chunk: int) -> None:
    chance = Random(1000 + chunk)
    for _ in range(DAYS // CHUNKS):
        draw = a_full_day if chance.random() < 0.6 else a_random_day
        problem = draw(chance, visits=chance.randint(5, 10), containers=chance.randint(6, 14))
        plan, best = solve(problem), best_by_the_solver(problem)
        if plan is None or best is None:
            assert (plan, best) == (None, None), problem
            continue
        cost = plan.cost
        assert [cost.late, cost.stops, cost.ahead, cost.behind, cost.loaded] == best, problem
        assert replay(problem, plan).faults == ()
