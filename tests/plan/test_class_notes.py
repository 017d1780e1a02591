"""Notes about a class: what can be noted, what cannot, and whose number stays whose."""

from __future__ import annotations

import pytest
from msgspec import structs

from checklists.plan import class_notes
from checklists.plan.class_notes import CannotNote, Known, narrowed, size_typed
from checklists.plan.records import Classes, Need, SchoolClass


def two_classes(**of_3k: object) -> Classes:
    third = SchoolClass("3-K", "3", "14", 25, **of_3k)  # type: ignore[arg-type]
    return Classes((SchoolClass("3-B", "3", "12", 24), third), {"Mon": {"P1": "3-B", "P2": "3-K"}}, {"3": ("birds",)})


def the_3k(classes: Classes) -> SchoolClass:
    return next(each for each in classes.classes if each.id == "3-K")


def test_a_note_about_one_class_leaves_the_others_the_timetable_and_the_lessons_alone() -> None:
    before = two_classes()
    after = class_notes.avoid(before, "3-K", "latex")
    assert the_3k(after).avoid == ("latex",)
    assert structs.replace(after, classes=before.classes) == before
    assert after.classes[0] == before.classes[0]


def test_what_is_noted_twice_stands_once_and_can_be_taken_away() -> None:
    twice = class_notes.avoid(class_notes.avoid(two_classes(), "3-K", "latex"), "3-K", "latex")
    assert the_3k(twice).avoid == ("latex",)
    assert class_notes.avoid_no_more(twice, "3-K", "latex") == two_classes()
    own = class_notes.have(two_classes(), "3-K", "pencil")
    assert the_3k(own).has == ("pencil",)
    assert class_notes.have_no_more(own, "3-K", "pencil") == two_classes()


def test_a_need_has_a_count_and_keeps_its_tables_when_the_count_changes() -> None:
    one = two_classes(needs=(Need("fine-motor", 1, (3,)), Need("noise")))
    two = class_notes.need(one, "3-K", "fine-motor", 2)
    assert the_3k(two).needs == (Need("fine-motor", 2, (3,)), Need("noise"))
    assert the_3k(class_notes.need(two, "3-K", "fine-motor", 0)).needs == (Need("noise"),)
    assert the_3k(class_notes.need(one, "3-K", "low-vision", 1)).needs[-1] == Need("low-vision")


def test_when_number_7_leaves_the_class_is_one_smaller_and_nobody_else_gets_another_number() -> None:
    """Situation T16: numbers of others do not shift."""
    after = the_3k(class_notes.leave(two_classes(), "3-K", 7))
    assert (after.students, after.left) == (24, (7,))
    assert class_notes.last_number(after) == 25
    both = the_3k(class_notes.leave(class_notes.leave(two_classes(), "3-K", 7), "3-K", 25))
    assert (both.students, both.left, class_notes.last_number(both)) == (23, (7, 25), 25)


def test_who_left_by_mistake_comes_back_under_the_same_number() -> None:
    gone = class_notes.leave(two_classes(), "3-K", 7)
    assert class_notes.come_back(gone, "3-K", 7) == two_classes()


def test_a_class_of_about_24_stays_about_when_a_child_leaves() -> None:
    about = class_notes.size(two_classes(), "3-K", "about 24")
    assert the_3k(class_notes.leave(about, "3-K", 26)).students == "about 23"


@pytest.mark.parametrize(
    ("note", "said"),
    [
        (lambda each: class_notes.leave(each, "3-K", 26), "3-K has no number 26: its list goes to 25."),
        (lambda each: class_notes.leave(each, "3-K", 0), "3-K has no number 0"),
        (lambda each: class_notes.come_back(each, "3-K", 7), "Number 7 of 3-K has not left."),
        (lambda each: class_notes.leave(class_notes.leave(each, "3-K", 7), "3-K", 7), "left before"),
        (lambda each: class_notes.need(each, "3-K", "noise", 26), "3-K has 25 children: 26 cannot need it."),
        (lambda each: class_notes.need(each, "3-K", "noise", 61), "0 to 60"),
        (lambda each: class_notes.adults(each, "3-K", 0), "1 to 6"),
        (lambda each: class_notes.avoid(each, "9-Z", "latex"), "There is no class 9-Z"),
    ],
)
def test_what_cannot_be_is_told_in_words(note: object, said: str) -> None:
    with pytest.raises(CannotNote) as problem:
        note(two_classes())  # type: ignore[operator]
    assert said in str(problem.value)


@pytest.mark.parametrize(
    ("typed", "size"),
    [
        ("25", 25),
        (" 0 ", 0),
        ("about 24", "about 24"),
        ("a24", "about 24"),
        ("~24", "about 24"),
        ("ABOUT 9", "about 9"),
    ],
)
def test_a_number_of_children_may_be_about(typed: str, size: int | str) -> None:
    assert size_typed(typed) == size


@pytest.mark.parametrize("typed", ["", "many", "401", "about 0", "24.5", "-3", "about", "24 25"])
def test_what_is_no_number_of_children_is_told(typed: str) -> None:
    with pytest.raises(CannotNote, match="is written 25, or about 24"):
        size_typed(typed)


def test_first_letters_narrow_names_then_words_in_them_then_what_they_mean() -> None:
    known = [Known("foam-plate", "foam plate"), Known("latex", "latex", "balloons, gloves"), Known("plate", "plates")]
    assert [each.word for each in narrowed(known, "la")] == ["latex"]
    assert [each.word for each in narrowed(known, "Pla")] == ["plate", "foam-plate"]
    assert [each.word for each in narrowed(known, "ball")] == ["latex"]
    assert narrowed(known, "  ") == tuple(known)
    assert narrowed(known, "zz") == ()
