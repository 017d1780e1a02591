"""Guests of a class that is away, an absent aide, and a class that goes on. Situations T13, T23 and T27.

Numbers are those of the reference school: common practice, no source.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.commandline.running import Ran, monday_lines, on_monday, trundle
from tests.days import NEXT_DAY_A, after_the_battery_died, opened
from tests.schools import (
    MONDAY,
    a_class,
    a_lesson,
    a_part,
    a_supply,
    an_item,
    in_the_evening,
    reference_school,
    small_school,
)

NEXT_A = NEXT_DAY_A.isoformat()


def words(ran: Ran) -> str:
    assert (ran.status, ran.err) == (0, "")
    assert all(len(row) <= 80 for row in ran.out.splitlines())
    return " ".join(ran.out.split())


def morning(data: Path, on: str = "2026-10-05") -> dict[str, Any]:
    return trundle("morning", "--json", "--date", on, "--at", "7:41", data=data).fields


def lines(data: Path, on: str = "2026-10-05") -> dict[str, dict[str, Any]]:
    return {each["key"]: each for each in morning(data, on)["lines"]}


def part_of(data: Path, class_id: str, on: str = NEXT_A) -> list[tuple[str, int]]:
    (visit,) = [each for each in morning(data, on)["visits"] if each["class"] == class_id]
    return [(each["lesson"], each["part"]) for each in visit["steps"]]


def close_as_planned(data: Path, *, but: tuple[str, ...] = ()) -> str:
    for visit in morning(data)["visits"]:
        if visit["class"] not in but:
            on_monday("report", visit["name"], "--as-planned", data=data, at="15:00")
    return words(on_monday("close", data=data, at="15:10"))


# --------------------------------------------------------------------------- T13 3-B is away, two join 3-K


@pytest.fixture
def two_join_3_k(tmp_path: Path) -> Path:
    """3-B is on a trip; two children stay and join the 25 of 3-K."""
    data = reference_school(tmp_path)
    assert on_monday("change", "--away", "3-B", "--with", "3-B:3-K=2", data=data).status == 0
    return data


def test_the_class_that_has_guests_is_packed_for_all_of_them(two_join_3_k: Path) -> None:
    found = lines(two_join_3_k)
    assert found["box-3/yarn-ball"]["need"] == 27 + 3
    assert found["stitching/blunt-needle"]["need"] == 27 + 2
    (visit,) = [each for each in morning(two_join_3_k)["visits"] if each["class"].startswith("3")]
    assert (visit["class"], visit["students"]) == ("3-K", 27)


def test_scissors_go_out_to_fourteen_pairs(two_join_3_k: Path) -> None:
    """14 pairs and 1 spare; the line on the cart is for the 29 of 5-H."""
    look = on_monday("close", "--look", "--json", data=two_join_3_k, at="15:00").fields["matters"]
    (count,) = [each for each in look if each["key"].startswith("count/P4 3-K") and "scissors" in each["text"]]
    assert "15" in count["text"]
    assert lines(two_join_3_k)["cart/scissors"]["need"] == 29


def test_the_folder_of_the_class_that_is_away_comes_for_its_two(two_join_3_k: Path) -> None:
    folder = lines(two_join_3_k)["box-3/folder 3-B"]
    assert folder["visits"] == ["P4 3-K"]
    assert any("2 children of 3-B with 3-K" in each["text"] for each in folder["because"])


def test_the_change_says_what_it_does(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    on_monday("tick", str(monday_lines(data)["yarn-ball"]["number"]), data=data, at="7:30")
    said = words(on_monday("change", "--away", "3-B", "--with", "3-B:3-K=2", data=data))
    assert "3-B away, 2 of 3-B with 3-K" in said
    assert "V3 3-K, Room 14: 27 children instead of 25, 2 of 3-B among them" in said
    assert "Box 3: 24 yarn ball, 6 yd (30 are needed)" in said  # 54 were packed


def test_the_change_for_scripts(two_join_3_k: Path) -> None:
    again = on_monday("change", "--with", "3-B:3-K=3", "--json", data=two_join_3_k).fields
    (visit,) = again["other_children"]
    assert (visit["class"], visit["students_before"], visit["students"]) == ("3-K", 27, 28)


def test_the_class_that_is_away_stays_at_its_part(two_join_3_k: Path) -> None:
    close_as_planned(two_join_3_k)
    assert part_of(two_join_3_k, "3-B") == [("burlap-birds", 2)]
    assert part_of(two_join_3_k, "3-K") == [("burlap-birds", 3)]


def test_undo_brings_3_b_back(two_join_3_k: Path) -> None:
    assert "3-B away, 2 of 3-B with 3-K" in on_monday("undo", data=two_join_3_k).out
    found = lines(two_join_3_k)
    assert (found["box-3/yarn-ball"]["need"], found["stitching/blunt-needle"]["need"]) == (54, 27)


def test_nobody_joins_after_all(two_join_3_k: Path) -> None:
    assert on_monday("change", "--with", "none", data=two_join_3_k).status == 0
    assert lines(two_join_3_k)["box-3/yarn-ball"]["need"] == 28  # 25 and 3 spare: 3-B is still away
    assert "box-3/folder 3-B" not in lines(two_join_3_k)


def test_guests_are_on_the_disk_when_they_are_shown(tmp_path: Path) -> None:
    data = reference_school(tmp_path / "school")
    on_monday("change", "--away", "3-B", "--with", "3-B:3-K=2", data=data)
    left = after_the_battery_died(opened(data), into=tmp_path / "died")
    (visit,) = [each for each in left.day(MONDAY).visits if each.class_id == "3-K"]
    assert visit.students == 27


def test_fewer_or_more_than_planned_come(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said = words(on_monday("change", "--students", "3-K=27", data=data))
    assert "V4 3-K, Room 14: 27 children instead of 25" in said
    assert lines(data)["box-3/yarn-ball"]["need"] == 24 + 27 + 6


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("--with", "3-B:3-B=2"), "3-B cannot join itself"),
        (("--with", "3-B:3-K"), "write it like 3-B:3-K=2"),
        (("--with", "3-B:3-K=25"), "3-B has 24 children"),
        (("--away", "3-K", "--with", "3-B:3-K=2"), "3-K is away itself"),
        (("--with", "3-B:3-Q=2"), "Did you mean 3-"),
        (("--students", "3-K"), "write it like 3-K=27"),
        (("--students", "3-Q=20"), "Did you mean 3-"),
        (("--adults", "3-K=0"), "you are in the room yourself"),
        (("--lesson", "V5"), "write it like V5=leaf-rubbings"),
        (("--lesson", "V9=leaf-rubbings"), "V9 is not visited"),
        (("--lesson", "V5=leef rubings"), "Did you mean Leaf Rubbings?"),
        (("--lesson", "V5=leaf"), "may be Leaf Prints or Leaf Rubbings"),
        (("--fill", "year"), "is not one of day, week or cycle"),
        (("--no-mess", "perhaps"), "neither yes nor no"),
        (("--no-school", "--students", "3-K=20"), "Give --no-school alone"),
    ],
)
def test_what_cannot_be_is_said_and_nothing_noted(tmp_path: Path, typed: tuple[str, ...], told: str) -> None:
    data = reference_school(tmp_path)
    ran = on_monday("change", *typed, data=data)
    assert (ran.status, told in ran.err) == (2, True), ran.err
    assert "nothing to undo" in on_monday("undo", data=data).out


def test_another_lesson_is_taken_back_by_own(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said = words(on_monday("change", "--lesson", "V5=leaf rubbings", data=data))
    assert "V5 2-R: Leaf Rubbings, part 1; the class stays at its own part" in said
    assert {key for key in lines(data) if key.startswith("printing/")} == set()
    assert lines(data)["box-2/crayon-set"]["need"] == 13  # 12 pairs and 1 spare
    back = on_monday("change", "--lesson", "V5=own", "--json", data=data).fields
    (visit,) = back["other_lessons"]
    assert visit["steps_before"] == [{"lesson": "leaf-rubbings", "part": 1}]
    assert visit["steps"] == [{"lesson": "leaf-prints", "part": 1}]


# ------------------------------------------------------------------- T23 3-K goes on through part 3 of four


@pytest.fixture
def went_on(tmp_path: Path) -> Path:
    """3-K does parts 2 and 3 in one visit; no. 9 is absent. 500 yarn balls, all lines packed."""
    data = in_the_evening(reference_school(tmp_path), on_hand={"yarn-ball": 500})
    numbers = [str(each["number"]) for each in morning(data)["lines"] if not each["forbidden"]]
    on_monday("tick", *numbers, data=data, at="7:30")
    ran = on_monday("report", "3-K", "--reached", "3", "--missed", "9", data=data, at="15:00")
    assert "went on through part 3, no. 9 absent" in ran.out
    return data


def test_closing_says_that_the_class_went_on_and_what_is_owed(went_on: Path) -> None:
    said = close_as_planned(went_on, but=("3-K",))
    assert "3-K: next is part 4 of Burlap Birds." in said
    assert "3-K: catch-up owed" in said
    assert part_of(went_on, "3-K") == [("burlap-birds", 4)]
    assert part_of(went_on, "3-B") == [("burlap-birds", 3)]


def test_the_stock_takes_off_both_parts(went_on: Path) -> None:
    """3-B 24; 3-K 24 of 25 for part 2 and 24 more for part 3: 500 - 72."""
    close_as_planned(went_on, but=("3-K",))
    book = opened(went_on, today=NEXT_DAY_A)
    assert book.opening(NEXT_DAY_A).on_hand["yarn-ball"] == 500 - 24 - 24 - 24
    book.release()


def test_no_9_is_owed_both_parts_and_is_one_child(went_on: Path) -> None:
    close_as_planned(went_on, but=("3-K",))
    book = opened(went_on, today=NEXT_DAY_A)
    owed = book.opening(NEXT_DAY_A).owed["3-K"]
    assert [(each.part, each.numbers) for each in owed] == [(2, (9,)), (3, (9,))]
    book.release()
    kit = [each for each in lines(went_on, NEXT_A).values() if each["class"] == "3-K"]
    (yarn,) = [each for each in kit if each["supply"] == "yarn-ball"]
    assert yarn["need"] == 2  # the short version of two parts, one ball each
    assert not yarn["critical"]


def test_undo_of_the_report_leaves_part_2(went_on: Path) -> None:
    on_monday("undo", data=went_on, at="15:01")
    on_monday("report", "3-K", "--as-planned", data=went_on, at="15:02")
    close_as_planned(went_on, but=("3-K",))
    assert part_of(went_on, "3-K") == [("burlap-birds", 3)]


# --------------------------------------------------------------------------------- T27 the aide is absent


@pytest.fixture
def hot_glue(tmp_path: Path) -> Path:
    """Nine children with two adults, whose part has hot glue; without a second adult they build with paper."""
    return small_school(
        tmp_path,
        classes=[a_class("4-S", room="12", students=9, adults=2, tables=3)],
        timetable={"Mon": {"P1": "4-S"}, "Thu": {"P1": "4-S"}},
        teaching={"4": ["twig-houses"]},
        supplies=[
            a_supply("twig", shelf="W1"),
            a_supply("white-12x18", "white paper 12x18", kind="paper", shelf="P1", pack=50),
            a_supply("glue-gun", "low-temperature glue gun", kind="tool", own=True, marks=["hot-tool"], shelf="T1"),
        ],
        lessons=[
            a_lesson(
                "twig-houses",
                [
                    a_part(
                        "glue the walls",
                        [an_item("twig", 12, critical=True), an_item("glue-gun", per="class", critical=True)],
                        tags=["hot tool", "two adults"],
                    ),
                    a_part("add a roof", [an_item("white-12x18")]),
                ],
                dry_version="paper-houses",
            ),
            a_lesson("paper-houses", [a_part("fold the walls", [an_item("white-12x18", critical=True)])]),
        ],
    )


def test_with_two_adults_the_gun_is_on_the_list(hot_glue: Path) -> None:
    assert "glue-gun" in monday_lines(hot_glue)
    assert morning(hot_glue)["decisions"] == []


def test_with_one_adult_the_part_is_blocked_and_nothing_of_it_packed(hot_glue: Path) -> None:
    found = on_monday("change", "--adults", "4-S=1", "--json", data=hot_glue, at="7:40").fields
    (decision,) = found["decisions"]
    assert "two adults" in decision["text"]
    assert decision["offers"][0] == "teach Paper Houses"
    (visit,) = found["other_children"]
    assert (visit["adults_before"], visit["adults"]) == (2, 1)
    assert {"glue-gun", "twig"} & set(monday_lines(hot_glue)) == set()
    assert on_monday("leaving", data=hot_glue).status == 1  # open, and critical


def test_the_dry_lesson_is_chosen_by_what_the_change_says_to_type(hot_glue: Path) -> None:
    said = on_monday("change", "--adults", "4-S=1", data=hot_glue, at="7:40").out
    assert 'trundle answer "V1 4-S This part needs" "teach Paper Houses"' in said
    assert on_monday("answer", "V1 4-S This part needs", "teach Paper Houses", data=hot_glue).status == 0
    found = monday_lines(hot_glue)
    assert "white-12x18" in found
    assert "glue-gun" not in found
    assert morning(hot_glue)["decisions"] == []
    close_as_planned(hot_glue)
    assert part_of(hot_glue, "4-S", "2026-10-08") == [("twig-houses", 1)]  # the class stays where it was


def test_undo_asks_again_and_then_brings_the_second_adult_back(hot_glue: Path) -> None:
    on_monday("change", "--adults", "4-S=1", data=hot_glue, at="7:40")
    on_monday("answer", "V1 4-S This part needs", "teach Paper Houses", data=hot_glue)
    on_monday("undo", data=hot_glue)
    assert len(morning(hot_glue)["decisions"]) == 1
    on_monday("undo", data=hot_glue)
    assert morning(hot_glue)["decisions"] == []
    assert "glue-gun" in monday_lines(hot_glue)


def test_the_decision_is_there_after_the_battery_died(hot_glue: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    on_monday("change", "--adults", "4-S=1", data=hot_glue, at="7:40")
    left = after_the_battery_died(opened(hot_glue), into=tmp_path_factory.mktemp("died") / "school")
    assert [each.visit for each in left.day(MONDAY).decisions] == ["P1 4-S"]
