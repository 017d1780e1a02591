"""Rules of her own made of what she sees: the sentences, the numbers on the list, and what they would do.

The school and its numbers are invented; how much is wanted of what is common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from msgspec import structs

from checklists.book import Book, NotSaved
from checklists.own_rules.choices import Choice, Proposal, free_id, proposals_for, rule_from, say_choice
from checklists.own_rules.preview import preview_of, say_preview
from checklists.own_rules.times import grade_sentence
from checklists.own_rules.trying import rules_with, rules_without
from checklists.rules.records import SwitchedOff
from tests.days import line_of, lines_of, opened
from tests.schools import MONDAY, a_class, a_lesson, a_part, a_supply, an_item, small_school

SUPPLIES = [
    a_supply("white-12x18", "white paper 12x18", kind="paper", shelf="P1", pack=50, on_hand=400),
    a_supply("glue-stick", "glue stick", returns=True),
    a_supply("scissors", kind="tool", sharp=True, marks=["scissors"]),
    a_supply("yarn-ball", "yarn ball"),
    a_supply("rag", "rag {old}", returns=True),
]


ONLY_HILLS: dict[str, Any] = {"supplies": SUPPLIES, "teaching": {"3": ["paper-hills"]}}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(small_school(tmp_path, supplies=SUPPLIES))


def proposals(book: Book, supply: str) -> dict[str, Proposal]:
    day = book.day(MONDAY)
    found = proposals_for(book.plan, book.rules, day, line_of(day, supply))
    return {each.choice.kind: each for each in found}


def keep(book: Book, choice: Choice) -> None:
    book.keep_rule(rule_from(choice, book.plan, book.rules))


# ------------------------------------------------------------------------------------------ what she can make


def test_of_a_line_she_can_make_always_never_and_more_to_spare(book: Book) -> None:
    found = proposals(book, "white-12x18")
    assert [each.label for each in found.values()] == [
        "Always add white paper 12x18",
        "Never take white paper 12x18",
        "At least 4 white paper 12x18 to spare, where 2 are usual",
    ]
    labels = [time.label for time in found["add"].times]
    assert labels[-1] == "in every visit"
    assert {"for the lesson Paper Hills", "for class 3-B", "for class 3-K", "for grade 3", "up to grade 3"} <= set(
        labels
    )
    assert len(labels) == len(set(labels))


def test_the_number_and_what_it_is_counted_by_are_proposed_as_they_stand_on_the_list(book: Book) -> None:
    paper, scissors = proposals(book, "white-12x18")["add"].choice, proposals(book, "scissors")["add"].choice
    assert (paper.per, paper.count, paper.critical) == ("student", 1, True)
    assert (scissors.per, scissors.count, scissors.critical) == ("pair", 1, True)


def test_a_time_is_proposed_that_a_rule_gives_but_none_that_tells_of_a_need(tmp_path: Path) -> None:
    part = a_part("paint", [an_item("white-12x18")], tags=["watercolour", "cutting"])
    needs = [{"need": "fine-motor", "count": 2}]
    book = opened(small_school(tmp_path, needs=needs, lessons=[a_lesson("paper-hills", [part])], **ONLY_HILLS))
    labels = [time.label for time in proposals(book, "white-12x18")["add"].times]
    assert labels[0] == "when a part is tagged watercolour"
    assert "when a part is tagged wet" in labels
    assert not any("need" in each for each in labels)


def test_a_class_folder_is_no_supply_to_make_rules_about(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    day = book.day(MONDAY)
    folder = next(line for line in day.lines if line.supply.startswith("folder "))
    assert proposals_for(book.plan, book.rules, day, folder) == ()


@pytest.mark.parametrize(
    ("choice", "said"),
    [
        (Choice("add", "rag", ("wet",), "table", 2), "Rag {old}: 2 per table when a part is tagged wet"),
        (Choice("add", "yarn-ball", (), "class", 1, True), "Yarn ball: 1 per class in every visit; critical"),
        (Choice("never", "yarn-ball", ("class is 3-B",)), "Never yarn ball for class 3-B"),
        (Choice("never", "yarn-ball", instead="rag"), "Never yarn ball in any visit; rag {old} instead"),
        (
            Choice("spare", "white-12x18", ("lesson is paper-hills", "part is 2"), count=8),
            "White paper 12x18: at least 8 to spare for the lesson Paper Hills and in part 2",
        ),
        (Choice("add", "rag", ("grade at most K",)), "Rag {old}: 1 per class up to kindergarten"),
        (Choice("add", "rag", ("not sink",)), "Rag {old}: 1 per class when the room is not known to have a sink"),
    ],
)
def test_a_choice_is_said_in_a_sentence(book: Book, choice: Choice, said: str) -> None:
    assert say_choice(choice, book.plan, book.rules) == said


# ---------------------------------------------------------------------------------------------- on the list


def test_two_rags_a_table_for_one_class(book: Book) -> None:
    """3-B sits at 6 tables (the default): 12 rags on Monday and on Thursday, none for 3-K."""
    keep(book, Choice("add", "rag", ("class is 3-B",), "table", 2))
    line = line_of(book.day(MONDAY), "rag")
    assert (line.need, line.visits, line.critical) == (12, ("P1 3-B",), False)
    assert line.because[0].text == "you want it for class 3-B"


def test_what_she_wants_nowhere_is_forbidden_and_what_to_take_instead_is_on_the_list(book: Book) -> None:
    keep(book, Choice("never", "white-12x18", ("class is 3-B",), instead="rag"))
    line = line_of(book.day(MONDAY), "white-12x18")
    assert (line.forbidden, line.instead) == ("you do not want it for class 3-B", "rag {old}")
    assert "P1 3-B" in line_of(book.day(MONDAY), "rag").visits


def test_more_to_spare_is_added_to_what_is_needed(book: Book) -> None:
    """46 children on Monday; usual spare of paper is the larger of 2 and 10 %: 5. Nine to spare: 55."""
    assert line_of(book.day(MONDAY), "white-12x18").need == 46 + 5
    keep(book, Choice("spare", "white-12x18", ("lesson is paper-hills",), count=9))
    assert line_of(book.day(MONDAY), "white-12x18").need == 46 + 9


def test_her_reason_is_told_as_she_gave_it_braces_and_all_harmless(book: Book) -> None:
    keep(book, Choice("add", "rag", reason="they {spill}"))
    assert line_of(book.day(MONDAY), "rag").because[0].text == "they (spill)"


def test_the_same_rule_made_twice_gets_an_id_of_its_own(book: Book) -> None:
    choice = Choice("add", "rag", ("class is 3-B",))
    keep(book, choice)
    keep(book, choice)
    assert [each.id for each in book.own_rules.rules] == ["rag-for-3-b", "rag-for-3-b-2"]


@pytest.mark.parametrize("text", ["", "!!!", "Ärmel", "x" * 200, "a  b/c"])
def test_an_id_can_be_read_and_is_short_whatever_it_is_made_of(text: str) -> None:
    ident = free_id(text, ())
    assert 1 <= len(ident) <= 60
    assert set(ident) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert free_id(text, (ident,)) == f"{ident}-2"


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("3", "grade is 3"),
        ("k", "grade is K"),
        ("up to 1", "grade at most 1"),
        ("at most K", "grade at most K"),
        ("3 and up", "grade at least 3"),
        ("from 4", "grade at least 4"),
        ("2 and below", "grade at most 2"),
    ],
)
def test_grades_as_they_are_typed(typed: str, sentence: str) -> None:
    assert grade_sentence(typed) == sentence


@pytest.mark.parametrize("typed", ["", "9", "third", "up to", "-1"])
def test_what_is_no_grade_is_said(typed: str) -> None:
    with pytest.raises(ValueError, match="is no grade"):
        grade_sentence(typed)


# ------------------------------------------------------------------------------------------------- tried first


def test_a_preview_says_what_a_rule_adds_on_which_day_and_in_all(book: Book) -> None:
    """Two weeks from Mon 5 Oct: 3-B on Mon and Thu, so on four days; two of them are Paper Hills."""
    rule = rule_from(Choice("add", "rag", ("class is 3-B", "lesson is paper-hills"), "table", 2), book.plan, book.rules)
    preview = preview_of(book, rules_with(book, rule), MONDAY)
    assert [(each.date, each.what, each.before, each.after) for each in preview.lines] == [
        (MONDAY, "added", 0, 12),
        (date(2026, 10, 8), "added", 0, 12),
    ]
    assert [(each.name, each.days, each.before, each.after) for each in preview.totals] == [("rag {old}", 2, 0, 24)]
    assert preview.lines[0].visits == ("V1 3-B",)
    assert preview.school_days == 10
    assert lines_of(book.day(MONDAY), "rag") == []
    assert not (book.folder / "rules.toml").exists()


def test_a_preview_is_what_the_list_then_says(book: Book) -> None:
    rule = rule_from(Choice("spare", "white-12x18", count=11), book.plan, book.rules)
    preview = preview_of(book, rules_with(book, rule), MONDAY)
    before = {each: book.day(each) for each in {line.date for line in preview.lines}}
    book.keep_rule(rule)
    for line in preview.lines:
        assert line_of(before[line.date], line.supply).need == line.before
        assert line_of(book.day(line.date), line.supply).need == line.after


def test_what_would_be_forbidden_and_critical_is_told_apart(book: Book) -> None:
    never = rule_from(Choice("never", "yarn-ball"), book.plan, book.rules)
    told = preview_of(book, rules_with(book, never), MONDAY).lines
    assert {each.what for each in told} == {"forbidden"}
    critical = rule_from(Choice("add", "glue-stick", critical=True), book.plan, book.rules)
    assert {each.what for each in preview_of(book, rules_with(book, critical), MONDAY).lines} >= {"critical"}


def test_where_nothing_is_different_in_two_weeks_the_first_week_is_named(tmp_path: Path) -> None:
    later = {"Mon": {"P1": "3-B", "P2": "3-K"}}
    parts = [a_part(f"hill {n}", [an_item("white-12x18")]) for n in range(1, 6)]
    book = opened(small_school(tmp_path, timetable=later, lessons=[a_lesson("paper-hills", parts)], **ONLY_HILLS))
    rule = rule_from(Choice("add", "rag", ("part is 4",)), book.plan, book.rules)
    preview = preview_of(book, rules_with(book, rule), MONDAY)
    assert preview.is_empty
    assert preview.first_later == date(2026, 10, 26)
    assert "first difference is in the week of Mon 26 Oct" in say_preview(preview)[1]


def test_a_rule_that_never_counts_is_said_to_never_count(book: Book) -> None:
    rule = rule_from(Choice("add", "rag", ("grade is 5",)), book.plan, book.rules)
    preview = preview_of(book, rules_with(book, rule), MONDAY)
    assert (preview.is_empty, preview.first_later, preview.counts) == (True, None, False)
    assert "Nor is anything in the rest of the year" in say_preview(preview)[1]


def test_a_rule_for_what_is_there_anyway_is_said_to_change_no_list(book: Book) -> None:
    rule = rule_from(Choice("add", "white-12x18", ("lesson is paper-hills", "part is 1")), book.plan, book.rules)
    preview = preview_of(book, rules_with(book, rule), MONDAY)
    assert (preview.is_empty, preview.counts) == (True, True)
    assert "the lists are the same" in say_preview(preview)[1]


def test_switching_a_check_off_is_told_as_a_check_less(book: Book) -> None:
    after = rules_without(book, SwitchedOff("count-sharps", reason="the aide counts"))
    preview = preview_of(book, after, MONDAY)
    assert {(each.what, each.kind) for each in preview.others} == {("gone", "check")}


def test_what_tells_of_a_childs_need_is_left_out_of_a_preview_for_everybody(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path, needs=[{"need": "fine-motor", "count": 2}], supplies=SUPPLIES))
    rule = rule_from(Choice("add", "rag", ("need fine-motor",)), book.plan, book.rules)
    preview = preview_of(book, rules_with(book, rule), MONDAY)
    assert "rag" not in " ".join(say_preview(preview))
    assert "left out as private" in say_preview(preview)[-1]
    assert "rag" in " ".join(say_preview(preview, private=True))


def test_a_rule_that_does_not_fit_is_refused_before_it_is_tried(book: Book) -> None:
    rule = rule_from(Choice("add", "rag", ("wett",)), book.plan, book.rules)
    with pytest.raises(NotSaved, match='Did you mean "wet"'):
        rules_with(book, rule)
    with pytest.raises(NotSaved, match='unknown class "3-Q"'):
        rules_with(book, structs.replace(rule, when=("class is 3-Q",)))


def test_a_class_of_another_grade_is_left_as_it_is(tmp_path: Path) -> None:
    classes = [a_class("3-B", room="12", students=24), a_class("1-K", room="14", students=22)]
    timetable = {"Mon": {"P1": "3-B", "P2": "1-K"}}
    teaching = {"3": ["paper-hills"], "1": ["paper-hills"]}
    book = opened(small_school(tmp_path, classes=classes, timetable=timetable, teaching=teaching, supplies=SUPPLIES))
    keep(book, Choice("add", "rag", ("grade at most 1",)))
    assert line_of(book.day(MONDAY), "rag").visits == ("P2 1-K",)
