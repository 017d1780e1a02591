"""A day of the reference school with a small cart on which things change: what is over stays, what stands is taken so.

Several things are said at several times of the day, drawn by chance. After each: the legs so far are as they were, what
stands in the room of its next visit is not taken there again, the plan holds, and undo gives back the very same route.
"""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from checklists.book import Book
from checklists.daybook.entries import AnyEntry, Changed, LeftStore, Sized, Stands
from checklists.lines.records import Day
from checklists.pages.route_json import route_as_json
from checklists.route.day_route import DayRoute
from checklists.route.problem import STANDS
from checklists.route.replay import replay
from checklists.sheets import sheet_of
from checklists.words import minute_of
from tests.days import at, opened, opened_again
from tests.schools import MONDAY, reference_school

ROOMS = ("4", "9", "11", "12", "14", "21", "23")


def school(folder: Path, half_slots: int, before_school: int = 15) -> Path:
    facts = {
        "cart": {"half_slots": half_slots, "wet_sheets": 25, "standing": {"scissors": 30}, "folders_on_top": 1},
        "habits": {"filler": "leaf-rubbings", "leave_ahead_before_school": before_school},
    }
    return reference_school(folder, school=facts)


def something_said(chance: Random, day: Day, route: DayRoute, away: tuple[str, ...], clock: str) -> AnyEntry:
    visit = chance.choice(day.visits)
    containers = [each.id for each in route.problem.containers] or ["box-3"]
    left = [(each.container, each.room) for leg in (route.plan.legs if route.plan else ()) for each in leg.ahead]
    now = at(clock)
    kinds = ("away", "room", "lesson", "size", "helper", "never in", "way", "planning", "left", "stands", "stands")
    match chance.choice(kinds):
        case "away":
            return Changed(at=now, away=(*away, visit.class_id))
        case "room":
            return Changed(at=now, rooms={visit.key: chance.choice(ROOMS)})
        case "lesson":
            return Changed(at=now, lessons={visit.key: chance.choice(("leaf-rubbings", "paper-hills", "burlap-birds"))})
        case "size":
            return Sized(at=now, class_id=visit.class_id, students=chance.randint(10, 30), before=visit.students)
        case "helper":
            return Changed(at=now, rides={chance.choice(containers): "helper"})
        case "never in":
            return Changed(at=now, leave_in={visit.room: "never"})
        case "way":
            return Changed(at=now, longer_ways={visit.room: chance.randint(0, 4)})
        case "planning":
            return Changed(at=now, planning_lost=chance.random() < 0.7)
        case "left":
            return LeftStore(at=now)
        case _ if left and chance.random() < 0.6:
            container, room = chance.choice(left)
            return Stands(at=now, container=container, place=room)
        case _:
            return Stands(at=now, container=chance.choice(containers), place=chance.choice(("store", visit.room)))


def legs_of(day: Day, route: DayRoute) -> list[tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]]:
    """Visits, what rides and what is kept, by the keys of the visits."""
    keys = [visit.key for visit in day.visits]
    legs = route.plan.legs if route.plan is not None else ()
    return [(tuple(keys[leg.first : leg.last + 1]), leg.rides, leg.kept) for leg in legs]


def check_that_what_is_over_stays(before: Day, was: DayRoute, after: Day, now: DayRoute, minute: int) -> None:
    begun = {visit.key for visit in before.visits if visit.start <= minute}
    there = {visit.key for visit in after.visits}
    for visits, rides, kept in legs_of(before, was):
        over = [key for key in visits if key in begun and key in there]
        if over:
            (leg,) = [each for each in legs_of(after, now) if over[0] in each[0]]
            assert set(over) <= set(leg[0]) and leg[1:] == (rides, kept)


def check_that_it_stands(said: Stands, day: Day, route: DayRoute, minute: int) -> None:
    assert route.plan is not None
    needed = [n for n, visit in enumerate(route.problem.visits) if said.container in visit.needs]
    coming = [n for n in needed if day.visits[n].start > minute]
    if coming and day.visits[coming[0]].room == said.place:
        leg = next(each for each in route.plan.legs if each.first <= coming[0] <= each.last)
        assert any(each.container == said.container and each.session == STANDS for each in leg.ahead)


@pytest.mark.parametrize("seed", range(6))
def test_whatever_is_said_at_whatever_time(tmp_path: Path, seed: int) -> None:
    chance = Random(seed)
    book = opened(school(tmp_path / "school", chance.choice((4, 6)), chance.choice((5, 15))))
    minute = chance.randint(440, 500)
    away: tuple[str, ...] = ()
    for _ in range(6):
        clock = f"{minute // 60}:{minute % 60:02}"
        before, was, kept = book.day(MONDAY), book.route(MONDAY), book.marks(MONDAY).route
        entry = something_said(chance, before, was, away, clock)
        book.do(MONDAY, entry)
        after, now = book.day(MONDAY), book.route(MONDAY)
        if now.plan is not None and was.plan is not None:
            assert replay(now.problem, now.plan).faults == ()
            check_that_what_is_over_stays(before, was, after, now, minute_of(clock))
            if isinstance(entry, Stands) and entry.place != "store":
                check_that_it_stands(entry, after, now, minute_of(clock))
        assert route_as_json(book.plan, after, book.marks(MONDAY), now) and sheet_of(book, MONDAY, at(clock)).visits
        if chance.random() < 0.4:
            book.undo(MONDAY)
            again = book.route(MONDAY)
            assert (again.problem, again.plan, book.marks(MONDAY).route) == (was.problem, was.plan, kept)
        elif isinstance(entry, Changed) and entry.away is not None:
            away = entry.away
        minute += chance.randint(10, 80)
    plan = book.route(MONDAY).plan
    book = opened_again(book)
    assert book.route(MONDAY).plan == plan


@pytest.fixture
def small_cart(tmp_path: Path) -> Book:
    return opened(school(tmp_path / "school", 6))


def test_the_class_that_she_has_come_for_is_away(small_cart: Book) -> None:
    before = legs_of(small_cart.day(MONDAY), small_cart.route(MONDAY))
    small_cart.do(MONDAY, Changed(at=at("9:37"), away=("3-B",)))
    day, route = small_cart.day(MONDAY), small_cart.route(MONDAY)
    assert "3-B" not in [visit.class_id for visit in day.visits]
    assert legs_of(day, route)[0][1] == before[0][1]
    assert sheet_of(small_cart, MONDAY, at("9:37")).visits


def test_the_class_before_the_break_is_away_and_what_waits_for_the_break_is_still_at_the_store(
    small_cart: Book,
) -> None:
    plan = small_cart.route(MONDAY).plan
    assert plan is not None
    waiting = [each for leg in plan.legs for each in leg.ahead if each.session == 1]
    assert waiting
    small_cart.do(MONDAY, Changed(at=at("8:50"), away=("3-K",)))
    route = small_cart.route(MONDAY)
    assert route.plan is not None
    assert [each for leg in route.plan.legs for each in leg.ahead if each.session == 1] == waiting
    assert route.problem.standing == ()


def test_saying_again_later_where_it_stood_changes_nothing_of_what_is_over(small_cart: Book) -> None:
    plan = small_cart.route(MONDAY).plan
    assert plan is not None
    (one,) = plan.legs[1].ahead
    small_cart.do(MONDAY, Stands(at=at("11:50"), container=one.container, place=one.room))
    small_cart.do(MONDAY, Changed(at=at("12:05"), rides={"box-5" if one.container != "box-5" else "box-4": "helper"}))
    there = legs_of(small_cart.day(MONDAY), small_cart.route(MONDAY))
    small_cart.do(MONDAY, Stands(at=at("13:50"), container=one.container, place=one.room))
    assert legs_of(small_cart.day(MONDAY), small_cart.route(MONDAY)) == there
    small_cart.do(MONDAY, Stands(at=at("15:10"), container=one.container, place="store"))
    assert legs_of(small_cart.day(MONDAY), small_cart.route(MONDAY)) == there


def test_a_helper_takes_over_what_she_set_out_with(small_cart: Book) -> None:
    rides = legs_of(small_cart.day(MONDAY), small_cart.route(MONDAY))[0][1]
    small_cart.do(MONDAY, Changed(at=at("8:50"), rides={"box-3": "helper"}))
    assert "box-3" in rides
    assert legs_of(small_cart.day(MONDAY), small_cart.route(MONDAY))[0][1] == rides
    assert sheet_of(small_cart, MONDAY, at("8:50")).visits
