"""Classes from a table: what each row does, and that nothing else of the plan changes."""

from __future__ import annotations

import pytest
from msgspec import structs

from checklists.plan.records import SchoolClass
from checklists.typed.class_names import name_class
from tests.bringing_in.schools import brought, said, tansy_hollow


def classes(content: str | bytes) -> dict[str, SchoolClass]:
    return {each.id: each for each in brought("classes", content).files.classes.classes}


@pytest.mark.parametrize(
    ("written", "ident", "grade"),
    [
        ("3-B", "3-B", "3"),
        ("3b", "3-B", "3"),
        ("Grade 3 B", "3-B", "3"),
        ("Gr. 3 B", "3-B", "3"),
        ("K-Smith", "K-Smith", "K"),
        ("Kinder A", "K-A", "K"),
        ("Kindergarten", "K", "K"),
        ("Pre-K", "PK", "PK"),
        ("PreK Reyes", "PK-Reyes", "PK"),
        ("Hale 3rd", "3-Hale", "3"),
        ("Mrs. Hale's 3rd grade", "3-Hale", "3"),
        ("Third Grade Hale", "3-Hale", "3"),
        ("3 / Hale", "3-Hale", "3"),
        ("K/1 Hale", "K-1-Hale", "K"),
        ("301", "301", "3"),
        ("Hale", "Hale", ""),
        ("Ruiz 2", "2-Ruiz", "2"),
    ],
)
def test_the_grade_and_the_id_are_found_in_what_people_write(written: str, ident: str, grade: str) -> None:
    # How classes are written: common practice, no source.
    named = name_class(written)
    assert (named.id, named.grade) == (ident, grade)


def test_a_row_for_each_class_without_headings() -> None:
    understood = brought("classes", "3-B\t24\t12\n3-C\t25\t15\n")
    assert understood.notes[0] == "Column 1 is the class, column 2 how many children, column 3 the room."
    assert said(understood, "adds") == ["3-C: grade 3, 25 children, Room 15"]
    assert said(understood, "there already") == ["3-B"]
    assert understood.can_be_taken


def test_headings_in_everyday_words_in_any_order_and_a_column_for_nothing() -> None:
    text = "Specials 2026-27\nTeacher,Gr,Rm,# of students,Aide\nHale,3rd,Room 12,22,yes\nMs. Smith,K,Rm. 4,about 21,\n"
    understood = brought("classes", text)
    assert understood.notes[0] == (
        "Column 1 is the teacher, column 2 the grade, column 3 the room, column 4 how many children;"
        " column 5 was not used."
    )
    now = {each.id: each for each in understood.files.classes.classes}
    assert now["3-Hale"] == SchoolClass("3-Hale", "3", "12", 22)
    assert now["K-Smith"].students == "about 21"


def test_a_change_is_told_with_what_it_was_and_needs_stay() -> None:
    before = tansy_hollow()
    avoiding = structs.replace(before.classes.classes[2], avoid=("wool",))
    others = (*before.classes.classes[:2], avoiding, *before.classes.classes[3:])
    files = structs.replace(before, classes=structs.replace(before.classes, classes=others))
    understood = brought("classes", "Class;Enrollment;Room;Tables\n3B;26;14;5\n", files)
    assert said(understood, "changes") == [
        "3-B: 26 children instead of 24; Room 14 instead of Room 12; 5 tables instead of 6"
    ]
    (now,) = [each for each in understood.files.classes.classes if each.id == "3-B"]
    assert now == structs.replace(avoiding, students=26, room="14", tables=5)
    rest = structs.replace(understood.files, classes=files.classes)
    assert rest == files


def test_a_room_that_is_new_is_added_where_the_school_lists_rooms() -> None:
    understood = brought("classes", "Class,Students,Room\n1-Q,22,Library\n1-R,21,Rm 30\n")
    assert [each.id for each in understood.files.school.rooms[-2:]] == ["library", "30"]
    assert "New among the rooms, with nothing known of them yet: library, 30." in understood.notes
    assert understood.problems == ()


def test_without_a_room_a_class_is_in_its_own_and_without_a_number_as_many_as_usual() -> None:
    understood = brought("classes", "class\n3-Z\n")
    now = understood.files.classes.classes[-1]
    assert (now.room, now.students) == ("3-Z", "about 24")
    assert understood.notes[-1] == "Where no room is named, a class is in its own room, called like the class."


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("Hale,24,12", 'The grade of "Hale" is not known.'),
        ("3-Q,=1+1,12", '"=1+1" is no number of students.'),
        ("3-Q,900,12", "900 students cannot be."),
        (",24,12", "No class stands there."),
        ("Total,168,", "No class stands there."),
    ],
)
def test_a_row_that_is_not_understood_has_its_number_what_stood_there_and_what_to_write(row: str, why: str) -> None:
    understood = brought("classes", f"class,students,room\n3-C,24,12\n{row}\n")
    (wrong,) = understood.those_that("not understood")
    assert (wrong.number, wrong.said) == (3, why)
    assert wrong.stood and wrong.to_do
    assert understood.counted == "1 class, 1 line not understood: row 3"


def test_of_two_rows_about_one_class_the_first_counts() -> None:
    understood = brought("classes", "3-C,24,12\n3c,24,12\n3-C,25,12\n")
    assert [each.does for each in understood.rows] == ["adds", "there already", "not understood"]
    assert understood.rows[2].said == "3-C stands in row 1 already, with something else."


def test_a_list_of_children_is_no_list_of_classes_and_nothing_of_it_is_kept() -> None:
    understood = brought("classes", "Student Name,Birthday,Allergies\nAda Birch,1/2/2018,nuts\n")
    assert not understood.is_anything
    assert understood.notes[0].startswith("This is a list of children.")
    with_class = brought("classes", "Student name,Class,Students,Room\nAda Birch,3-C,24,12\n")
    assert "Ada" not in repr(with_class)
    assert said(with_class, "adds") == ["3-C: grade 3, 24 children, Room 12"]


def test_odd_text_is_only_text() -> None:
    row = "3-[red]x[/red]\t24\t\u202e\x1b[2J\n3-👩‍🎨\t24\t12\n"
    now = classes(f"class\tstudents\troom\n{row}")
    assert now["3-[red]x[-red]"].room == "\ufffd\ufffd[2J"
    assert now["3-👩‍🎨"].room == "12"


def test_windows_text_is_said_to_be_guessed() -> None:
    understood = brought("classes", "class,students,room\n3-Peña,24,12\n".encode("cp1252"))
    assert understood.files.classes.classes[-1].id == "3-Peña"
    assert any("Windows-1252" in each and "Peña" in each for each in understood.notes)


@pytest.mark.parametrize(
    ("beginning", "what"), [(b"PK\x03\x04", "spreadsheet"), (b"%PDF-1.7", "PDF"), (b"", "nothing")]
)
def test_what_is_no_text_is_said_with_what_to_do(beginning: bytes, what: str) -> None:
    understood = brought("classes", beginning)
    assert what in understood.notes[0]
    assert not understood.is_anything


def test_a_room_is_not_called_as_a_place_that_means_something_else() -> None:
    understood = brought("classes", "class,students,room\n3-C,24,Store\n3-D,25,15\n")
    assert said(understood, "adds") == ["3-D: grade 3, 25 children, Room 15"]
    assert "store" not in {each.id.casefold() for each in understood.files.school.rooms}
