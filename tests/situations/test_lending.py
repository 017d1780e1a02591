"""Lending to a neighbour: lent is not missing, and not there. Situation T44 on the reference school.

30 pairs of scissors on the cart; 3-B takes 13, 3-K 14, 5-H 29. Common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checklists.book import Book
from checklists.daybook.cases import cases_now
from checklists.daybook.entries import CameUpShort, FoundInContainer, Lent
from checklists.daybook.lending import borrower_typed, give_back, lend, lend_offers, loan_offers, loans_now
from checklists.daybook.line_states import has_now, state_of
from checklists.daybook.said_of_cases import say_loan
from checklists.daybook.stock_now import Stock, stock_now
from checklists.daybook.typing_in import entries_typed
from checklists.daybook.what_is_left import left_for_visits
from checklists.pages.morning import morning_page
from tests.commandline.running import refused, said, trundle
from tests.days import (
    FRIDAY,
    NEXT_DAY_A,
    TUESDAY,
    WEDNESDAY,
    after_the_battery_died,
    asked_at_the_end,
    at,
    choose,
    close,
    count_all_back,
    line_of,
    opened,
    opened_again,
    packed,
)
from tests.schools import MONDAY, in_the_evening, reference_school

JANUARY = date(2027, 1, 6)


@pytest.fixture
def school(tmp_path: Path) -> Path:
    """The reference school with 30 scissors in all, on the cart."""
    return in_the_evening(reference_school(tmp_path / "school"), on_hand={"scissors": 30})


@pytest.fixture
def book(school: Path) -> Book:
    """Monday at 8:40: 12 scissors are lent to Room 16; the line was packed in full before."""
    book = opened(school)
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "scissors"), 30))
    lent(book, 12, "8:40")
    return book


def lent(book: Book, count: int, clock: str, on: date = MONDAY, to: str = "Room 16") -> None:
    supply = book.plan.supply_by_id["scissors"]
    stock = stock_now(book.plan, book.day(on), book.marks(on), book.opening(on))
    entries = lend(book.plan, stock, supply, count, at(clock, on), to)
    assert not isinstance(entries, str), entries
    book.do(on, *entries)


def pool(book: Book, on: date) -> tuple[int, int, int]:
    """(on the cart, lent, in all) after all that was said of a day."""
    state = book.closing_of(on)
    return state.contents["cart"]["scissors"], sum(each.count for each in state.lent), state.on_hand["scissors"]


# --------------------------------------------------------------------------------------- T44 twelve to Room 16


def test_twelve_are_lent_and_eighteen_are_there(book: Book) -> None:
    day, marks = book.day(MONDAY), book.marks(MONDAY)
    (loan,) = loans_now(day, marks)
    assert say_loan(book.plan, loan, MONDAY) == "lent: 12 scissors, Room 16, since 8:40"
    line = line_of(day, "scissors")
    assert (has_now(line, marks), state_of(line, marks)) == (18, "part packed")
    assert pool(book, MONDAY) == (18, 12, 30)


def test_the_thirds_have_enough_and_the_fifth_shares_per_pair(book: Book) -> None:
    left = left_for_visits(book.plan, book.day(MONDAY), book.marks(MONDAY), "scissors", at("8:40"))
    assert [each.words for each in left] == [
        "V3 needs 13, 18 left: enough",
        "V4 needs 14, 18 left: enough",
        "V7 needs 29, 18 left: short 11; per pair 14 and 1 spare, 15: enough",
    ]


def test_nothing_is_missing_and_later_counts_take_what_is_there(book: Book) -> None:
    asked = asked_at_the_end(book, MONDAY)
    assert [asked[f"count/{visit}/scissors"].out for visit in ("P3 3-B", "P4 3-K", "P7 5-H")] == [13, 14, 18]
    count_all_back(book, MONDAY)  # as they went out by the list; what was lent is not among them
    assert cases_now(book.plan, book.day(MONDAY), book.marks(MONDAY)) == ()


def test_lent_after_the_last_visit_it_had_its_twenty_nine(school: Path) -> None:
    book = opened(school)
    lent(book, 12, "15:00")
    assert asked_at_the_end(book, MONDAY)["count/P7 5-H/scissors"].out == 29


def test_where_she_shares_the_short_line_counts_what_was_there(book: Book) -> None:
    line = line_of(book.day(MONDAY), "scissors")
    book.do(MONDAY, CameUpShort(at=at("8:45"), line=line.key, count=18, remedy="share"))
    assert asked_at_the_end(book, MONDAY)["count/P7 5-H/scissors"].out == 18
    assert pool(book, MONDAY) == (18, 12, 30)  # twelve are not gone, they are lent


def test_five_come_back_and_then_the_rest(book: Book) -> None:
    (loan,) = loans_now(book.day(MONDAY), book.marks(MONDAY))
    book.do(MONDAY, give_back(loan, at("10:22"), 5))
    assert pool(book, MONDAY) == (23, 7, 30)
    (loan,) = loans_now(book.day(MONDAY), book.marks(MONDAY))
    book.do(MONDAY, give_back(loan, at("13:20")))
    assert pool(book, MONDAY) == (30, 0, 30)
    line = line_of(book.day(MONDAY), "scissors")
    assert (has_now(line, book.marks(MONDAY)), state_of(line, book.marks(MONDAY))) == (30, "packed")


def test_it_stands_on_top_every_day_until_it_is_back_over_the_new_year(book: Book, tmp_path: Path) -> None:
    page = morning_page(book.plan, book.day(MONDAY), book.marks(MONDAY), None, book.departure(MONDAY))
    assert "    lent: 12 scissors, Room 16, since 8:40" in page
    for day in (MONDAY, TUESDAY, FRIDAY):
        close(book, day)
    book = opened_again(book, today=JANUARY)
    (loan,) = book.day(JANUARY).lent
    assert say_loan(book.plan, loan, JANUARY) == "lent: 12 scissors, Room 16, since Mon 5 Oct 8:40"
    again = after_the_battery_died(book, into=tmp_path / "copy")
    assert again.opening(JANUARY).lent == (loan,)
    again.do(JANUARY, give_back(loan, at("7:40", JANUARY)))
    assert again.closing_of(JANUARY).lent == ()
    assert again.undo(JANUARY) == "12 scissors back that were lent"
    assert again.closing_of(JANUARY).lent == (loan,)
    assert again.check_chain() == ()


def test_on_the_next_day_a_too_small_pool_is_said_before_it_is_packed(book: Book) -> None:
    book.today = NEXT_DAY_A
    line = line_of(book.day(NEXT_DAY_A), "scissors")
    assert (line.in_it, line.on_shelf) == (18, 0)


def test_undone_it_is_as_if_nobody_had_asked_also_after_the_battery_died(book: Book, tmp_path: Path) -> None:
    again = after_the_battery_died(book, into=tmp_path / "copy")
    assert pool(again, MONDAY) == (18, 12, 30)
    assert again.undo(MONDAY) == "12 scissors lent to Room 16"
    assert pool(again, MONDAY) == (30, 0, 30)


def test_an_earlier_day_corrected_the_loan_that_never_was_brings_nothing_back(book: Book) -> None:
    close(book)
    book.today = TUESDAY
    (loan,) = book.day(TUESDAY).lent
    book.do(TUESDAY, give_back(loan, at("7:45", TUESDAY)))
    close(book, TUESDAY)
    assert pool(book, TUESDAY) == (30, 0, 30)
    book.undo(MONDAY)  # the closing
    assert book.undo(MONDAY) == "12 scissors lent to Room 16"
    assert pool(book, TUESDAY) == (30, 0, 30)
    assert book.check_chain() == ()


# ------------------------------------------------------------------------------------------------ the day's end


def test_at_the_days_end_one_key_says_still_lent_or_back(book: Book) -> None:
    (loan,) = loans_now(book.day(MONDAY), book.marks(MONDAY))
    asked = asked_at_the_end(book, MONDAY)[loan.key]
    assert (asked.section, asked.critical) == ("Where things are", False)
    assert asked.text == "Lent: 12 scissors, Room 16, since 8:40. Is it back?"
    assert [choice.label for choice in asked.choices] == ["still lent", "all 12 are back"]
    choose(book, MONDAY, loan.key, "still lent")
    assert asked_at_the_end(book, MONDAY)[loan.key].answer == "still lent"
    choose(book, MONDAY, loan.key, "all 12 are back")
    assert asked_at_the_end(book, MONDAY)[loan.key].answer == "back"
    assert "lent" not in " ".join(close(book))


def test_some_are_back_by_a_number(book: Book) -> None:
    (loan,) = loans_now(book.day(MONDAY), book.marks(MONDAY))
    asked = asked_at_the_end(book, MONDAY)[loan.key]
    entries = entries_typed(asked, "5", at("15:05"))
    assert not isinstance(entries, str)
    book.do(MONDAY, *entries)
    assert pool(book, MONDAY) == (23, 7, 30)
    assert entries_typed(asked, "13", at("15:06")) == "Type how many are back, 1 to 12."


def test_closing_says_what_is_still_lent(book: Book) -> None:
    assert "Still lent: 12 scissors, Room 16, since 8:40." in close(book)


# ------------------------------------------------------------------------------------------------- command line


def test_lending_by_the_command_line_says_what_is_left_for_whom(school: Path) -> None:
    ran = said("lend", "scissors", "12", "--to", "Room 16", data=school, clock="8:40")
    told = " ".join(ran.out.split())
    assert "12 scissors lent to Room 16" in told
    assert "V3 needs 13, 18 left: enough." in told
    assert "V7 needs 29, 18 left: short 11; per pair 14 and 1 spare, 15: enough." in told
    assert "lent: 12 scissors, Room 16, since 8:40" in said("lend", data=school).out
    (loan,) = trundle("lend", "--json", "--date", "2026-10-05", data=school).fields["lent"]
    assert (loan["count"], loan["to"], loan["time"], loan["container"]) == (12, "Room 16", "8:40", "cart")
    ran = said("lend", "--back", "scissors", "--count", "5", data=school, clock="12:00")
    assert "lent: 7 scissors, Room 16, since 8:40" in ran.out
    said("undo", data=school, clock="12:01")
    said("lend", "--back", "scissors", data=school, clock="12:02")
    assert "Nothing is lent." in said("lend", data=school).out
    assert refused("lend", "--back", "scissors", data=school) == "No scissors is lent."


def test_what_cannot_be_lent_is_refused_in_words(school: Path) -> None:
    assert refused("lend", "scissors", "31", "--to", "9", data=school) == (
        "30 scissors are there (Cart 30), so 31 cannot be lent."
    )
    assert refused("lend", "scissors", "12", data=school).startswith("Say to whom")
    assert refused("lend", "scissors", "--to", "9", data=school).startswith("scissors is not a whole number")


def test_with_what_is_missing_and_lent_no_more_than_the_rest_can_be_lent(book: Book) -> None:
    supply = book.plan.supply_by_id["scissors"]
    stock = stock_now(book.plan, book.day(MONDAY), book.marks(MONDAY), book.opening(MONDAY))
    assert lend(book.plan, stock, supply, 19, at("9:00"), "Al") == (
        "18 scissors are there (Cart 18), so 19 cannot be lent."
    )


@pytest.mark.parametrize(
    ("text", "borrower"),
    [
        ("Room 9", ("", "9")),
        ("9", ("", "9")),
        ("rm 9", ("", "9")),
        ("Ms Reyes", ("Ms Reyes", "")),
        ("Ms Reyes, Room 9", ("Ms Reyes", "9")),
        ("16", ("Room 16", "")),
        ("Room 16", ("Room 16", "")),
    ],
)
def test_who_has_it_is_a_room_of_the_plan_or_a_name(book: Book, text: str, borrower: tuple[str, str]) -> None:
    assert borrower_typed(book.plan, text) == borrower


def test_what_is_typed_says_how_many_and_to_whom(book: Book) -> None:
    supply = book.plan.supply_by_id["scissors"]
    stock = stock_now(book.plan, book.day(MONDAY), book.marks(MONDAY), book.opening(MONDAY))
    assert isinstance(lend_offers(book.plan, stock, supply, "", at("9:00")), str)
    offers = lend_offers(book.plan, stock, supply, "5 2", at("9:00"))
    assert [each.label for each in offers if not isinstance(each, str)] == [
        "5 scissors to Room 2",
        "5 scissors to Room 21",
        "5 scissors to Room 23",
    ]
    (loan,) = loans_now(book.day(MONDAY), book.marks(MONDAY))
    (five,) = loan_offers(loan, "5", at("9:00"))
    assert not isinstance(five, str)
    assert five.label == "5 are back, 7 stay lent"


# --------------------------------------------------------------------------------------------------- the law


def on_the_cart(stock: Stock) -> int:
    return stock.contents.get("cart", {}).get("scissors", 0)


SLOW = settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
STEPS = st.lists(st.tuples(st.sampled_from(["lend", "back", "look", "close"]), st.integers(1, 20)), max_size=8)


@SLOW
@given(STEPS)
def test_whatever_is_lent_and_given_back_all_together_it_is_what_she_has(steps: list[tuple[str, int]]) -> None:
    """On the cart, on the shelf and lent: 40 in all, never less than nothing, and no case for what is lent."""
    with TemporaryDirectory() as folder:
        book = opened(in_the_evening(reference_school(Path(folder)), on_hand={"scissors": 40}))
        supply, days = book.plan.supply_by_id["scissors"], iter((TUESDAY, WEDNESDAY, FRIDAY))
        day = MONDAY
        for number, (what, count) in enumerate(steps):
            now = at(f"{8 + number}:00", day)
            loans = loans_now(book.day(day), book.marks(day))
            stock = stock_now(book.plan, book.day(day), book.marks(day), book.opening(day))
            if what == "lend":
                entries = lend(book.plan, stock, supply, count, now, "Al")
                there = on_the_cart(stock) + (stock.on_shelf("scissors") or 0)
                assert isinstance(entries, str) == (count > there)
                if not isinstance(entries, str):
                    book.do(day, *entries)
            elif what == "back" and loans:
                book.do(day, give_back(loans[count % len(loans)], now, count))
            elif what == "look":  # she counts what is on the cart, and it is as thought
                count = on_the_cart(stock)
                book.do(day, FoundInContainer(at=now, container="cart", supply="scissors", count=count))
            elif what == "close" and (following := next(days, None)) is not None:
                close(book, day)
                day = book.today = following
            stock = stock_now(book.plan, book.day(day), book.marks(day), book.opening(day))
            out = sum(each.count for each in loans_now(book.day(day), book.marks(day)))
            on_cart, on_shelf = on_the_cart(stock), stock.on_shelf("scissors")
            assert on_shelf is not None
            assert min(on_cart, on_shelf, out) >= 0
            assert on_cart + on_shelf + out == stock.on_hand["scissors"] == 40
            line = next((each for each in book.day(day).lines if each.supply == "scissors"), None)
            assert line is None or has_now(line, book.marks(day)) == on_cart
        closing = book.closing_of(day)
        assert closing.cases == ()
        again = opened_again(book, today=day)
        assert again.closing_of(day) == closing
        assert again.check_chain() == ()
        again.release()


def test_a_loan_from_the_shelf_leaves_the_cart_as_it_is(tmp_path: Path) -> None:
    book = opened(in_the_evening(reference_school(tmp_path), on_hand={"scissors": 60}))
    book.do(MONDAY, Lent(at=at("8:40"), supply="scissors", count=20, to="Al"))
    stock = stock_now(book.plan, book.day(MONDAY), book.marks(MONDAY), book.opening(MONDAY))
    assert (on_the_cart(stock), stock.on_shelf("scissors"), stock.on_hand["scissors"]) == (30, 10, 60)
