"""Tools: laid out by tables, tied up in unfinished work, and out in several containers at one time.

Quantities are common practice, no source.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from checklists.daybook.entries import Packed, Reported
from checklists.daybook.marks import Marks
from checklists.daybook.state import Progress, State
from checklists.daybook.stock_now import stock_now
from checklists.files.plan_folder import read_plan
from checklists.lines.records import Day
from checklists.lines.tied_up import tied_up
from tests.days import THURSDAY, at, day_of, line_of, opened
from tests.schools import a_class, a_kit, a_lesson, a_part, a_supply, an_item, small_school

HOOPS = a_lesson(
    "yarn-hoops",
    [
        a_part("stretch the cloth", [an_item("hoop", stays_in_work=True)], tags=["stitching"]),
        a_part("stitch", [an_item("hoop", stays_in_work=True), an_item("yarn-ball")], tags=["stitching"]),
        a_part("finish", [an_item("yarn-ball")], tags=["stitching"]),
    ],
)


def hoop_school(tmp_path: Path, **changes: Any) -> Path:
    supplies = [
        a_supply("hoop", kind="tool", on_hand=100, spare={"at_least": 1, "percent": 5}),
        a_supply("yarn-ball"),
    ]
    plan = {"lessons": [HOOPS], "teaching": {"3": ["yarn-hoops"]}, "supplies": supplies, **changes}
    return small_school(tmp_path, **plan)


def cautions(day: Day, what: str) -> list[str]:
    return [caution.what for caution in day.cautions if f"/{what}" in caution.key]


def test_hoops_that_stay_in_the_work_add_up_over_the_visits(tmp_path: Path) -> None:
    hoops = line_of(day_of(hoop_school(tmp_path)), "hoop")
    assert hoops.need == 24 + 22 + 3  # each class keeps its own: the sum and 5 % of it, at least 1
    assert hoops.stays_in_work


def test_a_later_part_that_lists_them_again_needs_none(tmp_path: Path) -> None:
    places = {"3-B": Progress("yarn-hoops", 2), "3-K": Progress("yarn-hoops", 1)}
    hoops = line_of(day_of(hoop_school(tmp_path), progress=places), "hoop")
    assert hoops.visits == ("P2 3-K",)
    assert hoops.need == 22 + 2


def test_they_are_tied_up_until_the_last_part_is_done(tmp_path: Path) -> None:
    plan = read_plan(hoop_school(tmp_path)).plan
    assert plan is not None
    by_part = {part: tied_up(plan, State(progress={"3-B": Progress("yarn-hoops", part)})) for part in (1, 2, 3)}
    assert by_part == {1: {}, 2: {"hoop": {"3-B": 24}}, 3: {"hoop": {"3-B": 24}}}
    assert tied_up(plan, State(progress={"3-B": Progress("", 1, lessons_done=("yarn-hoops",))})) == {}


def test_what_is_in_other_work_is_not_on_the_shelf(tmp_path: Path) -> None:
    hoops = line_of(day_of(hoop_school(tmp_path), progress={"3-B": Progress("yarn-hoops", 3)}), "hoop")
    assert hoops.on_shelf == 100 - 24


def test_the_stock_of_a_day_counts_them_as_away(tmp_path: Path) -> None:
    plan = read_plan(hoop_school(tmp_path)).plan
    assert plan is not None
    places = {"3-B": Progress("yarn-hoops", 3), "3-K": Progress("", 1, lessons_done=("yarn-hoops",))}
    opening = State(progress=places, on_hand={"hoop": 100}, contents={"box-3": {"hoop": 6}})
    stock = stock_now(plan, day_of(tmp_path, progress=places), Marks(), opening)
    assert stock.on_shelf("hoop") == 100 - 6 - 24


def test_after_the_visit_they_have_left_the_box_and_are_hers_all_the_same(tmp_path: Path) -> None:
    book = opened(hoop_school(tmp_path))
    hoops = line_of(book.day(book.today), "hoop")
    book.do(book.today, Packed(at=at("7:35"), line=hoops.key, count=49))
    for visit in book.day(book.today).visits:
        book.do(book.today, Reported(at=at("9:40"), visit=visit.key, outcome="done", absences_known=True))
    after = book.closing_of(book.today)
    assert after.contents["box-3"]["hoop"] == 49 - 46
    assert after.on_hand["hoop"] == 100
    assert [line for line in book.day(THURSDAY).lines if line.supply == "hoop"] == []


def test_more_hoops_wanted_than_there_are_beside_those_in_work_is_said_before(tmp_path: Path) -> None:
    supplies = [a_supply("loom", kind="tool", on_hand=40), a_supply("yarn-ball")]
    lessons = [
        a_lesson("weave", [a_part("warp", [an_item("loom", stays_in_work=True)]), a_part("weave", [an_item("loom")])]),
        a_lesson("show", [a_part("look", [an_item("loom")])]),
    ]
    classes = [a_class("3-B", room="12", students=24), a_class("4-K", room="14", students=20)]
    folder = small_school(
        tmp_path,
        supplies=supplies,
        lessons=lessons,
        classes=classes,
        teaching={"3": ["weave"], "4": ["show"]},
        timetable={"Mon": {"P2": "4-K"}, "Thu": {"P1": "3-B"}},
        boxes=[],
    )
    day = day_of(folder, progress={"3-B": Progress("weave", 2)})
    (said,) = cautions(day, "at once/loom")
    assert said == "21 loom wanted at one time (Box 4 21); you have 16, 24 more are in unfinished work."


def two_boxes(tmp_path: Path, owned: int, breaks: bool = False) -> Day:
    """3-B and 4-K in turn, each with scissors in its own box."""
    lesson = [a_lesson("cut", [a_part("cut", [an_item("shears", critical=True)])])]
    folder = small_school(
        tmp_path,
        supplies=[a_supply("shears", kind="tool", on_hand=owned, spare={"at_least": 1, "percent": 5})],
        lessons=lesson,
        classes=[a_class("3-B", room="12", students=24), a_class("4-K", room="14", students=22)],
        teaching={"3": ["cut"], "4": ["cut"]},
        timetable={"Mon": {"P1": "3-B", "P2": "4-K"}},
        boxes=[],
    )
    if breaks:
        text = (folder / "school.toml").read_text().replace('start = "11:10"', 'start = "8:46"')
        (folder / "school.toml").write_text(text.replace('end = "11:45"', 'end = "8:49"'))
    return day_of(folder)


def test_containers_that_are_out_together_each_need_their_own(tmp_path: Path) -> None:
    (said,) = cautions(two_boxes(tmp_path, owned=40), "at once/shears")
    assert said == "50 shears wanted at one time (Box 3 26 and Box 4 24); you have 40."


def test_enough_for_both_says_nothing(tmp_path: Path) -> None:
    assert cautions(two_boxes(tmp_path, owned=50), "at once/shears") == []


def test_with_a_break_at_the_store_between_them_the_same_tools_serve_both(tmp_path: Path) -> None:
    assert cautions(two_boxes(tmp_path, owned=40, breaks=True), "at once/shears") == []


def test_a_class_of_24_at_six_tables_gets_six_trays_of_four(tmp_path: Path) -> None:
    lessons = [a_lesson("cut", [a_part("cut", [an_item("shears")])])]
    supplies = [a_supply("shears", kind="tool", spare={"at_least": 2, "percent": 0})]
    folder = small_school(tmp_path, supplies=supplies, lessons=lessons, teaching={"3": ["cut"]})
    assert line_of(day_of(folder), "shears").sets == "6 trays of 4, 2 spare"


def test_what_does_not_divide_makes_two_kinds_of_trays_and_single_desks_none(tmp_path: Path) -> None:
    lessons = [a_lesson("cut", [a_part("cut", [an_item("shears")])])]
    supplies = [a_supply("shears", kind="tool", spare={"at_least": 0, "percent": 0})]
    classes = [a_class("3-B", room="12", students=23), a_class("3-K", room="14", students=0)]
    plan: dict[str, Any] = {"supplies": supplies, "lessons": lessons, "teaching": {"3": ["cut"]}}
    day = day_of(small_school(tmp_path / "tables", classes=classes, **plan))
    assert line_of(day, "shears").sets == "5 trays of 4, 1 tray of 3"
    classes = [a_class("3-B", room="12", students=23, tables=23), a_class("3-K", room="14", students=0)]
    assert line_of(day_of(small_school(tmp_path / "desks", classes=classes, **plan)), "shears").sets == ""


def test_a_kit_is_a_container_of_its_own_at_the_same_time(tmp_path: Path) -> None:
    lessons = [
        a_lesson("cut", [a_part("cut", [an_item("shears")])]),
        a_lesson("snip", [a_part("snip", [an_item("shears")])], kits=["snipping"]),
    ]
    folder = small_school(
        tmp_path,
        supplies=[a_supply("shears", kind="tool", on_hand=30, spare={"at_least": 0, "percent": 0})],
        lessons=lessons,
        kits=[a_kit("snipping", {"shears": 24})],
        classes=[a_class("3-B", room="12", students=24), a_class("4-K", room="14", students=22)],
        teaching={"3": ["snip"], "4": ["cut"]},
        timetable={"Mon": {"P1": "3-B", "P2": "4-K"}},
        boxes=[],
    )
    (said,) = cautions(day_of(folder), "at once/shears")
    assert said == "46 shears wanted at one time (Snipping kit 24 and Box 4 22); you have 30."
