"""Notes about a class on screen: few keys, written at once, every tick kept, and what follows stands on the list."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.plan.records import Need, SchoolClass
from tests.schools import MONDAY, a_supply, an_item, reference_school, write_toml
from tests.tui.desk import Desk, at_desk

NOTE_OF_T28 = "k 2 enter a l a enter"
"""Morning, class 2-R, avoids, la(tex), taken."""


def school_with_rubber_bands(folder: Path, *, in_the_box: int = 0) -> Path:
    """The reference school; 2-R ties its prints with rubber bands out of Box 2, or with cotton ties."""
    reference_school(folder, contents={"box-2": {"rubber-band": in_the_box}} if in_the_box else None)
    lesson = tomllib.loads((folder / "lessons/leaf-prints.toml").read_text(encoding="utf-8"))
    lesson["parts"][0]["items"].append(an_item("rubber-band", into="box"))
    write_toml(folder / "lessons/leaf-prints.toml", lesson)
    supplies = tomllib.loads((folder / "supplies.toml").read_text(encoding="utf-8"))
    band = a_supply("rubber-band", marks=["latex"], shelf="R1", instead="cotton-tie")
    write_toml(
        folder / "supplies.toml", {"supplies": [*supplies["supplies"], band, a_supply("cotton-tie", shelf="R2")]}
    )
    return folder


def change_class(folder: Path, ident: str, **fields: object) -> None:
    """Somebody edits the file of classes by hand."""
    table = tomllib.loads((folder / "classes.toml").read_text(encoding="utf-8"))
    table["classes"] = [{**each, **(fields if each["id"] == ident else {})} for each in table["classes"]]
    write_toml(folder / "classes.toml", table)


def kept(folder: Path, class_id: str) -> SchoolClass:
    """The class as the files have it now."""
    with Book.open(folder, write=False) as book:
        assert not [each for each in book.problems if each.level == "grave"]
        return book.plan.class_by_id[class_id]


def ticked(desk: Desk) -> set[str]:
    return {key for key, state in desk.states().items() if state == "packed"}


async def test_a_latex_note_at_half_past_eight_takes_seven_keys_and_stands_on_the_list_at_once(tmp_path: Path) -> None:
    """Situation T28: entered in less than 20 seconds, which at most 12 keys are."""
    school_with_rubber_bands(tmp_path)
    async with at_desk(tmp_path) as desk:
        await desk.go_to("box-2/rubber-band")
        await desk.press("enter")
        others = desk.in_hand
        await desk.press("enter")
        before = ticked(desk)
        assert before == {"box-2/rubber-band", others}
        assert len(NOTE_OF_T28.split()) <= 12
        await desk.press(NOTE_OF_T28)
        assert kept(tmp_path, "2-R").avoid == ("latex",)
        assert "Box 2: rubber band" in desk.screen and "cotton tie" in desk.screen
        await desk.press("escape escape")
        assert desk.state("box-2/rubber-band") == "forbidden"
        assert desk.state(others) == "packed"
        assert desk.state("box-2/cotton-tie") == "open"
        await desk.go_to("box-2/rubber-band")
        assert any(text.startswith("▸!") and "stop" in text for text in desk.screen.splitlines())


async def test_what_was_folded_away_as_in_it_already_shows_again_once_it_must_not_come_along(tmp_path: Path) -> None:
    school_with_rubber_bands(tmp_path, in_the_box=40)
    async with at_desk(tmp_path) as desk:
        await desk.go_to("box-2/foam-plate")
        assert "box-2/rubber-band" not in desk.rows
        await desk.press(f"{NOTE_OF_T28} escape escape")
        assert "box-2/rubber-band" in desk.rows


async def test_undo_takes_the_note_back_also_from_the_list_and_ticks_made_since_go_first(tmp_path: Path) -> None:
    school_with_rubber_bands(tmp_path)
    async with at_desk(tmp_path) as desk:
        await desk.press(f"{NOTE_OF_T28} escape escape")
        first = desk.in_hand
        await desk.press("enter")
        assert desk.state(first) == "packed"
        await desk.press("u")
        assert desk.state(first) != "packed"
        assert kept(tmp_path, "2-R").avoid == ("latex",)
        await desk.press("u")
        assert "Taken back: a private note about 2-R." in desk.screen and "latex" not in desk.screen
        assert kept(tmp_path, "2-R").avoid == ()
        assert desk.state("box-2/rubber-band") == "open"
        await desk.press("u")
        assert "Nothing left to take back" in desk.screen


async def test_what_is_noted_is_there_for_the_next_day_and_after_a_restart(tmp_path: Path) -> None:
    school_with_rubber_bands(tmp_path)
    async with at_desk(tmp_path) as desk:
        await desk.press(f"{NOTE_OF_T28} escape escape enter")
        packed = ticked(desk)
    async with at_desk(tmp_path) as desk:
        assert ticked(desk) == packed
        assert desk.state("box-2/rubber-band") == "forbidden"


async def test_x_takes_off_what_is_avoided_or_needed(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press(f"{NOTE_OF_T28} x")
        assert kept(tmp_path, "2-R").avoid == ()
        await desk.press("n n o i enter 3 enter")
        assert kept(tmp_path, "2-R").needs == (Need("noise", 3),)
        await desk.press("x")
        assert kept(tmp_path, "2-R").needs == ()
        await desk.press("u")
        assert kept(tmp_path, "2-R").needs == (Need("noise", 3),)


async def test_a_need_is_one_child_unless_a_number_is_typed_and_the_list_packs_for_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("k 3 enter n f i enter enter")
        assert kept(tmp_path, "3-B").needs == (Need("fine-motor", 1),)
        await desk.press("2 enter")
        assert kept(tmp_path, "3-B").needs == (Need("fine-motor", 2),)
        adapted = [line for line in desk.book.day(MONDAY).lines if line.group == "Differentiation"]
        assert adapted
        await desk.press("0 enter")
        assert kept(tmp_path, "3-B").needs == ()
        assert not [line for line in desk.book.day(MONDAY).lines if line.group == "Differentiation"]


@pytest.mark.parametrize(("keys", "students"), [("s 2 5 enter", 25), ("s a 2 5 enter", "about 25"), ("s enter", 23)])
async def test_the_number_of_children_is_a_number_or_about(tmp_path: Path, keys: str, students: int | str) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press(f"k 2 enter {keys}")
        assert kept(tmp_path, "2-R").students == students


async def test_number_7_left_and_nobody_else_has_another_number(tmp_path: Path) -> None:
    """Situation T16."""
    async with at_desk(tmp_path) as desk:
        await desk.press("k 2 enter l 7 enter")
        gone = kept(tmp_path, "2-R")
        assert (gone.students, gone.left) == (22, (7,))
        assert "no. 7 has left" in desk.screen
        await desk.press("u")
        assert (kept(tmp_path, "2-R").students, kept(tmp_path, "2-R").left) == (23, ())


async def test_a_need_may_go_with_the_child_who_left(tmp_path: Path) -> None:
    """Situation T16: spring scissors 1 to 0 for its class."""
    async with at_desk(tmp_path) as desk:
        await desk.press("k 2 enter n f i enter enter l 7 enter")
        assert "Does one of the needs of 2-R go with number 7?" in desk.screen
        await desk.press("f enter")
        gone = kept(tmp_path, "2-R")
        assert (gone.students, gone.left, gone.needs) == (22, (7,), ())


async def test_a_new_child_gets_the_next_number(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("k 2 enter j")
        assert kept(tmp_path, "2-R").students == 24
        assert "no. 24 is new" in desk.screen


async def test_what_the_room_has_of_its_own_needs_only_a_back_up(tmp_path: Path) -> None:
    """Common practice, no source: a fifth goes along."""
    async with at_desk(tmp_path) as desk:
        before = next(line.need for line in desk.book.day(MONDAY).lines if line.key == "box-1/glue-stick")
        await desk.press("k 1 enter o g l u e space s enter")
        assert kept(tmp_path, "1-P").has == ("glue-stick",)
        after = next(line.need for line in desk.book.day(MONDAY).lines if line.key == "box-1/glue-stick")
        assert after < before / 2


async def test_an_adult_more_or_fewer_today_only_changes_no_plan(tmp_path: Path) -> None:
    """Situation T27: at 7:40 she says that the aide is away."""
    async with at_desk(tmp_path) as desk:
        before = kept(tmp_path, "2-R")
        await desk.press("k 2 enter d 2 enter")
        changes = desk.book.marks(MONDAY).changes
        assert changes is not None and changes.adults == {"2-R": 2}
        await desk.press("e 2 0 enter")
        visit = next(visit for visit in desk.book.day(MONDAY).visits if visit.class_id == "2-R")
        assert visit.students == 20
        assert kept(tmp_path, "2-R") == before
        await desk.press("u u")
        changes = desk.book.marks(MONDAY).changes
        assert changes is None or not changes.adults


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ("l 4 4 enter", "There is no number 44 on the list of 2-R"),
        ("t 0 enter", "1 to 6"),
        ("d 9 enter", "1 to 6"),
        ("s 9 9 9 enter", "at most 400"),
        ("n n o i enter 6 0 enter", "60 cannot need it"),
        ("l q enter", '"q" is not a number'),
    ],
)
async def test_what_cannot_be_is_told_and_nothing_is_written(tmp_path: Path, keys: str, said: str) -> None:
    async with at_desk(tmp_path) as desk:
        file = (tmp_path / "classes.toml").read_bytes()
        await desk.press(f"k 2 enter {keys}")
        assert said in desk.screen
        assert (tmp_path / "classes.toml").read_bytes() == file
        assert desk.entries() == 0


async def test_typing_is_left_alone_by_going_back_and_by_going_on(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("k 2 enter s 2 5 escape")
        assert "Notes about a class" not in desk.screen and "23 children" in desk.screen
        await desk.press("a escape s 2 backspace backspace enter b escape")
        assert desk.app.screen is desk.app.screen_stack[0]
        assert kept(tmp_path, "2-R").students == 23


async def test_a_class_is_found_by_its_first_signs_and_today_s_come_first(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("k")
        assert desk.rows[1] == "K-M"
        await desk.press("3 k")
        assert desk.rows[1:] == ["3-K"]
        await desk.press("backspace backspace 9")
        assert "No class begins so." in desk.screen
        await desk.press("backspace backspace")
        assert desk.app.screen is desk.app.screen_stack[0]


async def test_needs_show_on_this_screen_only_and_it_says_so(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("k 2 enter n f i enter enter")
        assert "fine motor: 1 child" in desk.screen and "shown on this screen only" in desk.screen
        await desk.press("escape")
        assert "fine motor" not in desk.screen and "1 private note" in desk.screen
        await desk.press("escape i")
        assert "fine motor" not in desk.screen


@pytest.mark.parametrize("size", [(20, 5), (60, 20), (120, 40)])
async def test_a_note_can_be_made_in_a_window_of_any_size(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await desk.press(f"{NOTE_OF_T28} escape escape")
        assert kept(tmp_path, "2-R").avoid == ("latex",)


async def test_a_file_changed_outside_is_told_and_the_note_goes_in_the_second_time(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("k 2 enter")
        change_class(tmp_path, "1-P", students=21)
        await desk.press("a l a enter")
        assert "was changed outside this window" in desk.screen
        assert (kept(tmp_path, "2-R").avoid, kept(tmp_path, "1-P").students) == ((), 21)
        await desk.press("a l a enter")
        assert (kept(tmp_path, "2-R").avoid, kept(tmp_path, "1-P").students) == (("latex",), 21)


async def test_a_class_that_was_taken_out_of_the_file_meanwhile_leads_back_to_the_others(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("k 2 enter")
        table = tomllib.loads((tmp_path / "classes.toml").read_text(encoding="utf-8"))
        table["classes"] = [each for each in table["classes"] if each["id"] != "2-R"]
        del table["timetable"]["A"]["P5"]
        write_toml(tmp_path / "classes.toml", table)
        await desk.press("a l a enter")
        assert "which one?" in desk.screen and "2-R" not in desk.rows


async def test_a_second_window_only_looks(tmp_path: Path) -> None:
    reference_school(tmp_path)
    with Book.open(tmp_path):
        async with at_desk(tmp_path) as desk:
            await desk.press(NOTE_OF_T28)
            assert "Not saved: Another window" in desk.screen
            assert kept(tmp_path, "2-R").avoid == ()


async def test_a_class_at_another_part_is_put_right_and_undo_puts_it_back(tmp_path: Path) -> None:
    """3-B is at part 2 of 4; no other class moves."""
    reference_school(tmp_path)
    async with at_desk(tmp_path) as desk:
        before = {visit.class_id: visit.steps for visit in desk.book.day(MONDAY).visits}
        await desk.press("k 3 b enter p 9 enter")
        assert "no part 9" in desk.screen
        await desk.press("p 3 enter")
        assert "3-B is at Burlap Birds, part 3." in desk.screen
        now = {visit.class_id: visit.steps for visit in desk.book.day(MONDAY).visits}
        assert [step.part for step in now.pop("3-B")] == [3]
        assert now == {class_id: steps for class_id, steps in before.items() if class_id != "3-B"}
        await desk.press("u")
        assert {visit.class_id: visit.steps for visit in desk.book.day(MONDAY).visits} == before
