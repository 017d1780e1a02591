"""Heavy boxes, pails, boxes that do not close, what the cart carries. Masses, limits: common practice, no source."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from checklists.book import Book
from checklists.daybook.entries import Changed, FoundInContainer, Packed, Reported
from checklists.daybook.line_states import has_now, state_of
from checklists.daybook.state import Progress
from checklists.lines.records import Day
from tests.days import at, day_of, line_of, lines_of, opened
from tests.schools import MONDAY, a_class, a_lesson, a_part, a_supply, an_item, reference_school, small_school


def clay_school(tmp_path: Path, students: int = 26, **box: Any) -> Path:
    """4-D works clay: portions of 340 g, mats of 60 g, tools that weigh 800 g together."""
    exact = {"at_least": 0, "percent": 0}
    items = [
        an_item("clay-portion", critical=True),
        an_item("clay-board", into="box"),
        an_item("tool-roll", per="class", into="box"),
    ]
    return small_school(
        tmp_path,
        classes=[a_class("4-D", room="12", students=students)],
        timetable={"Mon": {"P1": "4-D"}},
        teaching={"4": ["owls"]},
        supplies=[
            a_supply("clay-portion", "clay portion", grams=340, spare={"at_least": 3, "percent": 0}),
            a_supply("clay-board", kind="tool", grams=60, spare=exact),
            a_supply("tool-roll", kind="tool", grams=800, spare=exact),
        ],
        lessons=[a_lesson("owls", [a_part("pinch", items)])],
        boxes=[{"grade": "4", **box}],
    )


def warned(day: Day, what: str) -> list[tuple[str, bool]]:
    return [(each.what, each.critical) for each in day.cautions if f"/{what}" in each.key]


def test_a_box_of_clay_over_the_limit_goes_into_two_pails_of_15_and_14_portions(tmp_path: Path) -> None:
    day = day_of(clay_school(tmp_path))
    # 29 portions are 9.9 kg; with the box, 26 boards and the tools 13.4 kg, over 11.
    pails = lines_of(day, "clay-portion")
    assert [(line.name, line.need) for line in pails] == [
        ("clay portion, pail 1 of 2", 15),
        ("clay portion, pail 2 of 2", 14),
    ]
    assert [round(line.need * 0.34, 1) for line in pails] == [5.1, 4.8]
    assert all(line.critical for line in pails)


def test_what_stays_in_the_box_is_what_the_box_weighs(tmp_path: Path) -> None:
    day = day_of(clay_school(tmp_path))
    box = next(each for each in day.containers if each.id == "box-4")
    assert box.kilograms == round((26 * 60 + 800) / 1000, 1)
    assert warned(day, "heavy") == []


def test_a_box_within_the_limit_keeps_one_line(tmp_path: Path) -> None:
    day = day_of(clay_school(tmp_path, students=16))
    assert line_of(day, "clay-portion").need == 19


def packed(tmp_path: Path) -> tuple[Book, Day]:
    book = opened(clay_school(tmp_path))
    return book, book.day(MONDAY)


def test_both_pails_are_ticked_by_themselves_and_the_box_remembers_the_sum(tmp_path: Path) -> None:
    book, day = packed(tmp_path)
    first, second = lines_of(day, "clay-portion")
    book.do(MONDAY, Packed(at=at("7:35"), line=first.key, count=15))
    assert [state_of(line, book.marks(MONDAY)) for line in (first, second)] == ["packed", "open"]
    (visit,) = day.visits
    book.do(MONDAY, Reported(at=at("7:35"), visit=visit.key, outcome="not taught"))
    assert book.closing_of(MONDAY).contents["box-4"]["clay-portion"] == 15
    book.do(MONDAY, Packed(at=at("7:36"), line=second.key, count=14))
    assert book.closing_of(MONDAY).contents["box-4"]["clay-portion"] == 29


def test_after_the_visit_the_spare_is_what_is_left_of_them(tmp_path: Path) -> None:
    book, day = packed(tmp_path)
    for line in lines_of(day, "clay-portion"):
        book.do(MONDAY, Packed(at=at("7:35"), line=line.key, count=line.need))
    (visit,) = day.visits
    book.do(MONDAY, Reported(at=at("8:50"), visit=visit.key, outcome="done", absences_known=True))
    assert book.closing_of(MONDAY).contents["box-4"]["clay-portion"] == 3


def test_a_count_of_all_pails_fills_them_one_after_the_other(tmp_path: Path) -> None:
    book, day = packed(tmp_path)
    first, second = lines_of(day, "clay-portion")
    book.do(MONDAY, Packed(at=at("7:35"), line=second.key, count=14))
    book.do(MONDAY, FoundInContainer(at=at("7:40"), container="box-4", supply="clay-portion", count=20))
    assert [has_now(line, book.marks(MONDAY)) for line in (first, second)] == [15, 5]


def test_a_box_that_is_heavy_without_anything_to_split_is_warned_of_and_above_16_kg_it_is_critical(
    tmp_path: Path,
) -> None:
    def a_day(grams: int, name: str) -> Day:
        folder = small_school(
            tmp_path / name,
            classes=[a_class("4-D", room="12", students=24)],
            timetable={"Mon": {"P1": "4-D"}},
            teaching={"4": ["press"]},
            supplies=[a_supply("press", kind="tool", grams=grams, spare={"at_least": 0, "percent": 0})],
            lessons=[a_lesson("press", [a_part("press", [an_item("press", per="class", into="box")])])],
            boxes=[{"grade": "4"}],
        )
        return day_of(folder)

    assert warned(a_day(10_800, "heavy"), "heavy") == [("Box 4 is 12 kg packed: take some of it by itself.", False)]
    assert warned(a_day(15_800, "too heavy"), "heavy") == [("Box 4 is 17 kg packed: nobody lifts that alone.", True)]
    assert warned(a_day(9_000, "light"), "heavy") == []


def two_lessons(tmp_path: Path, litres: float) -> Day:
    """3-B and 3-K on different lessons out of one box of 28 L, filled to 80 %: 22.4 L."""
    exact = {"at_least": 0, "percent": 0}
    folder = small_school(
        tmp_path,
        supplies=[
            a_supply("nest", litres=litres, spare=exact),
            a_supply("wool", litres=0.3, spare=exact),
        ],
        lessons=[
            a_lesson("nests", [a_part("build", [an_item("nest")]), a_part("line", [an_item("wool")])]),
            a_lesson("lambs", [a_part("wind", [an_item("wool")])]),
        ],
        teaching={"3": ["nests", "lambs"]},
    )
    return day_of(folder, progress={"3-K": Progress("lambs", 1, lessons_done=("nests",))})


def test_two_lessons_that_do_not_fit_one_box_are_said_before(tmp_path: Path) -> None:
    (said,) = warned(two_lessons(tmp_path, litres=0.9), "full")  # 24 x 0.9 + 22 x 0.3 = 28.2 L
    assert said == ("Box 3 does not close: about 28 L for Nests and Lambs, room for 22.4 L.", False)


def test_two_lessons_that_fit_say_nothing(tmp_path: Path) -> None:
    assert warned(two_lessons(tmp_path, litres=0.6), "full") == []  # 21.0 L


def test_a_cart_over_what_she_pushes_is_warned_of_by_leg(tmp_path: Path) -> None:
    folder = small_school(
        tmp_path,
        classes=[a_class(f"{grade}-B", room="12", students=20) for grade in ("3", "4")],
        timetable={"Mon": {"P1": "3-B", "P2": "4-B"}},
        teaching={"3": ["press"], "4": ["press"]},
        supplies=[a_supply("slab", kind="tool", grams=1_900, spare={"at_least": 0, "percent": 0})],
        lessons=[a_lesson("press", [a_part("press", [an_item("slab", per="table", into="cart")])])],
        boxes=[],
    )
    text = (folder / "school.toml").read_text()
    (folder / "school.toml").write_text(text.replace("[cart.standing]", "[cart]\nlimit_kg = 10\n\n[cart.standing]"))
    (said,) = warned(day_of(folder), "cart")  # six slabs, 11.4 kg, and the 30 scissors that stand on it, 1.2 kg
    assert said == ("From V1 on the cart carries 13 kg: leave a box ahead, or stop at the store between.", False)


def test_more_folders_than_lie_on_top_are_named_with_where_they_ride(tmp_path: Path) -> None:
    day = day_of(reference_school(tmp_path), progress={"3-B": Progress("burlap-birds", 2)})
    (said,) = warned(day, "top tray")  # before lunch four classes have folders, after it three
    assert said == ("4 folders from V1 on: 3 lie on top, the folder of 3-K rides in the box.", False)


def test_a_day_without_mess_says_so_of_wet_work(tmp_path: Path) -> None:
    day = day_of(reference_school(tmp_path), change=Changed(at=at("7:30"), no_mess=True))
    mess = [each.visit for each in day.cautions if each.key.split("/")[3] == "no-mess-today"]
    assert mess == ["P5 2-R", "P6 4-D"]


def test_filled_for_the_week_the_pails_are_equal_and_todays_are_the_first(tmp_path: Path) -> None:
    folder = clay_school(tmp_path)
    text = (folder / "classes.toml").read_text(encoding="utf-8")
    twice = text.replace('[timetable.Mon]\nP1 = "4-D"', '[timetable.Mon]\nP1 = "4-D"\n\n[timetable.Thu]\nP1 = "4-D"')
    (folder / "classes.toml").write_text(twice.replace('4 = [\n    "owls",', '4 = [\n    "owls",\n    "again",'))
    lesson = (folder / "lessons" / "owls.toml").read_text(encoding="utf-8").replace('"owls"', '"again"')
    (folder / "lessons" / "again.toml").write_text(lesson, encoding="utf-8")
    pails = lines_of(day_of(folder, change=Changed(at=at("7:30"), fill="week")), "clay-portion")
    # 26 today and on Thursday and 3 spare once: 55 portions, 18.7 kg, in four pails of at most 6 kg.
    assert [(pail.need, pail.ahead) for pail in pails] == [(14, 0), (14, 0), (1, 13), (0, 13)]
    assert [pail.critical for pail in pails] == [True, True, True, False]
