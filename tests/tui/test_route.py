"""The route on screen: each stop with what comes off and on, each way with its minutes."""

from __future__ import annotations

import tomllib
from datetime import datetime
from pathlib import Path

import pytest

from checklists.daybook.entries import Changed
from checklists.files.plan_folder import read_plan
from checklists.walks import walk_between
from tests.schools import MONDAY, reference_school, write_toml
from tests.tui.desk import Desk, at_desk


async def open_route(desk: Desk) -> None:
    await desk.press("tab")
    await desk.press(str(desk.rows.index("route") + 1))


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_the_day_stands_in_order_under_its_stops(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await open_route(desk)
        assert "Mon 5 Oct" in desk.screen
        assert "5 min late" in desk.screen
        assert "Next: leave by 7:52 for Room 4 at 8:00, V1 K-M" in desk.screen
        assert "BEFORE SCHOOL: leave by 7:52" in desk.screen
        await desk.press("right")
        title = (
            "AFTER V4: LUNCH AND PLANNING AT THE STORE" if size[0] > 80 else "AFTER V4, LUNCH AND PLANNING: leave by"
        )
        assert title in desk.screen
        assert desk.in_hand == "stop/4"


async def test_tab_and_enter_are_enough_to_see_where_to_go_next(tmp_path: Path) -> None:
    async with at_desk(tmp_path, now=datetime(2026, 10, 5, 9, 40)) as desk:
        await desk.press("tab enter")
        assert "Next: straight to Room 14 at 10:25" in desk.screen
        await desk.press("d")
        assert "Routes of the coming days" in desk.screen
        await desk.press("b")
        assert "Next: straight to Room 14 at 10:25" in desk.screen


async def test_where_not_everything_fits_it_says_what_would_help(tmp_path: Path) -> None:
    reference_school(tmp_path, school={"cart": {"half_slots": 2, "standing": {"scissors": 30}}})
    async with at_desk(tmp_path) as desk:
        await open_route(desk)
        assert "V3 3-B alone needs 1 more" in desk.screen
        assert "1 half slot more on the cart" in desk.screen


async def test_a_class_that_is_away_is_not_on_the_way_any_more(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t 3 n b")
        await open_route(desk)
        assert "3-B" not in desk.screen
        assert "3-K" in desk.screen


async def test_at_ten_the_next_visit_is_in_hand_and_what_is_over_says_so(tmp_path: Path) -> None:
    async with at_desk(tmp_path, now=datetime(2026, 10, 5, 9, 40)) as desk:
        await open_route(desk)
        assert "Next: straight to Room 14 at 10:25, V4 3-K: 1 min, 4 to spare" in desk.screen
        assert desk.in_hand == "visit/P4 3-K"
        rows = desk.screen.splitlines()
        assert [row.split()[-1] for row in rows if " V1 " in row or " V2 " in row] == ["over", "over"]
        assert next(row for row in rows if " V3 " in row).split()[-1] == "now"


async def test_after_the_last_visit_only_what_is_left_behind_is_to_be_fetched(tmp_path: Path) -> None:
    reference_school(tmp_path, school={"cart": {"half_slots": 6, "standing": {"scissors": 30}}})
    async with at_desk(tmp_path, now=datetime(2026, 10, 5, 15, 0)) as desk:
        await open_route(desk)
        assert "All visits are over. Fetch " in desk.screen


async def test_the_bar_of_the_cart_has_its_number_beside_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(60, 20)) as desk:
        await open_route(desk)
        assert "8 of 8" in desk.screen


SMALL_CART = {"cart": {"half_slots": 6, "standing": {"scissors": 30}}}


def choice(desk: Desk, words: str) -> str:
    """The digit of the choice that says these words."""
    row = next(row for row in desk.screen.splitlines() if words in row)
    return row.lstrip("▸ ").split()[0]


async def test_a_stop_wanted_after_a_visit_is_said_with_what_it_costs_and_taken_back_by_u(tmp_path: Path) -> None:
    """From Room 9 by the store to Room 12 it is 1 + 2 + 2 min: the 5 between the bells are enough."""
    async with at_desk(tmp_path) as desk:
        await open_route(desk)
        before = desk.book.route(MONDAY).plan
        await desk.press("2 enter")
        assert "V2, Room 9, 8:45  What instead?" in desk.screen
        assert "Always by the store after V2 (P2)" in desk.screen
        assert "1 stop more" in desk.screen
        await desk.press(choice(desk, "Always by the store after V2"))
        assert "Always by the store after V2 (P2), this day: 1 stop more" in desk.screen
        after = desk.book.route(MONDAY).plan
        assert after is not None
        assert [leg.first for leg in after.legs] == [0, 2, 4]
        await desk.press("u")
        assert desk.book.route(MONDAY).plan == before


async def test_a_wish_for_good_is_in_the_plan_until_u_takes_it_back(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_route(desk)
        await desk.press("2 g enter")
        assert "It holds for good" in desk.screen
        await desk.press(choice(desk, "Always by the store after V2"))
        assert desk.book.plan.school.route.stops == {"P2": "always"}
        assert read_plan(desk.book.folder).plan.school.route.stops == {"P2": "always"}
        await desk.press("u")
        assert desk.book.plan.school.route.stops == {}


async def test_the_wishes_that_hold_stand_on_the_page_and_enter_takes_one_back(tmp_path: Path) -> None:
    reference_school(tmp_path, school={"route": {"stops": {"P2": "always"}}})
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await open_route(desk)
        assert "Always by the store after V2 (P2), for good: 1 stop more than without it" in desk.screen
        await go_to_row(desk, "wish/stops/P2")
        await desk.press("enter")
        assert desk.book.plan.school.route.stops == {"P2": "always"}
        assert "Left out this day: always by the store after V2 (P2)" in desk.screen
        await go_to_row(desk, "wish/stops/P2")
        await desk.press("enter")
        assert "It holds again" in desk.screen
        await go_to_row(desk, "wish/stops/P2")
        await desk.press("g enter")
        assert desk.book.plan.school.route.stops == {}
        assert "wish/stops/P2" not in desk.rows


async def test_what_a_helper_carries_stands_at_its_visits_with_the_usual_caution(tmp_path: Path) -> None:
    reference_school(tmp_path, school=SMALL_CART)
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await open_route(desk)
        await desk.press("4 enter")
        assert "counted sharps are handed over counted, and to an adult" in desk.screen
        assert "nothing heavier than 5 kg (common practice, no source)" in desk.screen.replace("\n   ", " ")
        assert f"A helper carries Box 3{said_to_weigh(desk, 'box-3')}" in desk.screen
        await desk.press(choice(desk, "A helper carries Box 3"))
        assert "A helper brings Box 3, and takes it on to V4 after." in desk.screen
        assert "A helper brings Box 3, and takes it back to the store after." in desk.screen


def said_to_weigh(desk: Desk, container: str) -> str:
    """What its masses come to on the list; nothing where none is known."""
    kilograms = next(each.kilograms for each in desk.book.day(MONDAY).containers if each.id == container)
    return "" if kilograms is None else f", {kilograms:.1f} kg"


async def test_where_nothing_fits_her_own_wish_in_the_way_comes_first_and_a_digit_takes_it_back(tmp_path: Path) -> None:
    """Box 1, Box 3 and the Stitching kit are 5 half slots on a cart of 4, where Box 1 cannot be left and no stop is."""
    school = {
        "cart": {"half_slots": 4, "standing": {"scissors": 30}},
        "route": {"leave_in": {"9": "never"}, "stops": {"P2": "never"}},
    }
    reference_school(tmp_path, school=school)
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await open_route(desk)
        assert desk.book.route(MONDAY).plan is None
        assert "1 Take back: " in desk.screen
        await desk.press("1")
        assert desk.book.route(MONDAY).plan is not None
        assert "everything fits then" in desk.screen


async def test_where_nothing_fits_a_helper_is_chosen_by_a_digit(tmp_path: Path) -> None:
    """With no time before school, and no stop after V2, nothing makes room for Box 1 beside Box 3 and Stitching."""
    school = {"cart": {"half_slots": 4, "standing": {"scissors": 30}}, "route": {"stops": {"P2": "never"}}}
    reference_school(tmp_path, school={**school, "habits": {"leave_ahead_before_school": 0}})
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await open_route(desk)
        assert desk.book.route(MONDAY).plan is None
        await desk.press(choice(desk, "A helper carries Box 1"))
        route = desk.book.route(MONDAY)
        assert route.plan is not None
        assert route.helped == ("box-1",)


async def test_after_a_change_the_best_route_anew_keeps_what_has_begun(tmp_path: Path) -> None:
    reference_school(tmp_path, school=SMALL_CART)
    async with at_desk(tmp_path, now=datetime(2026, 10, 5, 8, 10)) as desk:
        desk.book.do(MONDAY, Changed(at=datetime(2026, 10, 5, 8, 5), away=("2-R",)))
        await open_route(desk)
        route = desk.book.route(MONDAY)
        assert route.like is not None
        begun = route.problem.begun.legs
        await desk.press("a")
        anew = desk.book.route(MONDAY)
        assert anew.like is None
        assert anew.plan is not None
        assert [leg.rides for leg in anew.plan.legs[: len(begun)]] == [leg.rides for leg in begun]
        await desk.press("u")
        assert desk.book.route(MONDAY).like is not None


async def test_with_nothing_changed_there_is_no_better_route_to_ask_for(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_route(desk)
        await desk.press("a")
        assert "It is the best route already." in desk.screen
        assert desk.entries() == 0


async def go_to_row(desk: Desk, key: str) -> None:
    """Down to a row."""
    for _ in range(60):
        if desk.in_hand == key:
            return
        await desk.press("down" if desk.rows.index(key) > desk.rows.index(desk.in_hand) else "up")
    raise AssertionError(f"{key} cannot be reached:\n{desk.screen}")


async def test_a_walk_nobody_has_said_is_asked_where_the_route_depends_on_it(tmp_path: Path) -> None:
    """Without the walk from Room 9 to Room 12 it is taken to go by the store: 1 + 2 min."""
    unknown_walk(tmp_path)
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await open_route(desk)
        await desk.app.workers.wait_for_complete()
        await desk.pilot.pause()
        key = next(row for row in desk.rows if row.startswith("walk/"))
        assert "NOT KNOWN" in desk.screen
        await go_to_row(desk, key)
        await desk.press("1 2 backspace")
        assert "1_ min from" in desk.screen
        await desk.press("enter")
        start, end = key.split("/")[1:]
        assert read_plan(tmp_path).plan.walk_minutes[frozenset((start, end))] == 1
        assert key not in desk.rows
        await desk.press("u")
        assert frozenset((start, end)) not in desk.book.plan.walk_minutes


async def test_enter_alone_says_that_a_walk_is_as_long_as_assumed(tmp_path: Path) -> None:
    unknown_walk(tmp_path)
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await open_route(desk)
        await desk.app.workers.wait_for_complete()
        await desk.pilot.pause()
        key = next(row for row in desk.rows if row.startswith("walk/"))
        _, start, end = key.split("/")
        assumed = walk_between(desk.book.plan, start, end)
        await go_to_row(desk, key)
        await desk.press("enter")
        assert desk.book.plan.walk_minutes[frozenset((start, end))] == assumed


def unknown_walk(folder: Path) -> None:
    """The test school, with only the walks from the store said."""
    reference_school(folder)
    school = tomllib.loads((folder / "school.toml").read_text())
    school["walks"] = [each for each in school["walks"] if "store" in each["between"]]
    write_toml(folder / "school.toml", school)


async def test_of_a_visit_that_is_over_nothing_can_be_chosen_any_more(tmp_path: Path) -> None:
    """At 9:40 V1 and V2 are over, and V3 has begun: only the stop after it can still be made or not."""
    async with at_desk(tmp_path, now=datetime(2026, 10, 5, 9, 40)) as desk:
        await open_route(desk)
        await desk.press("1 enter")
        assert "nothing to choose here" in desk.screen
        await desk.press("3 enter")
        assert "Always by the store after V3 (P3)" in desk.screen
        assert "Box 3" not in desk.screen


async def test_u_says_that_what_it_takes_back_was_not_of_the_route(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await desk.press("space")
        await open_route(desk)
        await desk.press("u")
        assert "Taken back, not of the route but of the day's list: " in desk.screen
        await desk.press("u")
        assert "Nothing left to take back." in desk.screen


async def test_a_wish_that_changes_nothing_is_offered_as_one_that_costs_nothing(tmp_path: Path) -> None:
    """With 8 half slots everything rides along, and she is at the store in the breaks only."""
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await open_route(desk)
        await desk.press("2 enter")
        row = next(row for row in desk.screen.splitlines() if "Never by the store after V2" in row)
        assert row.rstrip().endswith("costs nothing")
