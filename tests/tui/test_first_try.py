"""What a newcomer stumbled over, one situation each. What a key must do: common practice, no source."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

import pytest
from msgspec import structs

from checklists.book import Book
from checklists.daybook.entries import Ticked
from checklists.daybook.line_states import goes_without_a_look, is_open, packed_in_full
from checklists.daybook.matters import MISSED, REACHED, SHARPS
from checklists.demo import DEMO_TIME
from checklists.lines.records import Caution, Check, Line, Task
from checklists.pages.reasons import is_hidden
from tests.schools import MONDAY, demo_school, reference_school
from tests.tui.desk import AT_7_41, Desk, at_desk
from tests.tui.test_leaving_and_day_end import waiting
from tests.tui.test_packing import one_line
from tui.changed_rows import taught_in, visit_row
from tui.class_rows import class_cells, class_text
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine

ANY_SIZE = pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)], ids=["usual", "small", "wide"])


def message(desk: Desk) -> str:
    return desk.app.screen.query_one(MessageLine).said.plain


def lines_beside(desk: Desk, line: Line) -> list[Line]:
    """The lines of the same container."""
    return [each for each in desk.book.day(MONDAY).lines if each.container == line.container]


async def go_to_question(desk: Desk, section: str) -> str:
    """Move down to the first open question of a section of the day's end; its key."""
    key = next(matter.key for matter in waiting(desk) if matter.section == section)
    while desk.in_hand != key:
        await desk.press("down")
    return key


# ------------------------------------------------------------------------------------------- a whole container


def container_with_a_rest(desk: Desk) -> list[Line]:
    """The lines of a container of which some go without a look and at least two do not."""
    marks, day = desk.book.marks(MONDAY), desk.book.day(MONDAY)
    for line in day.lines:
        lines = lines_beside(desk, line)
        free = [each for each in lines if goes_without_a_look(each, marks)]
        if free and sum(is_open(each, marks) for each in lines if each not in free) >= 2:
            return lines
    raise AssertionError("no such container")


async def test_as_listed_stays_in_the_container_on_the_first_line_that_needs_a_look(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        lines = container_with_a_rest(desk)
        await desk.go_to(lines[-1].key)
        await desk.press("a")
        marks = desk.book.marks(MONDAY)
        left = [key for key in desk.rows for line in lines if line.key == key and is_open(line, marks)]
        assert desk.in_hand == left[0]
        assert f"{len(left)} more to look at: " in message(desk)
        assert next(line.name for line in lines if line.key == left[0]) in message(desk)


async def test_as_listed_does_not_pass_over_the_line_in_hand(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        lines = container_with_a_rest(desk)
        await desk.go_to(lines[0].key)
        await desk.press("a")
        stays = desk.in_hand
        before = desk.entries()
        await desk.press("a")
        assert desk.in_hand == stays
        assert desk.entries() == before
        assert "to look at" in message(desk)


# --------------------------------------------------------------------------------------------- counts and digits


async def test_a_part_packed_line_stays_in_hand_and_says_what_is_still_to_come(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press("1 5 enter")
        assert desk.in_hand == line.key
        assert message(desk) == f"15 of {line.need} in it, {line.need - 15} still to come. s: short"
        await desk.press("enter")
        assert desk.in_hand != line.key


async def test_a_short_last_line_is_not_called_packed(tmp_path: Path) -> None:
    reference_school(tmp_path)
    with Book.open(tmp_path) as book:
        day, marks = book.day(MONDAY), book.marks(MONDAY)
        last = next(line for line in day.lines if line.need > 20 and not line.critical and is_open(line, marks))
        for line in day.lines:
            if line.key != last.key:
                book.do(MONDAY, packed_in_full(line, marks, AT_7_41))
        keys = [task.key for task in day.tasks] + [check.key for check in day.checks]
        book.do(MONDAY, *(Ticked(at=AT_7_41, matter=key) for key in (*keys, *(each.key for each in day.matters))))
    async with at_desk(tmp_path) as desk:
        assert desk.in_hand == last.key
        await desk.press("2 s 5")
        assert message(desk).endswith("Nothing is open, 1 short. g: before you go.")
        assert desk.in_hand == last.key
        assert "everything is packed, 1 short" in desk.screen


@pytest.mark.parametrize("move", ["down", "right", "a", "l", "escape", "o"])
async def test_typed_digits_belong_to_one_line_only(tmp_path: Path, move: str) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press("1 8")
        assert message(desk).startswith(f"18_ {line.name[:6]}")
        await desk.press(move)
        assert "18_" not in desk.screen
        before = {key: mark.count for key, mark in desk.book.marks(MONDAY).lines.items()}
        await desk.press("7 escape")
        assert {key: mark.count for key, mark in desk.book.marks(MONDAY).lines.items()} == before


async def test_a_click_on_another_line_lets_go_of_a_half_done_step(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.go_to(one_line(desk).key)
        other = next(index for index, key in enumerate(desk.rows) if key in desk.states() and key != desk.in_hand)
        await desk.press("n")
        await desk.pilot.click(LineList, offset=(20, other))
        await desk.press("1")
        assert desk.entries() == 0


async def test_digits_are_gone_after_a_step_that_was_refused(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press(" ".join([*str(line.need), "s", "3", "enter"]))
        assert desk.book.marks(MONDAY).lines[line.key].count == 3


async def test_low_is_a_word_in_the_row_and_the_same_key_takes_it_back(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press("l")
        assert re.search(r" low +\d+ of ", next(row for row in desk.screen.splitlines() if row.startswith("▸")))
        await desk.press("l")
        assert desk.book.marks(MONDAY).levels[line.supply] == "plenty"
        assert " low " not in desk.screen


@ANY_SIZE
async def test_all_reasons_why_a_line_is_off_can_be_read(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await desk.press("n")
        last_rows = " ".join(desk.screen.splitlines()[-2:])
        for offer in ("1 not today", "2 room has it", "3 children have it", "4 lesson changed", "5 other"):
            assert offer in last_rows
        await desk.press("b")
        assert "u undo" in desk.screen.splitlines()[-1]


async def test_in_a_small_window_undo_is_told_and_where_the_line_in_hand_stands(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(60, 20)) as desk:
        line = next(line for line in desk.book.day(MONDAY).lines if line.shelf and line.add)
        await desk.go_to(line.key)
        assert "u undo" in desk.screen.splitlines()[-1]
        assert line.shelf in desk.screen.splitlines()[-2]


# ------------------------------------------------------------------------------------------------ what is asked


async def with_open_question(folder: Path) -> datetime:
    """A school whose Monday was never told; the morning of the next day A asks."""
    async with at_desk(folder) as desk:
        await desk.press("enter")
    return datetime(2026, 10, 14, 7, 41)


@ANY_SIZE
async def test_a_question_stands_above_the_list_in_full_with_its_keys(tmp_path: Path, size: tuple[int, int]) -> None:
    now = await with_open_question(tmp_path)
    async with at_desk(tmp_path, size=size, now=now) as desk:
        asked = desk.book.day(now.date()).questions[0]
        assert all(word in desk.screen for word in asked.text.split())
        assert "y done" in desk.screen and "m missed" in desk.screen


async def test_a_question_out_of_sight_is_shown_by_the_first_key_and_answered_by_the_second(tmp_path: Path) -> None:
    now = await with_open_question(tmp_path)
    async with at_desk(tmp_path, size=(20, 5), now=now) as desk:
        asked = desk.book.day(now.date()).questions[0]
        await desk.press("y")
        assert asked.visit not in desk.book.marks(asked.date).reports
        await desk.press("y")
        assert desk.book.marks(asked.date).reports[asked.visit].outcome == "done"


async def test_two_missing_things_a_place_and_a_question_share_the_rows_above_the_list(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        for _ in range(2):
            await desk.press("0 enter")
        await desk.press("c c b b")
        tuesday = desk.book.day(MONDAY).next_school_day
        assert tuesday is not None
        missing = len(desk.book.day(tuesday).cases)
    assert missing >= 2
    async with at_desk(tmp_path, now=datetime(2026, 10, 6, 7, 41)) as desk:
        assert f"! {missing} things missing, {missing} not reported" in desk.screen
        await desk.press("i")
        assert len(re.findall(r"! +Missing", desk.screen)) >= 2


# --------------------------------------------------------------------------------------------------- day's end


async def test_thirteen_back_is_typed_as_it_is_and_is_not_all_back(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        matter = waiting(desk)[0]
        await desk.press("1 3")
        assert desk.entries() == 0
        assert "13_" in desk.screen
        await desk.press("enter")
        assert desk.book.marks(MONDAY).sharps[matter.visit, matter.supply].back == 13


async def test_class_list_numbers_are_typed_as_they_are(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        key = await go_to_question(desk, MISSED)
        visit = key.partition("/")[2]
        await desk.press("1 space 1 2")
        assert desk.entries() == 0
        await desk.press("enter")
        assert desk.book.marks(MONDAY).reports[visit].absent == (1, 12)


@pytest.mark.parametrize("keys", ["n", "0 enter"])
async def test_nobody_missed_it(tmp_path: Path, keys: str) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        visit = (await go_to_question(desk, MISSED)).partition("/")[2]
        assert "n nobody" in desk.screen
        await desk.press(keys)
        report = desk.book.marks(MONDAY).reports[visit]
        assert report.absences_known and not report.absent


@pytest.mark.parametrize("section", [SHARPS, REACHED, MISSED])
@pytest.mark.parametrize("keys", ["enter", "space enter", "7 backspace enter"])
async def test_enter_alone_never_answers(tmp_path: Path, section: str, keys: str) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        await go_to_question(desk, section)
        before = desk.entries()
        await desk.press(keys)
        assert desk.entries() == before


async def test_a_digit_that_is_no_answer_says_so(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        await go_to_question(desk, REACHED)
        await desk.press("9")
        assert desk.entries() == 0
        assert "9 is no answer here" in message(desk)


@pytest.mark.parametrize(("section", "keys"), [(SHARPS, "a"), (SHARPS, "n"), (REACHED, "equals_sign"), (REACHED, "n")])
async def test_a_key_that_means_nothing_for_a_question_says_what_it_is_for(
    tmp_path: Path, section: str, keys: str
) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        await go_to_question(desk, section)
        await desk.press(keys)
        assert desk.entries() == 0
        assert " is only for " in message(desk)


async def test_as_planned_does_not_undo_what_was_said_of_the_absent(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        visit = (await go_to_question(desk, MISSED)).partition("/")[2]
        await desk.press("4 enter up a")
        assert desk.book.marks(MONDAY).reports[visit].absent == (4,)


async def test_what_is_answered_folds_once_she_is_in_another_section(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        counts = [matter.key for matter in waiting(desk) if matter.typed == "count"]
        for _ in counts:
            await desk.press("equals_sign")
        assert not set(counts) & set(desk.rows)
        assert f"{len(counts)} answered" in desk.screen
        await desk.press("up enter")
        assert set(counts) <= set(desk.rows)


async def test_undo_at_the_days_end_goes_back_to_the_question(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        first = desk.in_hand
        await desk.press("equals_sign down down down u")
        assert desk.in_hand == first
        assert desk.entries() == 0


async def test_three_rows_around_the_question_in_hand_are_in_sight(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        for _ in range(14):
            await desk.press("down")
            shown = desk.app.screen.query_one(LineList)
            row = shown.cursor - round(shown.scroll_y)
            assert row >= min(3, shown.cursor)
            assert shown.size.height - 1 - row >= min(3, len(shown.rows) - 1 - shown.cursor)


async def test_closing_says_once_what_is_critical_and_then_shows_what_it_did(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        counts = sum(matter.typed == "count" for matter in waiting(desk))
        await desk.press("c")
        assert f"{counts} counts open; c again closes all the same." in message(desk)
        assert not desk.book.is_closed(MONDAY)
        await desk.press("c")
        assert desk.book.is_closed(MONDAY)
        assert "Mon 5 Oct is closed" in desk.screen
        assert "nobody has told yet" in desk.screen
        await desk.press("escape b")
        assert desk.screen.splitlines()[0].endswith("closed")
        await desk.press("e c")
        assert desk.app.is_running


async def test_a_closed_day_is_opened_again_from_the_page_that_tells_of_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e c c u")
        assert not desk.book.is_closed(MONDAY)


# ------------------------------------------------------------------------------------------------ what is shown


async def test_packing_and_preparing_are_told_apart_and_counted_once(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        head = desk.screen.splitlines()[1]
        marks, later = desk.book.marks(MONDAY), desk.book.departure(MONDAY).later
        still_open = [line for line in desk.book.day(MONDAY).lines if is_open(line, marks)]
        now = [line for line in still_open if line.container not in later]
        critical = sum(line.critical for line in now)
        told = f" {len(now)} to pack, {critical} critical; {len(still_open) - len(now)} for later; "
        assert head.startswith(told)
        assert re.search(r"\d to do +packing \d+ min", head)


async def test_a_number_with_a_sign_counts_what_is_critical(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        marks, day = desk.book.marks(MONDAY), desk.book.day(MONDAY)
        shown = desk.screen.splitlines()[4]
        for visit in day.visits:
            lines = [line for line in day.lines if visit.key in line.visits and is_open(line, marks)]
            assert f"{len(lines)} open {sum(line.critical for line in lines)}!" in shown or (
                f"{len(lines)} {sum(line.critical for line in lines)}!" in shown
            )


@ANY_SIZE
@pytest.mark.parametrize("order", ["", "o", "o o"], ids=["container", "shelf", "class"])
async def test_the_container_in_hand_is_always_in_sight(tmp_path: Path, size: tuple[int, int], order: str) -> None:
    """The demo school has more containers and shelves than there is room for: invented."""
    now = datetime.combine(demo_school(tmp_path / "demo"), DEMO_TIME)
    async with at_desk(tmp_path / "demo", size=size, now=now) as desk:
        if order:
            await desk.press(order)
        for _ in range(14):
            await desk.press("right")
            assert desk.screen.count("▐") == 1


async def test_nothing_moves_on_the_shelf_when_a_container_gets_ready(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("right left")
        row = next(index for index, text in enumerate(desk.screen.splitlines()) if "▐" in text)
        before = [found.start() for found in re.finditer("[A-Z][a-z]+", desk.screen.splitlines()[row])]
        for _ in range(30):
            await desk.press("enter")
            if "ready" in desk.screen.splitlines()[row]:
                break
        await desk.press("left")
        after = desk.screen.splitlines()[row].replace("ready", "     ")
        assert [found.start() for found in re.finditer("[A-Z][a-z]+", after)] == before


async def test_what_there_is_to_do_can_be_read_in_full(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        day = desk.book.day(MONDAY)
        task = next(task for task in day.tasks if task.due <= MONDAY)
        await desk.press(" ".join([*str(task.number), "j"]))
        assert desk.in_hand == task.key
        assert f" {task.number} " in next(row for row in desk.screen.splitlines() if row.startswith("▸"))
        await desk.press("w")
        assert all(word in desk.screen for word in task.what.split())
        assert f"for {task.class_id} on " in desk.screen


async def test_reasons_that_tell_of_a_childs_need_are_only_on_the_page_she_asked_for(tmp_path: Path) -> None:
    """The demo school: invented."""
    on = demo_school(tmp_path / "demo")
    async with at_desk(tmp_path / "demo", size=(120, 40), now=datetime.combine(on, DEMO_TIME)) as desk:
        day = desk.book.day(on)
        things: tuple[Caution | Task | Check, ...] = (*day.cautions, *day.tasks, *day.checks)
        hidden = [each.what for each in things if is_hidden(each, private=False)]
        reasons = [because.text for line in day.lines for because in line.because if because.private]
        assert hidden and reasons
        line = next(line for line in day.lines if any(because.private for because in line.because))
        await desk.press(" ".join([*str(line.number), "j"]))
        assert line.name in desk.screen
        for keys in ("down", "up", "i", "b g", "b e", "b"):
            await desk.press(keys)
            assert not any(text in desk.screen for text in (*hidden, *reasons))
        private = next(because.text for because in line.because if because.private)
        await desk.press("w")
        assert all(word in desk.screen for word in private.split())
        caution = next(each for each in day.cautions if is_hidden(each, private=False))
        await desk.press("b i")
        while desk.in_hand != caution.key:
            await desk.press("down")
        assert not any(because.text in desk.screen for because in caution.because)
        await desk.press("w")
        assert all(word in desk.screen for word in caution.what.split())


async def test_quitting_with_something_critical_open_says_why_this_page_opened(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("q")
        assert "Before you go" in desk.screen and "q again quits" in desk.screen
        await desk.press("b g")
        assert "q again quits" not in desk.screen


async def test_every_screen_of_the_day_tells_the_same_time(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        told = desk.screen.splitlines()[0].split("7:41")[1]
        assert "leave by" in told
        for keys in ("g", "b e"):
            await desk.press(keys)
            assert desk.screen.splitlines()[0].split("7:41")[1].strip() == told.strip()


async def test_the_first_page_of_the_keys_tells_what_the_signs_mean(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("h")
        for sign in ("18 Enter", "+16", "look", "@", "critical", "how full"):
            assert sign in desk.screen
        assert "f and r scroll" in desk.screen


async def test_what_else_there_is_is_told_in_full_on_a_small_terminal(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("tab")
        assert "Set up and change: classes, timetable, lessons, supplies, school" in desk.screen


async def test_the_keys_of_the_page_that_says_why_are_told_in_full_on_a_small_terminal(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("w")
        assert desk.screen.splitlines()[-1].rstrip().endswith("f and r scroll")


def test_a_class_called_by_its_teachers_name_does_not_run_into_what_follows(tmp_path: Path) -> None:
    with Book.open(reference_school(tmp_path)) as book:
        plan, visit = book.plan, book.day(MONDAY).visits[0]
    cells = class_cells(["3-B", "2-Okafor"])
    assert "2-Okafor  Room" in class_text(structs.replace(plan.classes[0], id="2-Okafor"), cells)
    assert "2-Okafor Striped" in visit_row(plan, structs.replace(visit, class_id="2-Okafor"), cells).name


def test_a_class_of_about_20_is_told_so_where_the_day_is_changed(tmp_path: Path) -> None:
    with Book.open(reference_school(tmp_path)) as book:
        plan, visit = book.plan, book.day(MONDAY).visits[0]
    assert taught_in(plan, structs.replace(visit, about=True)).endswith(", about 20 children")
    assert taught_in(plan, structs.replace(visit, about=False)).endswith(", 20 children")
