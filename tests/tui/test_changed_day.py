"""A day that is not as planned, said on screen in a few keys, with everything that follows from it.

Situations T01, T03, T04, T13 and T49 with the numbers of the reference school: common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.days import TUESDAY, WEDNESDAY, opened
from tests.schools import MONDAY, reference_school
from tests.tui.desk import Desk, at_desk


def needs(desk: Desk) -> dict[str, int]:
    return {line.key: line.need for line in desk.book.day(MONDAY).lines}


def visits(desk: Desk) -> list[str]:
    return [visit.class_id for visit in desk.book.day(MONDAY).visits]


def taught(desk: Desk, class_id: str) -> str:
    return next(visit.steps[0].lesson for visit in desk.book.day(MONDAY).visits if visit.class_id == class_id)


# ------------------------------------------------------------------------------------- T49 a lesson swapped at 7:50


async def test_a_lesson_is_swapped_in_three_keys_and_says_what_to_take_out_put_in_and_keep(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        for key in ("box-2/white-9x12", "box-2/foam-plate"):
            await desk.go_to(key)
            await desk.press("enter")
        await desk.press("t 5 1")
        assert taught(desk, "2-R") == "leaf-rubbings"
        page = desk.screen
        told = ("V5 2-R: Leaf Rubbings", "TAKE OUT", "26 foam plate 6x9", "PUT IN", "13 crayon set", "KEEP")
        for words in (*told, "26 white paper 9x12"):
            assert words in page, page
        await desk.press("b")
        assert needs(desk)["box-2/crayon-set"] == 12 + 1
        assert desk.state("box-2/white-9x12") == "packed"
        assert not any(key.startswith("printing/") for key in needs(desk))


async def test_the_swapped_lesson_is_undone_on_the_page_itself_and_the_tick_is_there(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        before = needs(desk)
        await desk.go_to("box-2/white-9x12")
        await desk.press("enter t 5 1 u")
        assert needs(desk) == before
        assert desk.state("box-2/white-9x12") == "packed"
        assert "Taken back: the day changed: V5 2-R: Leaf Rubbings" in desk.screen


async def test_its_own_lesson_again_is_the_first_choice_then(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t 5 1 t 5 1")
        assert taught(desk, "2-R") == "leaf-prints"


async def test_a_change_is_there_after_a_restart(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t 5 1 b")
    async with at_desk(tmp_path) as desk:
        assert taught(desk, "2-R") == "leaf-rubbings"
        await desk.press("z")
        assert taught(desk, "2-R") == "leaf-prints"


# ------------------------------------------------------------------------------- the whole day: T01, T03, T04, T48


async def test_a_snow_day_is_two_keys_and_the_cycle_slides(tmp_path: Path) -> None:
    reference_school(tmp_path)
    async with at_desk(tmp_path) as desk:
        await desk.press("d t n")
        assert "no school" in desk.screen
        assert not desk.book.day(TUESDAY).school_day
        assert desk.book.day(WEDNESDAY).day_name == "B"
        await desk.press("u")
        assert desk.book.day(TUESDAY).school_day


async def test_school_takes_place_after_all_is_the_same_key(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t n b t n")
        assert len(visits(desk)) == 7


async def test_the_office_names_another_day(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t d c enter")
        assert desk.book.day(MONDAY).day_name == "C"
        assert "It is day C now." in desk.screen


async def test_late_bells_take_two_keys_and_the_classes_that_fall_out_are_named(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t k")
        assert visits(desk) == ["3-B", "3-K", "2-R", "4-D", "5-H"]
        assert "FALLS OUT" in desk.screen
        await desk.press("t")
        assert "K-M, P1:" in desk.screen
        assert "1-P, P2:" in desk.screen


async def test_a_substitute_teaches_is_said_and_taken_back_with_the_same_key(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t s")
        assert all(visit.substitute for visit in desk.book.day(MONDAY).visits)
        await desk.press("t s")
        assert not any(visit.substitute for visit in desk.book.day(MONDAY).visits)


# ------------------------------------------------------------------------------------------------- T13, one visit


async def test_a_class_on_a_trip_is_three_keys_and_comes_back_with_enter(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t 3 n")
        assert "3-B" not in visits(desk)
        assert needs(desk)["box-3/yarn-ball"] == 25 + 3
        await desk.press("t")
        row = next(text for text in desk.screen.splitlines() if "3-B, P3: away" in text)
        assert "visited after all" in row
        while not desk.in_hand.startswith("out "):
            await desk.press("down")
        await desk.press("enter")
        assert "3-B" in visits(desk)


async def test_twenty_seven_come(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t 4 s 2 7 enter")
        assert [visit.students for visit in desk.book.day(MONDAY).visits if visit.class_id == "3-K"] == [27]


@pytest.mark.parametrize("typed", ["x x", "9 9 9 9", "- 3"])
async def test_what_is_no_number_of_children_is_refused_in_words(tmp_path: Path, typed: str) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press(f"t 4 s {typed.replace('-', 'minus')} enter")
        assert "Type how many of 3-K come" in desk.screen
        assert desk.entries() == 0


async def test_the_class_it_is_taught_with_is_found_by_its_first_letter(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t 4 j 2")
        assert [row for row in desk.rows if row.startswith("with")] == ["with 2-R in V5"]
        await desk.press("backspace 3 enter")
        assert "3-K" not in visits(desk)


async def test_a_part_is_found_by_its_number(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t 3 p 3 enter")
        assert [visit.steps[0].part for visit in desk.book.day(MONDAY).visits if visit.class_id == "3-B"] == [3]


# -------------------------------------------------------------------------------------- what must be decided then


async def test_what_was_decided_is_said_with_the_way_back(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t a 8 3 0 space 9 2 0 enter b j")
        assert "1 teach half of it" in desk.screen
        await desk.press("2")
        assert "V1 K-M: leave it as it is. u takes it" in desk.screen


async def test_a_change_undone_from_what_must_be_decided_says_what_was_taken_back(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t a 8 3 0 space 9 2 0 enter b j u")
        assert "Taken back: the day changed" in desk.screen
        assert "1 teach half of it" not in desk.screen


# ---------------------------------------------------------------------------------------------- looks and other days


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_it_works_in_a_window_of_any_size(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await desk.press("t")
        assert "What is different?" in desk.screen
        assert "V1 8:00" in desk.screen
        await desk.press("5")
        assert "Leaf Rubbings" in desk.screen
        await desk.press("1")
        assert "ANOTHER LESSON" in desk.screen


async def test_a_window_that_only_reads_says_so_and_changes_nothing(tmp_path: Path) -> None:
    reference_school(tmp_path)
    with opened(tmp_path):
        async with at_desk(tmp_path) as desk:
            await desk.press("t n")
            assert "Not saved" in desk.screen
            assert len(visits(desk)) == 7


async def test_nothing_typed_changes_nothing_and_back_leaves_typing_alone(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t a enter")
        assert "Nothing was typed" in desk.screen
        await desk.press("a 9 3 0 escape")
        assert "What is different?" in desk.screen
        await desk.press("escape")
        assert desk.entries() == 0


# --------------------------------------------------------------------- T06, R4, R10: assembly, room, water, together


async def test_an_assembly_over_p3_drops_it_and_shortens_p4(tmp_path: Path) -> None:
    """T06: 9:30 to 10:30. P3 falls out, P4 begins at 10:40; yarn falls from 54 to 28, needles stay 27."""
    async with at_desk(tmp_path) as desk:
        await desk.press("t a 9 3 0 space 1 0 3 0 enter")
        assert "assembly 9:30-10:30" in desk.screen and "FALLS OUT" in desk.screen
        assert "3-B" not in visits(desk)
        (third,) = [visit for visit in desk.book.day(MONDAY).visits if visit.class_id == "3-K"]
        assert (third.start, third.end) == (10 * 60 + 40, 11 * 60 + 10)
        assert (needs(desk)["box-3/yarn-ball"], needs(desk)["stitching/blunt-needle"]) == (28, 27)
        await desk.press("u")
        assert needs(desk)["box-3/yarn-ball"] == 54


async def test_two_classes_are_taught_together_in_four_keys(tmp_path: Path) -> None:
    """R10: numbers add, both folders come. The class of the same grade is offered first."""
    async with at_desk(tmp_path) as desk:
        await desk.press("t 3 j enter")
        (together,) = [visit for visit in desk.book.day(MONDAY).visits if visit.class_id == "3-K"]
        assert together.students == 24 + 25
        assert {"box-3/folder 3-B", "box-3/folder 3-K"} <= set(needs(desk))
        await desk.press("t")
        assert "3-B, P3: with 3-K" in desk.screen


async def test_another_room_and_no_water_bring_what_a_room_without_sink_needs(tmp_path: Path) -> None:
    """R4: the rules look at the room it is in; Room 4 of K-M has a sink."""
    async with at_desk(tmp_path) as desk:
        brought = {"box-K/water-jug", "box-K/dirty-water-bucket"}
        assert not brought & set(needs(desk))
        await desk.press("t w enter")
        assert brought <= set(needs(desk))
        await desk.press("b u")
        assert not brought & set(needs(desk))
        await desk.press("t 1 m 9 enter")
        assert brought <= set(needs(desk))
        assert "V1 K-M in Room 9" in desk.screen


async def test_testing_of_a_week_is_typed_once_and_taken_back_by_a_word(tmp_path: Path) -> None:
    """T07: grades 3 to 5 in P1 to P3 up to the next 9th, walks 2 min longer; V3 of 3-B falls out on Monday."""
    async with at_desk(tmp_path) as desk:
        walk = {visit.class_id: visit.walk_before for visit in desk.book.day(MONDAY).visits}
        await desk.press("t x 3 minus 5 space p 1 minus p 3 space 9 space w 2 enter")
        assert "3-B" not in visits(desk) and "3-K" in visits(desk)
        (tested,) = desk.book.closing_of(MONDAY).testing
        assert (tested.grades, tested.last.day, tested.walk_more) == (("3", "4", "5"), 9, 2)
        longer = {visit.class_id: visit.walk_before for visit in desk.book.day(MONDAY).visits}
        assert longer["1-P"] == walk["1-P"] + 2
        await desk.press("t x o f f enter")
        assert "3-B" in visits(desk)
        assert desk.book.closing_of(MONDAY).testing == ()
