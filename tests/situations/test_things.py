"""Things that are not as thought, on the reference school. Situation T35; common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.before_leaving import before_leaving
from checklists.daybook.day_end import at_day_end
from checklists.daybook.marks import has_now, is_open, state_of
from checklists.daybook.records import CameUpShort, FoundInContainer, FoundLevel
from tests.commandline.running import monday_lines, on_monday
from tests.days import TUESDAY, at, close, line_of, lines_of, opened, opened_again, packed
from tests.schools import MONDAY, in_the_evening, reference_school


@pytest.fixture
def dry_sticks(tmp_path: Path) -> Book:
    """Box 1 holds 28 glue sticks of 60 in all; V2 needs 25. At 7:44 she finds 8 of them dry."""
    folder = reference_school(tmp_path, contents={"box-1": {"glue-stick": 28}, "cart": {"scissors": 30}})
    book = opened(in_the_evening(folder, on_hand={"glue-stick": 60}))
    line = next(each for each in lines_of(book.day(MONDAY), "glue-stick") if each.container == "box-1")
    assert (line.need, line.in_it, line.on_shelf) == (25, 28, 32)
    book.do(MONDAY, CameUpShort(at=at("7:44"), line=line.key, count=20, remedy="share"))
    return book


def test_glue_sticks_that_are_dry_leave_the_line_five_short(dry_sticks: Book) -> None:
    marks = dry_sticks.marks(MONDAY)
    (line,) = [each for each in dry_sticks.day(MONDAY).lines if each.key == "box-1/glue-stick"]
    assert state_of(line, marks) == "short"
    assert line.need - has_now(line, marks) == 5
    assert not is_open(line, marks)  # she has said what she does: the children share


def test_what_she_does_about_a_short_line_is_offered_before_she_says_it(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path, contents={"box-1": {"glue-stick": 20}}))
    (line,) = [each for each in book.day(MONDAY).lines if each.key == "box-1/glue-stick"]
    (matter,) = [each for each in before_leaving(book.day(MONDAY), book.marks(MONDAY), at()) if each.key == line.key]
    assert matter.text == "Box 1: 5 more glue stick (need 25, has 20) for V2"
    offered = [choice.label for choice in matter.choices]
    assert offered[:6] == ["packed", "share", "use another", "make more", "fetch", "go without"]


def test_a_short_supply_is_asked_about_at_the_days_end(dry_sticks: Book) -> None:
    book = dry_sticks
    (asked,) = [
        each
        for each in at_day_end(book.plan, book.day(MONDAY), book.marks(MONDAY), at("15:00"))
        if each.key == "low/glue-stick"
    ]
    assert asked.text == "glue stick: has 20 of 25"
    assert [choice.label for choice in asked.choices] == ["low", "out", "plenty"]
    book.do(MONDAY, FoundLevel(at=at("15:01"), supply="glue-stick", level="low"))
    close(book)
    assert opened_again(book).opening(TUESDAY).levels == {"glue-stick": "low"}


def test_the_eight_dry_ones_are_gone_from_the_stock(dry_sticks: Book) -> None:
    close(dry_sticks)
    state = opened_again(dry_sticks, today=TUESDAY).opening(TUESDAY)
    assert state.on_hand["glue-stick"] == 52
    assert state.contents["box-1"]["glue-stick"] == 20


def test_looking_again_into_the_box_does_not_bring_the_dry_ones_back(dry_sticks: Book) -> None:
    dry_sticks.do(MONDAY, FoundInContainer(at=at("7:50"), container="box-1", supply="glue-stick", count=20))
    close(dry_sticks)
    assert dry_sticks.opening(TUESDAY).on_hand["glue-stick"] == 52


def test_taking_sticks_out_on_purpose_puts_them_back_on_the_shelf(tmp_path: Path) -> None:
    folder = reference_school(tmp_path, contents={"box-1": {"glue-stick": 40}})
    book = opened(in_the_evening(folder, on_hand={"glue-stick": 60}))
    (line,) = [each for each in book.day(MONDAY).lines if each.key == "box-1/glue-stick"]
    book.do(MONDAY, packed(line, 25))
    close(book)
    state = book.opening(TUESDAY)
    assert (state.on_hand["glue-stick"], state.contents["box-1"]["glue-stick"]) == (60, 25)


def test_five_short_come_back_on_the_next_school_day_until_they_are_packed(dry_sticks: Book) -> None:
    close(dry_sticks)
    book = opened_again(dry_sticks, today=TUESDAY)
    matters = [each for each in book.day(TUESDAY).matters if each.kind == "short"]
    assert [(each.what, each.since, each.container) for each in matters] == [
        ("Box 1: 5 glue stick short", MONDAY, "box-1")
    ]


def test_a_short_line_by_the_command_line(tmp_path: Path) -> None:
    data = reference_school(tmp_path, contents={"box-1": {"glue-stick": 28}})
    number = next(
        each["number"]
        for each in on_monday("morning", "--json", data=data).fields["lines"]
        if each["key"] == "box-1/glue-stick"
    )
    ran = on_monday("tick", str(number), "--short", "20", "--remedy", "share", data=data, at="7:44")
    assert (ran.status, ran.err) == (0, "")
    assert "glue stick, Box 1 short, has 20: share" in ran.out
    assert monday_lines(data)["glue-stick"]  # the list still reads after it
    line = next(
        each for each in on_monday("morning", "--json", data=data).fields["lines"] if each["key"] == "box-1/glue-stick"
    )
    assert (line["need"], line["has"], line["state"]) == (25, 20, "short")


def test_the_line_of_5_h_is_another_one(dry_sticks: Book) -> None:
    """Glue sticks ride in Box 5 as well: what is short in one box is not short in the other."""
    assert len(lines_of(dry_sticks.day(MONDAY), "glue-stick")) == 2
    assert line_of(dry_sticks.day(MONDAY), "scissors").need == 29
