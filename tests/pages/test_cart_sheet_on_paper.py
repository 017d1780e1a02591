"""The cart sheet laid out: rows and columns of the text, what fits on which paper, and nothing private on either."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from msgspec import structs

from checklists.book import Book
from checklists.daybook.entries import Changed, Guests
from checklists.daybook.state import Place, Unsure
from checklists.pages.cart_sheet_html import STYLE, cart_sheet_html
from checklists.pages.cart_sheet_records import CartSheet, Trays
from checklists.pages.cart_sheet_text import NEXT_PAGE, cart_sheet_pages, cart_sheet_text
from checklists.pages.plain import width_of
from checklists.sheets import sheet_of
from tests.days import at, opened
from tests.packing_schools import school_one_adult_short
from tests.pages.sheets import Read, fits_on_paper, monday_sheet
from tests.schools import FRIDAY_BEFORE, MONDAY, demo_school, in_the_evening, reference_school, small_school

PAPERS_MM = {"A4": (210.0, 297.0), "US letter": (8.5 * 25.4, 11 * 25.4)}
"""Width and height. Source: ISO 216 for A4; ANSI/ASME Y14.1 for letter, 8.5 by 11 inches."""
POINT_MM = 25.4 / 72
"""Source: CSS Values and Units, a point is a 72nd of an inch."""


def rows_of(sheet: CartSheet) -> list[str]:
    """All rows of the text, whatever page they are on."""
    return [row for page in cart_sheet_pages(sheet) for row in page]


# ----------------------------------------------------------------------------------------------------------- text


def test_seven_visits_stand_on_one_page_in_full(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path))
    assert len(cart_sheet_pages(sheet)) == 1 and fits_on_paper(sheet)
    text = cart_sheet_text(sheet)
    assert "on the screen" not in text and NEXT_PAGE not in text
    assert "Leave the store by 7:52" in text and "printed 7:38" in text
    assert re.search(
        r"^V3  9:35-10:20  Room 12  3-B  24 children, 6 tables -+ clean up from 10:15$", text, re.MULTILINE
    )
    assert "OUT 13 BACK ____ scissors #11" in text
    assert "FOLDER ON TOP 3-B #28" in text and "FOLDER 3-K #29 in Box 3" in text
    assert "STORE 11:12 to 12:22 (lunch and planning). OFF Box K" in text


def test_every_visit_has_its_outcomes_to_tick_and_room_to_write(tmp_path: Path) -> None:
    rows = rows_of(monday_sheet(reference_school(tmp_path)))
    ticks = "[ ] done  [ ] done but ___  [ ] half  [ ] not taught  [ ] on to part ___"
    assert sum(ticks in row for row in rows) == 7
    assert sum(bool(re.search("absent _+  low _+  left in room _+  note _+", row)) for row in rows) == 7


def test_what_to_do_in_an_emergency_stands_at_the_bottom_of_each_page(tmp_path: Path) -> None:
    pages = cart_sheet_pages(monday_sheet(reference_school(tmp_path)), width=60)
    assert len(pages) == 2
    for page in pages:
        end = " ".join(" ".join(page[-3:]).split())
        assert "Fire drill: leave the cart, count later." in end
        assert "Missing sharp: the class stays seated, tell the office. Local rules decide." in end


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> CartSheet:
    folder = tmp_path_factory.mktemp("demo") / "school"
    day = demo_school(folder)
    with Book.open(folder, write=False, today=day) as book:
        return sheet_of(book, day, at("7:40", day))


def test_the_demo_day_is_on_paper_with_nothing_cut(demo: CartSheet) -> None:
    pages = cart_sheet_pages(demo)
    assert fits_on_paper(demo) and len(pages) == 2
    assert "page 1 of 2" in pages[0][1] and "page 2 of 2" in pages[1][1]
    assert not [row for row in rows_of(demo) if "rows cut" in row or "more on the screen" in row]
    assert sum(row.startswith(f"V{n} ") for n in range(1, 8) for row in rows_of(demo)) == 7


def test_a_page_begins_with_a_visit_or_the_stop_before_it(demo: CartSheet) -> None:
    for page in cart_sheet_pages(demo):
        assert next(row for row in page[2:] if row.strip()).startswith((">> ", "V"))


def with_trays(sheet: CartSheet, count: int) -> CartSheet:
    """The sheet with so many tools more on trays in its third visit."""
    more = tuple(Trays(90, f"long-handled carving tool {n}", "6 trays of 4, 2 spare") for n in range(count))
    visits = [
        structs.replace(each, trays=(*each.trays, *more)) if each.class_id == "3-B" else each for each in sheet.visits
    ]
    return structs.replace(sheet, visits=tuple(visits))


def test_where_a_little_is_too_much_trays_are_cut_first_and_counted(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path))
    longer = with_trays(sheet, 8)
    assert len(cart_sheet_pages(longer)) == 1 and fits_on_paper(longer)
    text = " ".join(cart_sheet_text(longer).split())
    trays = [f"{each.name}: {each.sets}." for block in longer.visits for each in block.trays]
    cut = sum(int(count) for count in re.findall(r"\((\d+) more on the screen\)", text))
    assert cut > 0
    assert sum(text.count(each) for each in set(trays)) + cut == len(trays)
    assert all(f"ROOM {'sink' if block.sink else 'no sink'}" in text for block in longer.visits)


def test_where_cutting_does_not_help_there_is_a_second_page_and_nothing_is_cut(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path))
    visits = [structs.replace(each, missed=tuple(f"part {n}, 2 children" for n in range(20))) for each in sheet.visits]
    longer = structs.replace(sheet, visits=tuple(visits))
    assert len(cart_sheet_pages(longer)) > 1 and fits_on_paper(longer)
    assert "more on the screen" not in cart_sheet_text(longer)


def test_a_visit_longer_than_a_page_says_how_many_rows_are_cut(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path))
    visits = [structs.replace(each, missed=("word " * 1500,)) for each in sheet.visits[:1]]
    longer = structs.replace(sheet, visits=tuple(visits))
    assert fits_on_paper(longer)
    assert re.search(r"\(\d+ rows cut: the list has all of it\)", cart_sheet_text(longer))


def test_more_than_seven_visits_take_a_second_page(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path))
    more = [structs.replace(each, number=each.number + 7) for each in sheet.visits[:2]]
    longer = structs.replace(sheet, visits=(*sheet.visits, *more))
    assert len(cart_sheet_pages(longer)) == 2 and fits_on_paper(longer)
    assert cart_sheet_text(longer).count(NEXT_PAGE) == 1


def test_it_can_be_read_in_a_narrow_window_too(demo: CartSheet) -> None:
    assert all(width_of(row) <= 60 for page in cart_sheet_pages(demo, width=60) for row in page)


def test_a_part_that_is_not_known_or_not_decided_has_its_place_to_write(tmp_path: Path) -> None:
    unsure = {"3-B": (Unsure(FRIDAY_BEFORE, "P3 3-B", "burlap-birds", 2),)}
    text = cart_sheet_text(monday_sheet(in_the_evening(reference_school(tmp_path / "a"), unsure=unsure)))
    assert "Burlap Birds, part 2 or 3 of 4" in text
    assert "[ ] part 2  [ ] part 3  [ ] done" in text
    text = cart_sheet_text(monday_sheet(school_one_adult_short(tmp_path / "b")))
    assert "TO DECIDE" in text and "Nothing is packed for it until then." in text
    assert "taught: ____" in text


def test_more_than_the_cart_takes_and_what_must_be_fetched_are_told(tmp_path: Path) -> None:
    cart = {"half_slots": 2, "standing": {"scissors": 30}}
    folder = reference_school(tmp_path, school={"cart": cart})
    folder = in_the_evening(folder, places={"printing": Place("11", FRIDAY_BEFORE, "P5")})
    text = " ".join(cart_sheet_text(monday_sheet(folder)).split())
    # three boxes and two kits, in the morning and at midday
    assert text.count("TOO MUCH 4 boxes' worth (a kit is half a box), the cart takes 1: what waits?") == 2
    assert "ON Box 2, Printing kit (in Room 11: fetch it), Box 4" in text
    assert "ALONG Box 2 (blue star) and Printing kit (in Room 11: fetch it)." in text


def test_what_is_left_ahead_is_told_at_the_stop_at_its_visit_and_after_school(tmp_path: Path) -> None:
    cart = {"half_slots": 6, "standing": {"scissors": 30}}
    sheet = monday_sheet(reference_school(tmp_path, school={"cart": cart}))
    (ahead,) = sheet.stops[0].ahead
    for said in (" ".join(cart_sheet_text(sheet).split()), Read(cart_sheet_html(sheet)).text):
        assert f"LEAVE AHEAD {ahead.names[0]} in Room {ahead.room}, {ahead.minutes} min" in said
        assert f"{ahead.names[0]} (" in said and "stands there" in said
        assert f"AFTER SCHOOL fetch {ahead.names[0]} from Room {ahead.room}" in said


def test_children_of_another_class_are_told_below_the_heading(tmp_path: Path) -> None:
    with opened(small_school(tmp_path)) as book:
        guests = (Guests(of="3-B", join="3-K", count=2),)
        book.do(MONDAY, Changed(at=at("6:30"), away=("3-B",), guests=guests))
        text = cart_sheet_text(sheet_of(book, MONDAY, at()))
    assert re.search(r"^V1  8:50-9:35  Room 14  3-K  24 children, 6 tables -+ clean up", text, re.MULTILINE)
    assert "AMONG THEM 2 of 3-B." in text


def test_a_day_without_visits_is_said_in_a_line(tmp_path: Path) -> None:
    folder = small_school(tmp_path, days_off=[{"first": MONDAY, "reason": "harvest"}])
    sheet = monday_sheet(folder)
    assert "Nothing to take along: harvest." in cart_sheet_text(sheet)
    assert "Nothing to take along: harvest." in Read(cart_sheet_html(sheet)).text


# ----------------------------------------------------------------------------------------------------------- HTML


def test_the_html_says_what_the_text_says(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path))
    said = Read(cart_sheet_html(sheet))
    assert said.mistakes == []
    for words in (
        "Leave the store by 7:52",
        "OUT 13 BACK scissors #11",
        "FOLDER ON TOP 3-B #28.",
        "from Room 9, 1 min",
    ):
        assert words in said.text, words
    assert said.elements.count("section") == 7 and said.elements.count("h2") == 7
    assert said.text.count("not taught") == 7 and said.text.count("absent") == 7


def test_the_html_needs_nothing_from_outside_and_runs_nothing(demo: CartSheet) -> None:
    page = Read(cart_sheet_html(demo))
    assert not {"script", "link", "img", "iframe", "object", "form"} & set(page.elements)
    assert {name for name, _ in page.attributes} <= {"lang", "charset", "class"}
    assert not re.search(r"https?:|url\(|@import", cart_sheet_html(demo))


def test_it_is_printed_in_black_with_letters_large_enough() -> None:
    assert set(re.findall(r"(?:color|background|solid|dashed):? (\w+)(?=[;\s}])", STYLE)) <= {"black", "white", "only"}
    assert not re.search(r"#[0-9a-f]{3}|rgb", STYLE)
    assert all(float(size) >= 11 for size in re.findall(r"([\d.]+)pt", STYLE))
    assert float(re.search(r"h2 {[^}]*font-size: ([\d.]+)pt", STYLE)[1]) >= 16  # type: ignore[index]
    assert re.search(r"section[^{]*{[^}]*break-inside: avoid", STYLE)


def test_the_page_fits_both_papers(tmp_path: Path) -> None:
    margin = float(re.search(r"@page { margin: ([\d.]+)mm", STYLE)[1])  # type: ignore[index]
    width = float(re.search(r"max-width: ([\d.]+)mm", STYLE)[1])  # type: ignore[index]
    assert margin >= 6.35  # a quarter of an inch: what many printers leave white. From memory, not checked.
    assert width + 2 * margin <= min(wide for wide, _ in PAPERS_MM.values())
    assert "size:" not in re.search(r"@page {[^}]*}", STYLE)[0]  # type: ignore[index] # the printer's own paper
    sheet = monday_sheet(reference_school(tmp_path))
    assert height_in_mm(cart_sheet_html(sheet), width) + 2 * margin <= min(high for _, high in PAPERS_MM.values())


def height_in_mm(page: str, width: float) -> float:
    """About how high a page is laid out, a little on the high side: Arial has half an em a letter, or less.

    Seen laid out by a renderer once; the average of half an em is from memory, not checked.
    """
    text_row, big_row = 11 * 1.1 * POINT_MM, 16 * POINT_MM
    letters = width / (11 * 0.5 * POINT_MM)
    sections = page.split("<section>")[1:]
    rows = 0.0
    for section in sections:
        facts = re.search(r"<p>(<b>ALONG.*?)</p>", section, re.DOTALL)
        said = re.sub(r"<[^>]*>", "", facts[1]) if facts else ""
        rows += 1 + -(-len(said) // int(letters)) + section.count('<div class="fill">') * 1.12
    stops = [re.sub(r"<[^>]*>", "", each) for each in re.findall(r'<p class="stop">(.*?)</p>', page)]
    rows += sum(-(-len(each) // int(letters)) for each in stops) + 2 + 2 * 13 / 11
    return rows * text_row + len(sections) * (big_row + 1.4) + len(stops) * 1.4 + 1.2
