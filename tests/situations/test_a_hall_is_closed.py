"""Hall B is closed, a way takes longer, the elevator is out: every minute of the day that depends on a walk.

Numbers of the reference school, common practice, no source. Rooms 12 and 14 are in hall B.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.daybook.marks import Marks
from checklists.lines.records import Day
from checklists.route.day_route import route_of
from checklists.route.stops import way_of
from checklists.taught_periods import bells_on
from tests.commandline.running import on_monday
from tests.days import at, opened
from tests.schools import MONDAY, Entry, a_room, reference_school
from tests.situations.changing import changed, decision_of
from tests.tui.desk import at_desk

ROOMS = [
    *(a_room(each, sink=False) for each in ("4", "9", "11")),
    *(a_room(each, sink=True, wing="B") for each in ("12", "14")),
    *(a_room(each, sink=True, upstairs=True) for each in ("21", "23")),
]


def school(folder: Path, half_slots: int = 20) -> Path:
    cart: dict[str, Entry] = {"half_slots": half_slots, "standing": {"scissors": 30}}
    more = {"cart": cart} if half_slots < 20 else {}
    return reference_school(folder, school={"rooms": ROOMS, "habits": {"filler": "leaf-rubbings"}, **more})


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(school(tmp_path / "school"))


def walks(day: Day) -> list[int]:
    return [visit.walk_before for visit in day.visits]


def late(book: Book, day: Day) -> int:
    plan = route_of(book.plan, day, Marks()).plan
    assert plan is not None
    return plan.cost.late


def test_into_the_hall_and_out_of_it_takes_longer_and_within_it_does_not(book: Book) -> None:
    assert walks(book.day(MONDAY)) == [2, 1, 1, 1, 4, 4, 1]
    with changed(book, longer_ways={"B": 3}) as day:
        assert walks(day) == [2, 1, 4, 1, 7, 4, 1]
        assert [visit.swap_minutes_before for visit in day.visits][2:5] == [1 + 2 + 5, 5 + 2 + 5, 5 + 2 + 2]


def test_the_route_counts_with_the_longer_way(book: Book) -> None:
    assert late(book, book.day(MONDAY)) == 5
    with changed(book, longer_ways={"b": 5}) as day:
        assert late(book, day) == 6  # Room 9 to Room 12: 6 min against 5


def test_when_to_leave_the_store_what_to_fetch_and_when_it_opens_too_late_go_by_it(book: Book) -> None:
    with changed(book, longer_ways={"4": 3}) as day:
        assert day.leave_by == 8 * 60 - (2 + 3) - 4 - 2
        stop = way_of(book.plan, bells_on(book.plan, None), day, route_of(book.plan, day, Marks())).stops[0]
        assert stop.leave_by == day.leave_by
    with changed(book, store_opens="7:52", longer_ways={"4": 3}) as day:
        assert "1 min too late for V1 K-M" in decision_of(day, "K-M").text
    with changed(book, store_opens="7:52") as day:
        assert day.decisions == ()


def test_without_the_elevator_the_way_upstairs_is_by_the_store_and_the_stairs(book: Book) -> None:
    with changed(book, elevator_out=True) as day:
        assert walks(day) == [2, 1, 1, 1, 4, 2 + 3, 1]
        # V2 1 min; to V6 2 min to the store and two trips by the stairs, 3 + 6; V7 by the store again, 3 + 3 in 5 min
        assert late(book, day) == 1 + (2 + 9) + 1
    with changed(book, elevator_out=True, longer_ways={"21": 2}) as day:
        assert walks(day)[5:] == [2 + 3 + 2, 1 + 2]
        assert day.visits[5].by_hand == 3 + 2


def test_one_way_after_the_other_and_each_taken_back_by_nought(book: Book) -> None:
    usual = book.day(MONDAY)
    for said in ({"B": 3}, {"4": 1}, {"B": 0}):
        book.do(MONDAY, Changed(at=at("6:30"), longer_ways=said))
    assert walks(book.day(MONDAY)) == [3, 2, 1, 1, 4, 4, 1]
    assert book.undo(MONDAY) == "the day changed: the usual way to wing B"
    assert book.undo(MONDAY) == "the day changed: 1 min more to and from Room 4"
    assert walks(book.day(MONDAY)) == [2, 1, 4, 1, 7, 4, 1]
    book.undo(MONDAY)
    assert book.day(MONDAY) == usual


def test_by_command_with_what_follows_and_what_is_no_place(tmp_path: Path) -> None:
    data = school(tmp_path / "school")
    said = " ".join(on_monday("change", "--longer-way", "hall b=5", "--longer-way", "4=1", data=data).out.split())
    assert "5 min more to and from wing B, 1 min more to and from Room 4" in said
    assert "The walk to V3 3-B takes 6 min, before it took 1; 5 min are between the bells." in said
    wrong = on_monday("change", "--longer-way", "C=5", data=data)
    assert wrong.status == 2
    assert "--longer-way: C is no wing or room of the plan." in wrong.err
    too_long = on_monday("change", "--longer-way", "B=31", data=data)
    assert "write it like B=2 or 12=3" in too_long.err


def test_nothing_more_than_0_has_every_way_as_usual_again(tmp_path: Path) -> None:
    data = school(tmp_path / "school")
    with opened(data) as book:
        as_planned = walks(book.day(MONDAY))
    usual = on_monday("change", "--longer-way", "0", data=data)
    assert (usual.status, usual.err.strip()) == (2, "--longer-way 0: every way is as usual already.")
    on_monday("change", "--longer-way", "B=5", "--longer-way", "4=1", data=data)
    again = " ".join(on_monday("change", "--longer-way", "0", data=data).out.split())
    assert "the usual way to wing B, the usual way to Room 4" in again
    with opened(data) as book:
        assert walks(book.day(MONDAY)) == as_planned


def test_the_way_told_is_the_one_really_gone_by_the_store(tmp_path: Path) -> None:
    """With two slots she goes by the store before V3, as the route has it."""
    data = school(tmp_path / "school", half_slots=4)
    told = before_and_after(data)
    said = " ".join(on_monday("change", "--longer-way", "B=3", data=data).out.split())
    for name, took, minutes, by_store in told:
        words = f"The walk to {name} takes {minutes} min{' by the store' if by_store else ''}, before it took {took}"
        assert (words in said) is (took != minutes), words
    assert any(by_store and took != minutes for _, took, minutes, by_store in told)


def before_and_after(data: Path) -> list[tuple[str, int, int, bool]]:
    """Each visit after the first with the minutes of its way on the route, before hall B is closed and after."""
    with opened(data) as book:
        day, usual = book.day(MONDAY), book.route(MONDAY).told
        with changed(book, longer_ways={"B": 3}):
            closed = book.route(MONDAY).told
    assert usual is not None and closed is not None
    ways = zip(day.visits, usual.ways, closed.ways, strict=True)
    return [(f"{visit.name} {visit.class_id}", was.minutes, way.minutes, way.by_store) for visit, was, way in ways][1:]


async def test_on_screen_it_is_typed_and_enter_alone_takes_it_back(tmp_path: Path) -> None:
    school(tmp_path)
    async with at_desk(tmp_path) as desk:
        await desk.press("t l")
        assert "where, and minutes more, as B +2" in desk.screen
        await desk.press("b space plus 3 enter")
        assert walks(desk.book.day(MONDAY)) == [2, 1, 4, 1, 7, 4, 1]
        assert "3 min more to and from wing B" in desk.screen
        await desk.press("t")
        assert "wing B 3 min more" in desk.screen
        await desk.press("l x y space 3 enter")
        assert '"xy" is no room or wing; the wings are B.' in desk.screen
        await desk.press("l enter")
        assert walks(desk.book.day(MONDAY)) == [2, 1, 1, 1, 4, 4, 1]
