"""`trundle route`: the day's stops and ways in words, and the problem with its plan for anybody to check."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from checklists.route.problem import Cost, LeftAhead, Leg, RouteContainer, RoutePlan, RouteProblem, RouteVisit, Session
from checklists.route.replay import replay
from checklists.words import minute_of
from tests.commandline.running import on_monday, trundle
from tests.schools import reference_school


def test_the_day_is_told_in_order_with_the_minutes_late(tmp_path: Path) -> None:
    ran = on_monday("route", data=reference_school(tmp_path))
    assert (ran.status, ran.err) == (0, "")
    assert all(len(row) <= 80 for row in ran.out.splitlines())
    rows = [row.strip() for row in ran.out.splitlines()]
    assert "5 min late in all, no extra stop" in ran.out
    assert rows.index(next(row for row in rows if row.startswith("V4"))) < rows.index(
        next(row for row in rows if row.startswith("AFTER V4: BREAK AT THE STORE"))
    )
    assert "4 min, 4 late" in ran.out


def test_with_json_anybody_can_check_the_plan(tmp_path: Path) -> None:
    small_cart = {"cart": {"half_slots": 6, "standing": {"scissors": 30}}}
    found = on_monday("route", "--json", data=reference_school(tmp_path, school=small_cart)).fields
    problem, plan = problem_of(found["problem"]), plan_of(found)
    assert replay(problem, plan).faults == ()


def test_where_nothing_fits_the_status_is_1_and_it_says_what_would_help(tmp_path: Path) -> None:
    tiny = {"cart": {"half_slots": 2, "standing": {"scissors": 30}}}
    ran = on_monday("route", data=reference_school(tmp_path, school=tiny))
    assert ran.status == 1
    assert "V1 K-M alone needs 1 more" in ran.out
    assert "1 half slot more on the cart" in ran.out


def test_a_day_without_visits_has_no_route(tmp_path: Path) -> None:
    ran = trundle("route", "--date", "2026-10-06", "--at", "7:41", data=reference_school(tmp_path))
    assert ran.status == 2
    assert "no visits" in ran.err


def problem_of(said: dict[str, Any]) -> RouteProblem:
    return RouteProblem(
        visits=tuple(
            RouteVisit(
                each["visit"], each["room"], minute_of(each["start"]), minute_of(each["end"]), tuple(each["needs"])
            )
            for each in said["visits"]
        ),
        containers=tuple(
            RouteContainer(each["id"], each["half_slots"], each["kilograms"], each["may_be_left"])
            for each in said["containers"]
        ),
        capacity=said["capacity"],
        walks={(each["from"], each["to"]): each["minutes"] for each in said["walks"]},
        handling=said["handling"],
        sessions=tuple(Session(each["after"], each["minutes"]) for each in said["sessions"]),
        most_kilograms=said["most_kilograms"],
    )


def plan_of(said: dict[str, Any]) -> RoutePlan:
    keys = [each["visit"] for each in said["problem"]["visits"]]
    legs = tuple(
        Leg(
            keys.index(each["first"]),
            keys.index(each["last"]),
            tuple(each["rides"]),
            tuple(LeftAhead(one["container"], one["room"], one["session"], one["joins"]) for one in each["ahead"]),
            tuple(each["kept"]),
        )
        for each in said["plan"]["legs"]
    )
    return RoutePlan(legs, Cost(**said["plan"]["cost"]))
