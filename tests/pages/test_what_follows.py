"""What a change of the plan does to a day's list, in sentences."""

from __future__ import annotations

from pathlib import Path

from checklists.book import Book
from checklists.daybook.entries import Packed
from checklists.lines.records import Line
from checklists.pages.what_follows import follows_in_short, what_follows
from checklists.plan import class_notes
from checklists.plan.records import Classes
from tests.schools import MONDAY, small_school
from tests.tui.desk import AT_7_41


def note(book: Book, classes: Classes, *, private: bool = False) -> tuple[str, ...]:
    """What follows on Monday from other classes."""
    before = book.day(MONDAY)
    book.change_classes(classes)
    return what_follows(book.plan, before, book.day(MONDAY), book.marks(MONDAY), private=private)


def line_of(book: Book, supply: str) -> Line:
    return next(line for line in book.day(MONDAY).lines if line.supply == supply)


def test_nothing_that_follows_is_said_as_nothing(tmp_path: Path) -> None:
    with Book.open(small_school(tmp_path), today=MONDAY) as book:
        before = book.day(MONDAY)
        assert note(book, class_notes.avoid(class_notes.classes_of(book.plan), "3-B", "nut")) == ()
        said = follows_in_short(book.plan, before, book.day(MONDAY), book.marks(MONDAY))
        assert said == "Nothing is different that day."


def test_more_children_are_told_as_what_to_put_in_or_as_the_new_number(tmp_path: Path) -> None:
    """White paper for 24 and 22 children is 46 + 5 = 51, with four more 50 + 5 = 55. Common practice, no source."""
    with Book.open(small_school(tmp_path), today=MONDAY) as book:
        paper = line_of(book, "white-12x18")
        book.do(MONDAY, Packed(at=AT_7_41, line=paper.key, count=51))
        said = note(book, class_notes.size(class_notes.classes_of(book.plan), "3-B", 28))
        assert "Box 3: put in 4 white paper 12x18." in said


def test_what_must_not_come_along_comes_first_and_is_to_be_taken_out(tmp_path: Path) -> None:
    with Book.open(small_school(tmp_path), today=MONDAY) as book:
        paper = line_of(book, "white-12x18")
        book.do(MONDAY, Packed(at=AT_7_41, line=paper.key, count=51))
        said = note(book, class_notes.avoid(class_notes.classes_of(book.plan), "3-B", "white-12x18"), private=True)
        assert said[0].startswith("Box 3: white paper 12x18 must not come along.")
        assert said[0].endswith("Take out the 51 in it.")


def test_what_tells_of_a_need_is_told_only_where_it_was_asked_for(tmp_path: Path) -> None:
    for private in (False, True):
        folder = tmp_path / str(private)
        with Book.open(small_school(folder), today=MONDAY) as book:
            classes = class_notes.need(class_notes.classes_of(book.plan), "3-B", "own-adult", 1)
            told = " ".join(note(book, classes, private=private))
            hidden = [check for check in book.day(MONDAY).checks if check.because and check.because[0].private]
            assert hidden
            assert any(check.what.rstrip(".") in told for check in hidden) is private
