"""`trundle route`: the day's stops and ways in words, and the problem with its plan for anybody to check."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Any

from checklists.book import Book
from checklists.daybook.entries import Changed, Stands
from checklists.route.problem import (
    Begun,
    Cost,
    LeftAhead,
    Leg,
    RouteContainer,
    RoutePlan,
    RouteProblem,
    RouteVisit,
    Session,
    Standing,
)
from checklists.route.replay import replay
from checklists.words import minute_of
from tests.commandline.running import on_monday, trundle
from tests.days import MONDAY
from tests.schools import a_kit, reference_school


def test_the_day_is_told_in_order_with_the_minutes_late(tmp_path: Path) -> None:
    ran = on_monday("route", data=reference_school(tmp_path))
    assert (ran.status, ran.err) == (0, "")
    assert all(len(row) <= 80 for row in ran.out.splitlines())
    rows = [row.strip() for row in ran.out.splitlines()]
    assert "5 min late in all, no extra stop" in ran.out
    assert rows.index(next(row for row in rows if row.startswith("V4"))) < rows.index(
        next(row for row in rows if row.startswith("AFTER V4, LUNCH AND PLANNING: leave by"))
    )
    assert "4 min, 4 LATE" in ran.out


def test_a_walk_nobody_has_said_stands_there_with_what_to_type(tmp_path: Path) -> None:
    """From Room 4 to Room 9 there is no minute between the bells, so that each minute of the way is one late."""
    facts = [{"between": ["store", "4"], "minutes": 2}, {"between": ["store", "9"], "minutes": 1}]
    told = on_monday("route", data=reference_school(tmp_path, school={"walks": facts})).out
    assert "Room 4 to Room 9: 3 min, assumed (as by the store). Say it: trundle walk 4 9 3" in told.replace(
        "\n    ", " "
    )


def test_what_a_day_leaves_out_and_the_caution_of_a_helper_stand_below_it(tmp_path: Path) -> None:
    data = reference_school(tmp_path, school={"route": {"leave_in": {"21": "never"}}})
    on_monday("pin", "nothing-in", "21", "--off", data=data)
    on_monday("pin", "helper", "Clay kit", data=data)
    told = on_monday("route", data=data).out
    assert "Left out this day: nothing is left in Room 21, for good" in told
    assert "counted sharps are handed over counted" in told
    assert "A helper brings Clay kit, and takes it back to the store after." in told


def test_with_json_anybody_can_check_the_plan(tmp_path: Path) -> None:
    small_cart = {"cart": {"half_slots": 6, "standing": {"scissors": 30}}}
    found = on_monday("route", "--json", data=reference_school(tmp_path, school=small_cart)).fields
    problem, plan = problem_of(found["problem"]), plan_of(found)
    assert replay(problem, plan).faults == ()


def test_where_nothing_fits_the_status_is_1_and_it_says_what_would_help(tmp_path: Path) -> None:
    tiny = {"cart": {"half_slots": 2, "standing": {"scissors": 30}}}
    ran = on_monday("route", data=reference_school(tmp_path, school=tiny))
    assert ran.status == 1
    assert "V3 3-B alone needs 1 more" in ran.out
    assert "1 half slot more on the cart" in ran.out


def test_a_day_without_visits_has_no_route(tmp_path: Path) -> None:
    ran = trundle("route", "--date", "2026-10-06", "--at", "7:41", data=reference_school(tmp_path))
    assert ran.status == 2
    assert "no visits" in ran.err


def test_wishes_what_stands_and_what_has_begun_are_all_of_the_problem_that_is_given(tmp_path: Path) -> None:
    """A slow way to 4-D, a stop wanted and one not, a kit that rides, nothing in 23, Box 4 there before, V1 begun."""
    cart = {"half_slots": 6, "standing": {"scissors": 30}, "folders_on_top": 1, "folder_half_slots": 1}
    rooms = {"stops": {"P6": "never"}, "rides": {"printing": "always"}, "leave_in": {"23": "never"}}
    folder = reference_school(tmp_path, school={"cart": cart, "route": rooms})
    on_monday("change", "--longer-way", "21=1", data=folder)
    with Book.open(folder, today=MONDAY) as book:
        book.do(MONDAY, Stands(at=datetime(2026, 10, 5, 7, 50), container="box-4", place="21"))
        book.do(MONDAY, Changed(at=datetime(2026, 10, 5, 8, 5), stops={"P3": "always"}, rides={"clay": "helper"}))
    found = on_monday("route", "--json", data=folder, at="8:10").fields
    problem = problem_of(found["problem"])
    assert replay(problem, plan_of(found)).faults == ()
    with Book.open(folder, write=False, today=MONDAY) as book:
        assert problem == book.route(MONDAY).problem
    assert problem.begun.visits == 1
    assert problem.stop_after == {3}
    assert problem.no_stop_after == {6}
    assert (problem.must_ride, problem.never_in) == ({"printing"}, {"23"})
    assert [each.container for each in problem.standing] == ["box-4"]
    assert found["helped"] == ["clay"]
    assert {(each["about"], each["for_good"]) for each in found["pins"]} == {
        ("P3", False),
        ("clay", False),
        ("P6", True),
        ("printing", True),
        ("23", True),
    }


def problem_of(said: dict[str, Any]) -> RouteProblem:
    keys = [each["visit"] for each in said["visits"]]
    begun = said["begun"]
    return RouteProblem(
        visits=tuple(
            RouteVisit(
                each["visit"],
                each["room"],
                minute_of(each["start"]),
                minute_of(each["end"]),
                tuple(each["needs"]),
                each["walk_more"],
                each["carried"],
                each["folders"],
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
        sessions=tuple(Session(each["after"], each["minutes"], tuple(each["been"])) for each in said["sessions"]),
        most_kilograms=said["most_kilograms"],
        no_stop_after=frozenset(said["no_stop_after"]),
        stop_after=frozenset(said["stop_after"]),
        never_in=frozenset(said["never_in"]),
        must_ride=frozenset(said["must_ride"]),
        folders_on_top=said["folders_on_top"],
        folder_size=said["folder_half_slots"],
        standing=tuple(Standing(each["container"], each["room"]) for each in said["standing"]),
        begun=Begun(legs_of(begun["legs"], keys), begun["visits"], begun["out"]),
    )


def plan_of(said: dict[str, Any]) -> RoutePlan:
    keys = [each["visit"] for each in said["problem"]["visits"]]
    return RoutePlan(legs_of(said["plan"]["legs"], keys), Cost(**said["plan"]["cost"]))


def legs_of(said: list[dict[str, Any]], keys: list[str]) -> tuple[Leg, ...]:
    return tuple(
        Leg(
            keys.index(each["first"]),
            keys.index(each["last"]),
            tuple(each["rides"]),
            tuple(LeftAhead(one["container"], one["room"], one["session"], one["joins"]) for one in each["ahead"]),
            tuple(each["kept"]),
        )
        for each in said
    )


def test_with_one_of_two_left_ahead_the_route_and_the_morning_say_the_same_time(tmp_path: Path) -> None:
    # Common practice, no source: with both in their room the cart leaves at 7:52; the trip there and back takes 6 min.
    names = {"K": 2, "1": 2, "2": 2, "3": 1, "4": 1, "5": 2}
    kits = {"watercolour": ("fish-brush", 2), "stitching": ("blunt-needle", 1), "printing": ("brayer", 1)}
    data = reference_school(
        tmp_path,
        school={"cart": {"half_slots": 2, "standing": {"scissors": 30}}},
        boxes=[{"grade": each, "half_slots": size} for each, size in names.items()],
        kits=[
            *(a_kit(each, {supply: 24}, half_slots=size) for each, (supply, size) in kits.items()),
            a_kit("clay", {"clay-mat": 30}),
        ],
    )

    def said_by() -> set[str]:
        pages = [on_monday(page, data=data).out for page in ("route", "morning", "sheet")]
        return {"7:46" if "7:46" in each else "7:52" for each in pages}

    assert said_by() == {"7:46"}
    assert on_monday("where", "Box K", "--is", "4", data=data).status == 0
    assert said_by() == {"7:46"}
    assert on_monday("where", "watercolour", "--is", "4", data=data).status == 0
    assert said_by() == {"7:52"}


def test_what_room_on_the_cart_is_counted_in_is_said_once(tmp_path: Path) -> None:
    """By the plan's ``half_slots``: 2 of a box, 1 of a kit where nothing else is said."""
    said = on_monday("route", data=reference_school(tmp_path)).out
    assert said.count("The cart takes 8 half slots: a box takes 2, a kit 1.") == 1


def test_what_would_help_and_is_said_elsewhere_says_where(tmp_path: Path) -> None:
    two = {"cart": {"half_slots": 2, "standing": {"scissors": 30}}}
    said = " ".join(on_monday("route", data=reference_school(tmp_path, school=two)).out.split())
    assert "1 half slot more on the cart: once it has the room, in school.toml, half_slots under [cart]" in said
    assert "(a box takes 2, a kit 1)" in said


def test_json_says_which_walks_nobody_has_said_and_when_to_leave_each_stop(tmp_path: Path) -> None:
    """Practice.md section 0 says the walks from the store and those in the order of the day, and no others."""
    data = reference_school(tmp_path)
    found = on_monday("route", "--json", data=data).fields
    assumed = {(each["from"], each["to"]): each["assumed"] for each in found["problem"]["walks"]}
    assert assumed["store", "4"] is False
    assert assumed["4", "12"] is True
    assert on_monday("walk", "4", "12", "3", data=data).status == 0
    again = on_monday("route", "--json", data=data).fields["problem"]["walks"]
    assert next(each for each in again if (each["from"], each["to"]) == ("4", "12"))["assumed"] is False
    text = on_monday("route", data=data).out
    first, *later = found["plan"]["stops"]
    assert (first["since"], f"BEFORE SCHOOL: leave by {first['leave_by']} " in text) == (None, True)
    assert later and all(f"leave by {each['leave_by']} " in text for each in later)
