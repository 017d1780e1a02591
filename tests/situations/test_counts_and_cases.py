"""Counting back: one missing, one too many, a count that could not be made. Situations T32, T33, T51 and T54.

On the reference school with its 30 pairs of scissors on the cart: 3-B takes 13, 3-K 14, 5-H 29. Common practice, no
source.
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
from checklists.daybook.counts_pending import counts_pending
from checklists.daybook.entries import ClosedCase, CountedSharps, CountLater, ReportedMissing
from checklists.daybook.lending import give_back, loans_now
from checklists.daybook.said_of_cases import say_case
from checklists.daybook.typing_in import entries_typed
from checklists.daybook.what_is_left import left_for_visits, say_left
from checklists.pages.morning import morning_page
from tests.commandline.running import refused, said, trundle
from tests.days import (
    NEXT_DAY_A,
    TUESDAY,
    WEDNESDAY,
    after_the_battery_died,
    asked_at_the_end,
    at,
    choose,
    close,
    line_of,
    opened,
    opened_again,
    packed,
    visit_of,
)
from tests.schools import MONDAY, in_the_evening, reference_school, reference_supplies

CASE = "2026-10-05/P3 3-B/scissors"
THIRTY = {"scissors": 30}


@pytest.fixture
def school(tmp_path: Path) -> Path:
    """The reference school with 30 scissors in all, on the cart."""
    return in_the_evening(reference_school(tmp_path / "school"), on_hand=THIRTY)


@pytest.fixture
def book(school: Path) -> Book:
    """Monday at 10:21: 13 scissors went out to 3-B and 12 came back."""
    book = opened(school)
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "scissors"), 30))
    book.do(MONDAY, counted_back(book, "3-B", 13, 12, "10:21"))
    return book


def counted_back(book: Book, class_id: str, out: int, back: int, clock: str, on: date = MONDAY) -> CountedSharps:
    visit = visit_of(book.day(on), class_id)
    return CountedSharps(at=at(clock, on), visit=visit.key, supply="scissors", out=out, back=back)


def scissors(book: Book, on: date) -> tuple[int, int]:
    """(on the cart, in all) when a day opens."""
    state = book.opening(on)
    return state.contents["cart"]["scissors"], state.on_hand["scissors"]


def typed(book: Book, on: date, key: str, text: str, clock: str = "15:05") -> None:
    entries = entries_typed(asked_at_the_end(book, on)[key], text, at(clock, on))
    assert not isinstance(entries, str), entries
    book.do(on, *entries)


# ------------------------------------------------------------------------------------------------ T32 one short


def test_one_missing_says_where_and_what_is_left_for_the_later_visits(book: Book) -> None:
    (case,) = cases_now(book.plan, book.day(MONDAY), book.marks(MONDAY))
    assert (case.count, case.room, case.period, case.out, case.back) == (1, "12", "P3", 13, 12)
    left = left_for_visits(book.plan, book.day(MONDAY), book.marks(MONDAY), "scissors", at("10:21"))
    assert say_left(left) == "V4 needs 14, 29 left: enough. V7 needs 29, 29 left: enough."


def test_with_another_one_gone_the_last_visit_is_one_short(book: Book) -> None:
    book.do(MONDAY, counted_back(book, "3-K", 14, 13, "11:12"))
    (left,) = left_for_visits(book.plan, book.day(MONDAY), book.marks(MONDAY), "scissors", at("11:12"))
    assert (left.visit.name, left.needs, left.there, left.short) == ("V7", 29, 28, 1)
    assert left.words == "V7 needs 29, 28 left: short 1; per pair 14 and 1 spare, 15: enough"
    assert asked_at_the_end(book, MONDAY)["count/P7 5-H/scissors"].out == 28


def test_the_answers_are_found_still_missing_or_lent(book: Book) -> None:
    labels = [choice.label for choice in asked_at_the_end(book, MONDAY)[f"case/{CASE}"].choices]
    assert labels == ["reported to the office", "still missing", "found in Room 12", "lent to the room"]


def test_whom_she_told_and_when_is_kept_and_shown_every_day_until_it_is_closed(book: Book, tmp_path: Path) -> None:
    typed(book, MONDAY, f"case/{CASE}", "r the office 15:05")
    close(book)
    book.today = WEDNESDAY
    told = "reported to the office, Mon 5 Oct 15:05"
    for day in (TUESDAY, WEDNESDAY, NEXT_DAY_A):
        (case,) = book.day(day).cases
        assert case == f"Missing: 1 scissors since Room 12, Mon 5 Oct P3 3-B, 13 out 12 back, {told}"
    again = after_the_battery_died(book, into=tmp_path / "copy")
    assert again.opening(NEXT_DAY_A).cases == book.opening(NEXT_DAY_A).cases
    assert scissors(again, WEDNESDAY) == (29, 29)


def test_on_the_command_line_a_count_says_what_is_left_and_a_case_takes_what_became_of_it(school: Path) -> None:
    ran = said("report", "V3", "--count", "scissors=13/12", data=school, clock="10:21")
    assert "V4 needs 14, 29 left: enough." in ran.out
    assert "V7 needs 29, 29 left: enough." in ran.out
    shown = trundle("case", "--date", "2026-10-05", data=school)
    assert (shown.status, "not reported yet" in " ".join(shown.out.split())) == (1, True)
    said("case", "scissors", "--reported", "the office", "--when", "15:05", data=school)
    (case,) = trundle("case", "--json", "--date", "2026-10-05", data=school).fields["cases"]
    assert (case["count"], case["room"], case["reported_to"]) == (1, "12", "the office")
    assert case["reported_when"] == "2026-10-05 15:05"
    assert refused("case", "glue", "--gone", data=school).startswith("No missing thing has the words glue.")


def test_lent_to_the_room_it_is_a_loan_and_no_case(book: Book, tmp_path: Path) -> None:
    before = book.closing_of(MONDAY)
    choose(book, MONDAY, f"case/{CASE}", "lent to the room")
    day, marks = book.day(MONDAY), book.marks(MONDAY)
    (loan,) = loans_now(day, marks)
    assert (loan.count, loan.place, cases_now(book.plan, day, marks)) == (1, "12", ())
    assert "lent" in asked_at_the_end(book, MONDAY)[f"case/{CASE}"].answer
    close(book)
    assert after_the_battery_died(book, into=tmp_path / "copy").opening(TUESDAY).lent == book.opening(TUESDAY).lent
    assert scissors(book, TUESDAY) == (29, 30)  # one of the thirty is in Room 12

    choose(book, TUESDAY, loan.key, "all 1 are back")
    assert (scissors(book, WEDNESDAY), book.opening(WEDNESDAY).lent) == ((30, 30), ())
    book.undo(TUESDAY)
    book.undo(MONDAY)  # the closing
    book.undo(MONDAY)
    assert book.closing_of(MONDAY) == before


def test_lent_by_name_two_days_later_the_case_is_closed_and_she_has_thirty_again(book: Book) -> None:
    close(book)
    typed(book, WEDNESDAY, f"case/{CASE}", "l Ms Reyes")
    state = book.closing_of(WEDNESDAY)
    assert (state.cases, [(each.to, each.count) for each in state.lent]) == ((), [("Ms Reyes", 1)])
    assert (state.contents["cart"]["scissors"], state.on_hand["scissors"]) == (29, 30)


# ------------------------------------------------------------------------------------- T33 found two days later


def test_one_answer_closes_the_case_with_date_and_place_and_counts_thirty(book: Book, tmp_path: Path) -> None:
    close(book)
    book.today = WEDNESDAY
    choose(book, WEDNESDAY, f"case/{CASE}", "found in Room 12")
    closed = book.marks(WEDNESDAY).closed_cases[CASE]
    assert (closed.where, closed.at.date()) == ("Room 12", WEDNESDAY)
    state = book.closing_of(WEDNESDAY)
    assert (state.cases, state.contents["cart"]["scissors"], state.on_hand["scissors"]) == ((), 30, 30)
    again = after_the_battery_died(book, into=tmp_path / "copy")
    assert again.closing_of(WEDNESDAY) == state
    assert again.undo(WEDNESDAY) == "missing thing found: Room 12"
    assert [case.key for case in again.closing_of(WEDNESDAY).cases] == [CASE]


def test_where_and_by_whom_it_was_found_can_be_said(book: Book) -> None:
    close(book)
    typed(book, WEDNESDAY, f"case/{CASE}", "f a 3-B desk, by Mr Hale")
    closed = book.marks(WEDNESDAY).closed_cases[CASE]
    assert (closed.where, closed.by) == ("a 3-B desk", "Mr Hale")
    assert asked_at_the_end(book, WEDNESDAY)[f"case/{CASE}"].answer == "found: a 3-B desk, by Mr Hale"
    assert "Case of 2026-10-05 closed." in close(book, WEDNESDAY)


def test_the_same_on_the_command_line(book: Book) -> None:
    close(book)
    book.release()
    where = ("--found", "a 3-B desk", "--by", "Mr Hale", "--when", "Tue afternoon")
    ran = said("case", "scissors", *where, data=book.folder, on=WEDNESDAY)
    assert "missing thing found: a 3-B desk, by Mr Hale, Tue afternoon" in ran.out
    assert said("case", data=book.folder, on=WEDNESDAY).out.endswith("Nothing is missing.\n")


def test_of_two_that_are_missing_one_is_found(school: Path) -> None:
    book = opened(school)
    book.do(MONDAY, counted_back(book, "3-B", 13, 11, "10:21"))
    close(book)
    typed(book, TUESDAY, f"case/{CASE}", "f 1 under the sink")
    (case,) = cases_now(book.plan, book.day(TUESDAY), book.marks(TUESDAY))
    assert (case.count, scissors(book, WEDNESDAY)) == (1, (29, 29))
    choose(book, WEDNESDAY, f"case/{CASE}", "found in Room 12")
    state = book.closing_of(WEDNESDAY)
    assert (state.cases, state.contents["cart"]["scissors"], state.on_hand["scissors"]) == ((), 30, 30)


# ---------------------------------------------------------------------------------- one more back than went out


def test_one_more_back_is_asked_to_be_the_one_that_is_missing(book: Book) -> None:
    close(book)
    book.today = NEXT_DAY_A
    class_id = next(visit.class_id for visit in book.day(NEXT_DAY_A).visits if visit.class_id == "3-K")
    book.do(NEXT_DAY_A, counted_back(book, class_id, 14, 15, "11:12", NEXT_DAY_A))
    (asked,) = [each for key, each in asked_at_the_end(book, NEXT_DAY_A).items() if key.startswith("more/")]
    assert asked.text == (
        "15 of 14 scissors back from V4 3-K: is one of them what is missing since Mon 5 Oct from Room 12?"
    )
    assert [choice.label for choice in asked.choices] == ["found", "counted wrong: 14 are back"]
    choose(book, NEXT_DAY_A, asked.key, "found")
    state = book.closing_of(NEXT_DAY_A)
    assert (state.cases, state.contents["cart"]["scissors"], state.on_hand["scissors"]) == ((), 30, 30)
    assert asked_at_the_end(book, NEXT_DAY_A)[asked.key].answer == "found"
    assert book.marks(NEXT_DAY_A).closed_cases[CASE].where == "among those back from V4 3-K"
    assert book.undo(NEXT_DAY_A) is not None
    assert book.closing_of(NEXT_DAY_A).cases != ()


def test_counted_wrong_leaves_the_case_open(book: Book) -> None:
    book.do(MONDAY, counted_back(book, "3-K", 14, 15, "11:12"))
    (key,) = [key for key in asked_at_the_end(book, MONDAY) if key.startswith("more/")]
    choose(book, MONDAY, key, "counted wrong: 14 are back")
    assert not [key for key in asked_at_the_end(book, MONDAY) if key.startswith("more/")]
    state = book.closing_of(MONDAY)
    assert ([case.key for case in state.cases], state.contents["cart"]["scissors"]) == ([CASE], 29)


def test_found_the_same_day_in_the_next_room_nothing_is_lost(book: Book) -> None:
    book.do(MONDAY, counted_back(book, "3-K", 14, 15, "11:12"))
    (key,) = [key for key in asked_at_the_end(book, MONDAY) if key.startswith("more/")]
    choose(book, MONDAY, key, "found")
    state = book.closing_of(MONDAY)
    assert (state.cases, state.contents["cart"]["scissors"], state.on_hand["scissors"]) == ((), 30, 30)
    (left,) = left_for_visits(book.plan, book.day(MONDAY), book.marks(MONDAY), "scissors", at("11:12"))
    assert (left.there, left.short) == (30, 0)


def test_one_too_many_where_nothing_is_missing_asks_nothing(school: Path) -> None:
    book = opened(school)
    book.do(MONDAY, counted_back(book, "3-K", 14, 15, "11:12"))
    assert not [key for key in asked_at_the_end(book, MONDAY) if key.startswith("more/")]
    assert book.closing_of(MONDAY).on_hand["scissors"] == 30


def test_the_command_line_asks_it_too_and_takes_the_answer(book: Book) -> None:
    book.release()
    ran = said("report", "V4", "--count", "scissors=14/15", data=book.folder, clock="11:12")
    asked = "15 of 14 scissors back from V4 3-K: is one of them what is missing since Mon 5 Oct from Room 12?"
    assert asked in " ".join(ran.out.split())
    assert 'trundle answer "15 of 14" found' in ran.out
    said("answer", "15 of 14", "found", data=book.folder, clock="11:13")
    assert said("case", data=book.folder).out.endswith("Nothing is missing.\n")


# ------------------------------------------------------------------------ T51 a fire drill: the count is pending


@pytest.fixture
def drill(tmp_path: Path) -> Book:
    """V2 takes 24 scissors to Room 9; at 9:24 the alarm goes and they are not counted."""
    supplies = [each for each in reference_supplies() if each["id"] != "glue-stick"]
    supplies.append({"id": "glue-stick", "name": "scissors for small hands", "kind": "tool", "sharp": True})
    folder = reference_school(tmp_path / "school", supplies=supplies)
    book = opened(folder)
    assert asked_at_the_end(book, MONDAY)[SMALL].out == 24
    choose(book, MONDAY, SMALL, "later")
    return book


SMALL = "count/P2 1-P/glue-stick"


def test_a_count_left_for_later_stands_on_top_that_day_and_the_next_until_it_is_made(drill: Book) -> None:
    book = drill
    on_top = "Count: 24 scissors for small hands, V2 1-P, Room 9"
    assert list(counts_pending(book.day(MONDAY), book.marks(MONDAY))) == [on_top]
    assert on_top in morning_page(book.plan, book.day(MONDAY), book.marks(MONDAY), None, book.departure(MONDAY))
    assert asked_at_the_end(book, MONDAY)[SMALL].answer == "to be counted later"
    close(book)
    book = opened_again(book, today=TUESDAY)
    assert "Count: 24 scissors for small hands of 1-P, Room 9, since Mon 5 Oct" in counts_pending(
        book.day(TUESDAY), book.marks(TUESDAY)
    )
    pending = "count/2026-10-05/P2 1-P/glue-stick"
    typed(book, TUESDAY, pending, "24")
    still = counts_pending(book.day(TUESDAY), book.marks(TUESDAY))
    assert not any("small hands of 1-P" in each for each in still)
    assert pending not in {each.key for each in book.closing_of(TUESDAY).carried}
    assert book.undo(TUESDAY) is not None
    assert pending in {each.key for each in book.closing_of(TUESDAY).carried}


def test_counted_at_lunch_it_is_off_the_top(drill: Book, tmp_path: Path) -> None:
    typed(drill, MONDAY, SMALL, "=", "11:12")
    assert list(counts_pending(drill.day(MONDAY), drill.marks(MONDAY))) == []
    assert asked_at_the_end(drill, MONDAY)[SMALL].answer == "24 of 24 back"
    assert drill.undo(MONDAY) is not None
    again = after_the_battery_died(drill, into=tmp_path / "copy")
    assert len(list(counts_pending(again.day(MONDAY), again.marks(MONDAY)))) == 1
    assert again.undo(MONDAY) == "V2 1-P: scissors for small hands to be counted later"


def test_later_by_the_command_line(school: Path) -> None:
    ran = said("report", "V3", "--count", "scissors=later", data=school, clock="10:19")
    assert "V3 3-B: scissors to be counted later" in ran.out
    found = trundle("morning", "--json", "--date", "2026-10-05", data=school).fields
    assert found["counts_pending"] == ["Count: 13 scissors, V3 3-B, Room 12"]
    said("report", "V3", "--count", "scissors=13/13", data=school, clock="11:12")
    assert trundle("morning", "--json", "--date", "2026-10-05", data=school).fields["counts_pending"] == []


def test_later_and_never_counted_is_one_matter_and_not_two(school: Path) -> None:
    book = opened(school)
    visit = visit_of(book.day(MONDAY), "3-B")
    book.do(MONDAY, CountLater(at=at("10:19"), visit=visit.key, supply="scissors"))
    pending = [each.key for each in book.closing_of(MONDAY).carried if each.kind == "count pending"]
    assert len(pending) == len(set(pending))
    assert "count/2026-10-05/P3 3-B/scissors" in pending


def test_gone_home_ill_the_scissors_nobody_counted_stay_on_top(school: Path) -> None:
    """T54: of V3 and V4 nothing was counted, and the day was never closed."""
    book = opened(school)
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "scissors"), 30))
    book = opened_again(book, today=TUESDAY)
    pending = list(counts_pending(book.day(TUESDAY), book.marks(TUESDAY)))
    assert "Count: 13 scissors of 3-B, Room 12, since Mon 5 Oct" in pending
    assert "Count: 14 scissors of 3-K, Room 14, since Mon 5 Oct" in pending


# ------------------------------------------------------------------------------------------------- words, slips


def test_a_case_is_told_with_and_without_somebody_who_knows(book: Book) -> None:
    (case,) = cases_now(book.plan, book.day(MONDAY), book.marks(MONDAY))
    assert say_case(book.plan, case).endswith("13 out 12 back, not reported yet")
    book.do(MONDAY, ReportedMissing(at=at("15:05"), case=CASE, to_whom="Ms Ode", when="before the buses"))
    (case,) = cases_now(book.plan, book.day(MONDAY), book.marks(MONDAY))
    assert say_case(book.plan, case).endswith("reported to Ms Ode, before the buses")


@pytest.mark.parametrize("text", ["f", "x here", "desk", "l ", ""])
def test_what_says_nothing_of_a_missing_thing_is_refused_in_words(book: Book, text: str) -> None:
    found = entries_typed(asked_at_the_end(book, MONDAY)[f"case/{CASE}"], text, at("15:05"))
    assert isinstance(found, str)
    assert found.startswith("Type f and where it was found")


def test_out_and_back_can_be_typed_together_where_fewer_went_out(book: Book) -> None:
    typed(book, MONDAY, "count/P7 5-H/scissors", "15/15")
    assert asked_at_the_end(book, MONDAY)["count/P7 5-H/scissors"].answer == "15 of 15 back"


def test_a_case_closed_without_the_thing_says_why(book: Book) -> None:
    close(book)
    book.do(TUESDAY, ClosedCase(at=at("15:05", TUESDAY), case=CASE, found=False, where="not found in a month"))
    answer = asked_at_the_end(book, TUESDAY)[f"case/{CASE}"].answer
    assert answer == "closed without it: not found in a month"


# ---------------------------------------------------------------------------------------------------- the law

ANSWERS = ("still missing", "found in Room 12", "found in Room 14", "lent to the room", "close without it")
FEW = settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
STEPS = st.lists(
    st.one_of(
        st.tuples(st.just("count"), st.sampled_from(["3-B", "3-K"]), st.integers(8, 14)),
        st.tuples(st.just("answer"), st.sampled_from(ANSWERS), st.integers(0, 3)),
        st.tuples(st.just("back"), st.just(""), st.integers(1, 6)),
        st.tuples(st.just("close"), st.just(""), st.just(0)),
    ),
    max_size=9,
)


@FEW
@given(STEPS)
def test_missing_lent_and_there_are_together_all_she_had_and_nothing_counts_twice(
    steps: list[tuple[str, str, int]],
) -> None:
    with TemporaryDirectory() as folder:
        book = opened(in_the_evening(reference_school(Path(folder)), on_hand=THIRTY))
        day, written_off = MONDAY, 0
        for number, (what, which, count) in enumerate(steps):
            clock, marks = f"{8 + number}:00", book.marks(day)
            if what == "count" and day == MONDAY and not marks.closed_cases:
                out = 13 if which == "3-B" else 14
                book.do(day, counted_back(book, which, out, min(out, count), clock))
            elif what == "answer":
                asked = [each for each in asked_at_the_end(book, day).values() if each.missing is not None]
                open_ones = [each for each in asked if each.missing and each.missing.key not in marks.closed_cases]
                if open_ones:
                    matter = open_ones[count % len(open_ones)]
                    choice = next((each for each in matter.choices if each.label == which), None)
                    if choice is not None:
                        book.do(day, *choice.entries)
                        written_off += matter.missing.count if which == "close without it" and matter.missing else 0
            elif what == "back" and (loans := loans_now(book.day(day), marks)):
                book.do(day, give_back(loans[0], at(clock, day), count))
            elif what == "close" and day == MONDAY:
                close(book)
                day = book.today = TUESDAY
            state = book.closing_of(day)
            lent = sum(each.count for each in state.lent)
            missing = sum(each.count for each in state.cases)
            there = state.contents["cart"]["scissors"]
            assert there + lent + missing + written_off == 30
            assert state.on_hand["scissors"] == there + lent
        book.release()
