"""The cart sheet is read by anybody and made of any text: nothing in it is obeyed, nothing private is told."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.state import Owed
from checklists.lines.records import Line
from checklists.pages.cart_sheet_html import cart_sheet_html
from checklists.pages.cart_sheet_json import cart_sheet_as_json
from checklists.pages.cart_sheet_text import cart_sheet_pages, cart_sheet_text
from checklists.pages.plain import width_of
from checklists.rules.read import vocabulary
from checklists.sheets import sheet_of
from tests.days import at
from tests.pages.sheets import Read, block_of, fits_on_paper, monday_sheet
from tests.references.random_schools import FIRST_DAY, write_random_school
from tests.schools import FRIDAY_BEFORE, MONDAY, a_class, in_the_evening, reference_school

# --------------------------------------------------------------------------------------------------- hostile texts

HOSTILE = "<script>alert(1)</script> & \x1b[31m red\nend \u202e txet"


def hostile_school(folder: Path) -> Path:
    """Signs of markup and of terminals wherever a plan file takes a text."""
    return reference_school(
        folder,
        school={"name": HOSTILE, "rooms": [{"id": "<i>12</i>"}, {"id": "4"}], "walks": []},
        teaching={"3": ["burlap-birds"], "K": ["striped-fish"]},
        classes=[a_class("<b>", grade="3", room="<i>12</i>", students=24), a_class("K-M", room="4", students=20)],
        timetable={"A": {"P1": "K-M", "P3": "<b>"}},
        boxes=[{"grade": "3", "sign": f'"{HOSTILE}"'}],
    )


def test_a_class_named_like_markup_is_shown_as_typed(tmp_path: Path) -> None:
    sheet = monday_sheet(hostile_school(tmp_path))
    page = Read(cart_sheet_html(sheet))
    assert page.mistakes == [] and not {"script", "i"} & set(page.elements)
    assert "9:35-10:20 Room <i>12</i> <b>" in page.text
    assert "<script>alert(1)</script> &" in page.text
    assert re.search(r"^V2  9:35-10:20  Room <i>12</i>  <b>", cart_sheet_text(sheet), re.MULTILINE)


def test_nothing_that_a_terminal_or_a_printer_obeys_gets_through(tmp_path: Path) -> None:
    sheet = monday_sheet(hostile_school(tmp_path))
    for laid_out in (cart_sheet_text(sheet), cart_sheet_html(sheet)):
        assert all(each.isprintable() for each in laid_out.split("\n"))
    assert fits_on_paper(sheet)


def test_names_of_wide_and_endless_signs_stay_within_the_page(tmp_path: Path) -> None:
    folder = reference_school(
        tmp_path,
        school={"name": "鳥" * 120, "rooms": [{"id": "部屋" * 14}], "walks": []},
        teaching={"3": ["burlap-birds"]},
        classes=[a_class("三年" * 14, grade="3", room="部屋" * 14, students=24)],
        timetable={"A": {"P3": "三年" * 14}},
        boxes=[{"grade": "3", "sign": "x" * 300}],
    )
    sheet = monday_sheet(folder)
    assert fits_on_paper(sheet)
    assert all(width_of(row) <= 60 for page in cart_sheet_pages(sheet, width=60) for row in page)


# --------------------------------------------------------------------------------------------------------- private


def telling_school(tmp_path: Path) -> Path:
    """3-B has every need there is and a secret rule of hers; children 388 and 391 are owed a part."""
    needs = [{"need": need, "count": 2, "tables": [3]} for need in vocabulary().needs]
    secret = {
        "id": "secret-reason",
        "title": "Secret title",
        "because": "the secret reason",
        "when": ["need fine-motor"],
        "add": [{"supply": "crayon-set", "group": "Differentiation"}],
        "checks": [{"what": "the secret check"}],
        "cautions": [{"text": "the secret caution"}],
    }
    folder = reference_school(
        tmp_path,
        classes=[a_class("3-B", room="12", students=24, needs=needs, avoid=["latex", "nut"])],
        timetable={"A": {"P3": "3-B"}},
        rules={"rules": [secret]},
    )
    owed = {"3-B": (Owed("burlap-birds", 2, FRIDAY_BEFORE, numbers=(388, 391)),)}
    return in_the_evening(folder, owed=owed)


def test_nothing_tells_of_a_need_or_of_which_child(tmp_path: Path) -> None:
    folder = telling_school(tmp_path)
    with Book.open(folder, write=False, today=MONDAY) as book:
        day = book.day(MONDAY)
        private = {why.text for line in day.lines for why in line.because if why.private}
        names = " ".join(line.name for line in day.lines).casefold()
    sheet = monday_sheet(folder)
    assert len(block_of(sheet, "3-B").at_tables) > 8
    telling = {each.replace("-", " ") for each in vocabulary().needs} | set(vocabulary().needs)
    telling |= set(vocabulary().needs.values())
    telling = {each for each in telling if each.casefold() not in names}  # "left-handed scissors" is a thing
    assert len(telling) > 20 and len(private) > 8
    laid_out: tuple[Any, ...] = (cart_sheet_text(sheet), cart_sheet_html(sheet), str(cart_sheet_as_json(sheet)))
    for said in laid_out:
        plain = " ".join(said.split()).casefold()
        assert "table 3" in plain or "'tables': [3]" in plain
        assert not [each for each in (*telling, *private, "secret", "388", "391") if each.casefold() in plain]


# ------------------------------------------------------------------------------------------------- any school at all


@pytest.mark.parametrize("seed", range(8))
def test_of_any_school_there_is_a_sheet_that_fits_on_paper(seed: int, tmp_path: Path) -> None:
    folder = write_random_school(tmp_path, seed)
    numbers: list[int] = []
    with Book.open(folder, write=False, today=FIRST_DAY) as book:
        day = book.list_date(FIRST_DAY)
        for _ in range(6):
            sheet = sheet_of(book, day, at("7:40", day))
            assert fits_on_paper(sheet)
            assert Read(cart_sheet_html(sheet)).mistakes == []
            assert all(block.start <= block.clean_up_from <= block.end for block in sheet.visits)
            by_number: dict[int, Line] = {line.number: line for line in book.day(day).lines}
            numbers += [n for block in sheet.visits for each in block.counted for n in each.numbers]
            assert all(by_number[n].counted for block in sheet.visits for each in block.counted for n in each.numbers)
            following = book.day(day).next_school_day
            assert following is not None
            day = following
    assert numbers
