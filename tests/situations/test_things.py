"""Things that are not as thought, on the reference school. Situation T35; common practice, no source."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.before_leaving import before_leaving
from checklists.daybook.day_end import at_day_end
from checklists.daybook.entries import CameUpShort, FoundInContainer, FoundLevel
from checklists.daybook.line_states import has_now, is_open, state_of
from tests.commandline.running import monday_lines, on_monday, trundle
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


def test_the_dry_ones_are_gone_at_once_and_the_supply_is_low_and_on_the_order_list(tmp_path: Path) -> None:
    folder = reference_school(tmp_path, contents={"box-1": {"glue-stick": 28}, "cart": {"scissors": 30}})
    data = in_the_evening(folder, on_hand={"glue-stick": 60}, counted={"glue-stick": date(2026, 9, 12)})
    number = next(each["number"] for each in _morning(data)["lines"] if each["key"] == "box-1/glue-stick")
    ran = on_monday("tick", str(number), "--short", "20", data=data, at="7:44")
    assert (ran.status, ran.err) == (0, "")
    assert "glue stick: 5 short of 25." in ran.out
    assert "On hand: about 52, counted Sat 12 Sep; low, so it is on the order list." in " ".join(ran.out.split())
    assert "share: per pair 11 and 2 spare, 13: enough" in ran.out
    assert f'trundle tick {number} --short 20 --remedy "share"' in ran.out

    (wanted,) = _ordered(data)
    assert (wanted["supply"], wanted["on_hand"], wanted["level"]) == ("glue-stick", 52, "low")
    assert "5 short since Mon 5 Oct" in wanted["why"]

    shared = on_monday("tick", str(number), "--short", "20", "--remedy", "share", "--json", data=data, at="7:45")
    (short,) = shared.fields["short"]
    assert (short["missing"], short["stock"]["on_hand"]) == (5, 52)  # the same eight, once
    assert {each["remedy"]: each["enough"] for each in short["ways"]}["share"] is True

    for clock in ("7:46", "7:47"):
        on_monday("undo", data=data, at=clock)
    assert _ordered(data) == []


def test_the_order_list_keeps_the_dry_sticks_after_closing_until_more_come(dry_sticks: Book) -> None:
    close(dry_sticks)
    dry_sticks.release()
    tuesday = ("--date", "2026-10-06", "--at", "7:40")
    (wanted,) = trundle("orders", "--json", *tuesday, data=dry_sticks.folder).fields["to_order"]
    assert (wanted["supply"], wanted["on_hand"], wanted["level"]) == ("glue-stick", 52, "low")
    trundle("delivered", "glue-stick", "2", *tuesday, data=dry_sticks.folder)
    found = trundle("orders", "--json", *tuesday, data=dry_sticks.folder).fields["to_order"]
    assert found == []  # 52 + 2 packs of 30


def test_plenty_takes_a_short_supply_off_the_order_list(dry_sticks: Book) -> None:
    dry_sticks.do(MONDAY, FoundLevel(at=at("7:50"), supply="glue-stick", level="plenty"))
    close(dry_sticks)
    assert opened_again(dry_sticks).opening(TUESDAY).levels == {"glue-stick": "plenty"}


def test_what_was_fetched_is_not_low(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path, contents={"box-1": {"glue-stick": 28}}))
    book.do(MONDAY, CameUpShort(at=at("7:44"), line="box-1/glue-stick", count=20, remedy="fetch"))
    close(book)
    assert book.opening(TUESDAY).levels == {}


def _morning(data: Path) -> dict[str, Any]:
    return on_monday("morning", "--json", data=data).fields


def _ordered(data: Path) -> list[dict[str, Any]]:
    found = on_monday("orders", "--json", data=data).fields["to_order"]
    assert isinstance(found, list)
    return [each for each in found if each["level"]]


def test_before_leaving_each_remedy_says_what_it_comes_to(tmp_path: Path) -> None:
    data = reference_school(tmp_path, contents={"box-1": {"glue-stick": 20}})
    matters = on_monday("leaving", "--json", data=data).fields["matters"]
    (glue,) = [each for each in matters if each["key"] == "box-1/glue-stick"]
    assert glue["choices"][1] == "share: per pair 11 and 2 spare, 13: enough"
    assert glue["choices"][5] == "go without: 2 children have none"
    assert on_monday("answer", "Box 1 glue stick", "share", data=data).status == 0
    (line,) = [each for each in _morning(data)["lines"] if each["key"] == "box-1/glue-stick"]
    assert (line["state"], line["remedy"]) == ("short", "share")


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
