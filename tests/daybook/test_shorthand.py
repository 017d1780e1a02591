"""The one line about a visit: understood or refused in words, and what is shown is what is noted."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.book import Book
from checklists.daybook.entries import AnyEntry, CountedSharps, CountLater, FoundLevel, HandedOut, Reported, Stands
from checklists.daybook.marks import marks_of
from checklists.daybook.noting import entries_of_line, is_begun_by, say_noted, visit_meant
from checklists.daybook.shorthand import FORMS, Back, Shorthand, read_shorthand, write_shorthand
from checklists.lines.records import Visit
from tests.days import at, opened, reported, visit_of
from tests.schools import MONDAY, reference_school


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """Tansy Hollow on Mon 5 Oct; nothing is noted in it, so that every test may use it."""
    return opened(reference_school(tmp_path_factory.mktemp("school")))


def typed(book: Book, text: str, class_id: str = "3-B", *before: AnyEntry) -> tuple[AnyEntry, ...]:
    """The entries of a line about a class's visit, after some others."""
    found = tried(book, text, class_id, *before)
    assert not isinstance(found, str), found
    return found


def tried(book: Book, text: str, class_id: str = "3-B", *before: AnyEntry) -> tuple[AnyEntry, ...] | str:
    day = book.day(MONDAY)
    line = read_shorthand(text)
    if isinstance(line, str):
        return line
    visit = visit_meant(line, day, visit_of(day, class_id))
    if isinstance(visit, str):
        return visit
    return entries_of_line(book.plan, day, marks_of(before), visit, line, at("12:00"))


def reports(entries: tuple[AnyEntry, ...]) -> Reported:
    (found,) = [each for each in entries if isinstance(each, Reported)]
    return found


def number_of(book: Book, supply: str) -> int:
    return next(line.number for line in book.day(MONDAY).lines if line.supply == supply)


# --------------------------------------------------------------------------------------------------- what it says


def test_the_line_of_the_cart_sheet_is_understood_as_a_whole(book: Book) -> None:
    """Absent 4 and 11, 13 scissors back, number 9 not done: 3-B took 13 scissors and 26 needles out."""
    report, count = typed(book, "v3 a4,11 t13 f9", "K-M")
    assert isinstance(report, Reported)
    assert isinstance(count, CountedSharps)
    assert (report.visit, report.outcome, report.absent) == ("P3 3-B", "done except", (4, 11))
    assert (report.not_done, report.not_done_numbers) == (1, (9,))
    assert (count.supply, count.out, count.back) == ("scissors", 13, 13)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", ("done", 0, (), 0, True)),
        ("a4,11", ("done", 0, (4, 11), 0, True)),
        ("a 4", None),
        ("a4, 11", ("done", 0, (4, 11), 0, True)),
        ("2a", ("done", 0, (), 2, True)),
        ("a0", ("done", 0, (), 0, True)),
        ("au", ("done", 0, (), 0, False)),
        ("3f", ("done except", 3, (), 0, True)),
        ("f9,12 a4", ("done except", 2, (4,), 0, True)),
        ("5f f9,12", ("done except", 5, (), 0, True)),
        ("f0", ("done", 0, (), 0, True)),
        ("h", ("about half", 0, (), 0, True)),
        ("n", ("not taught", 0, (), 0, False)),
        ("p3", ("went further", 0, (), 0, True)),
        ("i4", ("another part", 0, (), 0, True)),
        ("i2", ("done", 0, (), 0, True)),
        ("A4 H", ("about half", 0, (4,), 0, True)),
    ],
)
def test_what_is_not_said_is_as_planned(
    book: Book, text: str, expected: tuple[str, int, tuple[int, ...], int, bool] | None
) -> None:
    found = tried(book, text)
    if expected is None:
        assert found == "a is not understood. Type it like a4,11."
        return
    report = reports(typed(book, text))
    told = report.outcome, report.not_done, report.absent, report.absent_count, report.absences_known
    assert told == expected


def test_what_was_said_before_stays_where_the_line_is_silent(book: Book) -> None:
    before = reported(visit_of(book.day(MONDAY), "3-B"), "about half", absent=(4,))
    assert typed(book, "l23", "3-B", before)[0] != before
    assert not [each for each in typed(book, "=", "3-B", before) if isinstance(each, Reported)]
    report = reports(typed(book, "h6", "3-B", before))
    assert (report.outcome, report.absent, report.half) == ("about half", (4,), (6,))
    assert tried(book, "", "3-B", before) == "V3 3-B was told before. Say what is different."


def test_a_count_is_never_taken_as_given(book: Book) -> None:
    assert not [each for each in typed(book, "a4,11 3f") if isinstance(each, CountedSharps)]


@pytest.mark.parametrize(
    ("text", "back"),
    [
        ("=", {"scissors": 13, "blunt-needle": 26}),
        ("13", {"scissors": 13}),
        ("t13,26", {"scissors": 13, "blunt-needle": 26}),
        ("13,25", {"scissors": 13, "blunt-needle": 25}),
        ("t12,=", {"scissors": 12, "blunt-needle": 26}),
        ("14/13,=", {"scissors": 13, "blunt-needle": 26}),
        ("12 26", {"scissors": 12, "blunt-needle": 26}),
    ],
)
def test_counts_stand_in_the_order_of_the_lines(book: Book, text: str, back: dict[str, int]) -> None:
    found = {each.supply: each.back for each in typed(book, text) if isinstance(each, CountedSharps)}
    assert found == back


def test_a_count_may_name_its_line(book: Book) -> None:
    needles = number_of(book, "blunt-needle")
    for text, back in ((f"t{needles}=25", 25), (f"{needles}=", 26)):
        (count,) = [each for each in typed(book, text) if isinstance(each, CountedSharps)]
        assert (count.supply, count.back) == ("blunt-needle", back)


def test_the_next_number_is_for_what_still_waits(book: Book) -> None:
    scissors = typed(book, "13")
    (count,) = typed(book, "26", "3-B", *scissors)
    assert isinstance(count, CountedSharps)
    assert (count.supply, count.back) == ("blunt-needle", 26)


def test_after_a_fire_drill_it_is_counted_later(book: Book) -> None:
    later = [each for each in typed(book, "l") if isinstance(each, CountLater)]
    assert [each.supply for each in later] == ["scissors", "blunt-needle"]
    mixed = typed(book, "t13,l")
    assert [type(each) for each in mixed] == [Reported, CountedSharps, CountLater]


def test_what_is_low_what_stayed_and_what_was_given_are_noted_with_it(book: Book) -> None:
    yarn = number_of(book, "yarn-ball")
    found = typed(book, f"l{yarn} rb3,stitch")
    (low,) = [each for each in found if isinstance(each, FoundLevel)]
    assert (low.supply, low.level) == ("yarn-ball", "low")
    assert [(each.container, each.place) for each in found if isinstance(each, Stands)] == [
        ("box-3", "12"),
        ("stitching", "12"),
    ]
    assert [each.container for each in typed(book, f"r{yarn}") if isinstance(each, Stands)] == ["box-3"]
    assert not [each for each in found if isinstance(each, HandedOut)]


@pytest.mark.parametrize(
    ("name", "begun"),
    [("Box 3", ("b3", "box3", "b", "bo3")), ("Stitching kit", ("s", "stitch", "stk")), ("box-3", ("b3", "box-3"))],
)
def test_a_container_is_named_by_the_beginnings_of_its_words(name: str, begun: tuple[str, ...]) -> None:
    assert all(is_begun_by(name, each) for each in begun)
    assert not is_begun_by(name, "x")


# ------------------------------------------------------------------------------------------------- what cannot be


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("x7", "x7 is not understood."),
        ("a", "a is not understood. Type it like a4,11."),
        ("v9", "There is no visit V9 on that day: they go to V7."),
        ("v0", "There is no visit v0. Type it like v3."),
        ("a4 2a", "Who was absent is said twice. Say it once."),
        ("h n", "What it reached is said twice. Say it once."),
        ("= 13", "What came back is said twice. Say it once."),
        ("a4 f4", "No. 4 cannot be absent and not done. Say one of them."),
        ("a4 h4", "No. 4 cannot be absent and there for half of it. Say one of them."),
        ("a40", "There is no number 40 on the list of a class of 24."),
        ("30a", "3-B has 24 children; fewer can be absent or not done."),
        ("4a 22f", "Only 20 of 3-B were there, so 22 cannot be not done."),
        ("p2", "Burlap Birds has 4 parts and part 2 was planned, so 2 is not further."),
        ("p7", "Burlap Birds has 4 parts and part 2 was planned, so 7 is not further."),
        ("i7", "Burlap Birds has 4 parts, so there is no part 7 of it."),
        ("t13,26,4", "Only 2 things of V3 3-B are counted: scissors and blunt needle."),
        ("t99", "13 scissors went out to V3 3-B, so 99 cannot be back."),
        ("rwater", "water is nothing that went to V3 3-B. There: Box 3 and Stitching kit."),
        ("k", "There was no catch-up kit for V3 3-B."),
        ("l999", "There is no supply with line number 999 on the list of that day."),
        ("v1 =", "Nothing that is counted went to V1 K-M."),
    ],
)
def test_what_cannot_be_is_refused_in_words(book: Book, text: str, told: str) -> None:
    found = tried(book, text)
    assert isinstance(found, str)
    assert found.startswith(told), found


# ----------------------------------------------------------------------------------------------------------- laws

LETTERS = "vadfhnpictlorkuw=,0123456789 -.?xé\u202e\x1b[]"
LIST = st.lists(st.integers(1, 24), min_size=1, max_size=4, unique=True).map(lambda each: tuple(sorted(each)))
LINES = st.builds(
    Shorthand,
    visit=st.integers(0, 9),
    absent=st.none() | st.just(()) | LIST,
    not_done=st.none() | st.integers(0, 30),
    not_done_numbers=st.none() | LIST,
    half=st.none() | LIST,
    students=st.none() | st.integers(0, 400),
    back=st.lists(
        st.builds(Back, count=st.none() | st.integers(0, 40), line=st.integers(0, 40))
        | st.builds(Back, count=st.integers(0, 40), line=st.integers(0, 40), out=st.integers(0, 40))
        | st.builds(Back, line=st.integers(0, 40), later=st.just(True)),
        max_size=3,
    ).map(tuple),
    low=st.just(()) | LIST,
    out=st.just(()) | LIST,
    stayed=st.just(()) | st.just(("box3", "14")),
    handed_out=st.none() | st.booleans(),
)


@given(line=LINES, outcome=st.sampled_from([None, "d", "h", "n", "p3", "i2"]))
def test_a_line_that_was_written_is_read_as_the_same(line: Shorthand, outcome: str | None) -> None:
    ends = read_shorthand(" ".join([write_shorthand(line), outcome or ""]))
    assert isinstance(ends, Shorthand), ends
    assert read_shorthand(write_shorthand(ends)) == ends
    words = [*write_shorthand(line).split(), *([outcome] if outcome else [])]
    assert sorted(write_shorthand(ends).split()) == sorted(words)


@given(text=st.text(max_size=60) | st.text(LETTERS, max_size=60))
def test_whatever_is_typed_is_understood_or_refused_in_words(text: str) -> None:
    found = read_shorthand(text)
    assert isinstance(found, Shorthand) or found.endswith(".")


@given(text=st.text(LETTERS, max_size=40) | LINES.map(write_shorthand), number=st.integers(1, 7))
def test_what_is_shown_is_what_is_noted_and_nothing_raises(book: Book, text: str, number: int) -> None:
    day = book.day(MONDAY)
    line = read_shorthand(text)
    if isinstance(line, str):
        return
    visit = visit_meant(line, day, day.visits[number - 1])
    if isinstance(visit, str):
        return
    found = entries_of_line(book.plan, day, marks_of(()), visit, line, at("12:00"))
    if isinstance(found, str):
        assert found.endswith(".")
        return
    marks = marks_of(found)
    report = marks.reports[visit.key]
    shown = say_noted(found, day, book.plan)
    assert shown.startswith(f"{visit.name} {visit.class_id}: ")
    for number in (*report.absent, *report.not_done_numbers, *report.half):
        assert str(number) in shown
    for count in marks.sharps.values():
        assert f"{count.back} of {count.out} " in shown
    assert len(marks.levels) == len({each.supply for each in found if isinstance(each, FoundLevel)})


def test_every_form_that_help_shows_is_understood() -> None:
    assert all(isinstance(read_shorthand(form), Shorthand) for form, _ in FORMS)


def test_another_visit_than_the_one_in_hand_may_be_named(book: Book) -> None:
    line = read_shorthand("v4")
    assert isinstance(line, Shorthand)
    day = book.day(MONDAY)
    meant = visit_meant(line, day, day.visits[0])
    assert isinstance(meant, Visit)
    assert meant.class_id == "3-K"


def test_a_school_without_visits_has_no_visit_to_name(book: Book, tmp_path: Path) -> None:
    line = read_shorthand("v1")
    assert isinstance(line, Shorthand)
    sunday = book.day(MONDAY.replace(day=4))
    assert visit_meant(line, sunday, None) == "There is no visit V1 on that day."
