"""What is to be read on the screen at three sizes, in black and white and with strange names."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from textual.color import Color

from checklists.daybook.line_states import open_lines
from tests.schools import MONDAY, reference_school
from tests.tui.desk import at_desk
from tui.themes import DAY, EVENING, GROUNDS, INKS
from tui.widgets.line_list import LineList

SOUP = "[b]yarn[/b] [/] [@click=app.quit]x[/] [red] [k=v] $ink {} %s"


async def test_everything_she_needs_at_7_41_is_on_80_by_24_without_scrolling(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("right left")
        screen, day = desk.screen, desk.book.day(MONDAY)
        assert "Mon 5 Oct" in screen and "day A" in screen and "regular" in screen
        assert "7:41" in screen and "leave by" in screen
        assert re.search(r"packing \d+ min", screen)
        later = desk.book.departure(MONDAY).later
        still_open = [line for line in open_lines(day, desk.book.marks(MONDAY)) if line.container not in later]
        assert f"{len(still_open)} to pack, {sum(line.critical for line in still_open)} critical" in screen
        assert f"▐{day.containers[0].name} " in screen
        for visit in day.visits:
            assert f"{visit.name} {visit.class_id}" in screen
        row = desk.app.screen.query_one(LineList).row
        assert row is not None and row.name in screen and row.amount in screen and row.visits in screen
        keys = screen.splitlines()[-1]
        assert all(f"{key} " in keys for key in ("Enter", "s", "n", "a", "u", "h"))
        assert len(screen.splitlines()) == 24


async def test_on_60_by_20_name_need_and_what_to_add_are_there(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(60, 20)) as desk:
        lines = {line.key: line for line in desk.book.day(MONDAY).lines}
        line = next(line for line in lines.values() if line.add and not line.about)
        await desk.go_to(line.key)
        shown = next(text for text in desk.screen.splitlines() if text.startswith("▸"))
        assert line.name[:20] in shown
        assert f"+{line.add}" in shown
        assert f"{line.in_it} of {line.need}" in shown
        assert len(desk.screen.splitlines()) == 20


async def test_on_120_by_40_the_reasons_of_the_line_and_the_visits_stand_beside_the_list(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await desk.press("down")
        line = next(line for line in desk.book.day(MONDAY).lines if line.key == desk.in_hand)
        public = [because.text for because in line.because if not because.private]
        assert all(word in desk.screen for word in public[0].split())
        for visit in desk.book.day(MONDAY).visits:
            assert any(visit.class_id in text and f"in {visit.room}" in text for text in desk.screen.splitlines())


@pytest.mark.parametrize("size", [(20, 5), (40, 10), (200, 60)])
async def test_no_window_is_too_small_or_too_large(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        first = desk.in_hand
        await desk.press("enter h b g b e b w b i b")
        assert desk.state(first) == "packed"


async def test_a_window_made_wider_shows_the_side_and_made_narrow_hides_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.resize(120, 40)
        assert "│" in desk.screen
        await desk.resize(60, 20)
        assert "│" not in desk.screen


def school_with_every_supply_named(folder: Path, name: str) -> None:
    """The reference school with ``name``, as TOML writes it, for every supply."""
    reference_school(folder)
    file = folder / "supplies.toml"
    names = re.compile("^name = .*$", re.MULTILINE)
    file.write_text(names.sub(lambda _: f"name = {name}", file.read_text(encoding="utf-8")), encoding="utf-8")


async def test_a_name_that_would_clear_the_terminal_does_not_reach_it(tmp_path: Path) -> None:
    """ESC [ 2 J erases the display. Source: ECMA-48, 8.3.39."""
    school_with_every_supply_named(tmp_path, '"yarn\\u001b[2J\\u009b31m"')
    async with at_desk(tmp_path) as desk:
        for keys in ("down", "w", "b g", "b e", "b i"):
            await desk.press(keys)
            assert "yarn" in desk.screen or keys == "b i"
            assert not set(desk.screen) & {"\x1b", "\x9b"}


async def test_brackets_in_names_are_shown_as_they_are(tmp_path: Path) -> None:
    school_with_every_supply_named(tmp_path, f"'{SOUP}'")
    async with at_desk(tmp_path, size=(160, 40)) as desk:
        lines = [line for line in desk.book.day(MONDAY).lines if line.name == SOUP]
        await desk.go_to(lines[0].key)
        assert SOUP in desk.screen
        await desk.press("w")
        assert SOUP in desk.screen
        await desk.press("b s")
        assert desk.app.is_running
        await desk.press("1")
        await desk.press("g")
        assert SOUP[:20] in desk.screen
        await desk.press("b e")
        assert desk.app.is_running


def luminance(colour: Color) -> float:
    """Relative luminance. Source: WCAG 2.2, definition of "relative luminance"."""
    parts = [part / 255 for part in colour.rgb]
    red, green, blue = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("colours", [DAY, EVENING], ids=["day", "evening"])
def test_every_text_colour_can_be_read_on_every_ground(colours: dict[str, str]) -> None:
    """At least 4.5:1. Source: WCAG 2.2, success criterion 1.4.3."""
    for ground in GROUNDS:
        for ink in INKS:
            light, dark = sorted((luminance(Color.parse(colours[each])) for each in (ground, ink)), reverse=True)
            assert (light + 0.05) / (dark + 0.05) >= 4.5, (ink, ground)


async def test_states_are_words_and_signs_not_only_colours(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        critical = desk.in_hand
        assert any(text.startswith("▸!") for text in desk.screen.splitlines())
        await desk.press("enter")
        await desk.go_to(critical)
        assert "packed" in next(text for text in desk.screen.splitlines() if text.startswith("▸"))


async def test_the_evening_look_is_two_keys_and_packs_the_same(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        first = desk.in_hand
        await desk.open_page("Colours")
        assert desk.app.theme == "evening"
        await desk.press("b enter")
        assert desk.state(first) == "packed"


async def test_without_colour_the_row_in_hand_and_the_critical_ones_still_show(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """NO_COLOR: no hue on screen. Source: no-color.org."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with at_desk(tmp_path) as desk:
        assert any(text.startswith("▸!") for text in desk.screen.splitlines())
        for strip in desk.app.screen._compositor.render_strips():
            for segment in strip:
                for colour in (segment.style.color, segment.style.bgcolor) if segment.style else ():
                    assert colour is None or len(set(colour.get_truecolor())) == 1
