"""The plan changed from inside an open book: on disk, in use at once, today's ticks as they were; or nothing at all."""

from __future__ import annotations

import resource
import sys
from pathlib import Path

import pytest
from msgspec import structs

from checklists.book import Book, NotSaved
from checklists.daybook.line_states import state_of
from checklists.plan.records import Classes
from checklists.rules.records import Add, Rule, RuleFile, SwitchedOff
from tests.days import line_of, needs_by_supply, opened, opened_again, packed
from tests.schools import MONDAY, small_school

TOWELS = Rule(
    id="towels",
    title="Towels for thirds",
    when=("grade is 3",),
    because="they spill",
    add=(Add(supply="towel-paper", per="table"),),
)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(small_school(tmp_path, supplies=SUPPLIES))


SUPPLIES = [
    {"id": "white-12x18", "name": "white paper 12x18", "kind": "paper"},
    {"id": "glue-stick", "name": "glue stick", "returns": True},
    {"id": "scissors", "name": "scissors", "kind": "tool", "sharp": True, "marks": ["scissors"]},
    {"id": "yarn-ball", "name": "yarn ball"},
    {"id": "towel-paper", "name": "roll of towels"},
]


def classes_of(book: Book) -> Classes:
    return Classes(book.plan.classes, book.plan.timetable, book.plan.teaching)


def test_a_rule_of_her_own_is_on_the_list_at_once_and_in_the_file(book: Book) -> None:
    assert "towel-paper" not in needs_by_supply(book.day(MONDAY))
    book.keep_rule(TOWELS)
    assert line_of(book.day(MONDAY), "towel-paper").need == 12  # two visits at six tables
    assert book.own_rules.rules == (TOWELS,)
    assert "towel-paper" in needs_by_supply(opened_again(book).day(MONDAY))


def test_what_was_ticked_stays_ticked_when_the_plan_changes(book: Book) -> None:
    line = line_of(book.day(MONDAY), "glue-stick")
    book.do(MONDAY, packed(line))
    book.keep_rule(TOWELS)
    assert state_of(line_of(book.day(MONDAY), "glue-stick"), book.marks(MONDAY)) == "packed"
    assert "Packed" not in (book.folder / "rules.toml").read_text(encoding="utf-8")


def test_a_rule_switched_off_and_on_again(book: Book) -> None:
    book.keep_rule(TOWELS)
    for_b = SwitchedOff(rule="towels", class_id="3-B")
    book.switch_off(for_b)
    assert line_of(book.day(MONDAY), "towel-paper").visits == ("P2 3-K",)
    book.switch_on(for_b)
    assert line_of(book.day(MONDAY), "towel-paper").visits == ("P1 3-B", "P2 3-K")
    assert book.own_rules.off == ()
    with pytest.raises(NotSaved, match="does not switch"):
        book.switch_on(for_b)


def test_a_rule_that_comes_switched_off_is_used_and_not_used_again(book: Book) -> None:
    wanted = SwitchedOff(rule="first-things")
    assert not any("attention bell" in each.what for each in book.day(MONDAY).checks)
    book.switch_on(wanted)
    assert any("attention bell" in each.what for each in book.day(MONDAY).checks)
    assert [each.rule for each in book.own_rules.on] == ["first-things"]
    book.switch_off(wanted)
    assert book.own_rules == RuleFile()
    assert not any("attention bell" in each.what for each in book.day(MONDAY).checks)


def test_a_rule_of_her_own_is_taken_out_again(book: Book) -> None:
    book.keep_rule(TOWELS)
    book.take_rule_out("towels")
    assert "towel-paper" not in needs_by_supply(book.day(MONDAY))
    with pytest.raises(NotSaved, match="no rule"):
        book.take_rule_out("towels")


@pytest.mark.parametrize(
    ("rule", "told"),
    [
        (structs.replace(TOWELS, when=("grade is 3", "wett")), 'unknown tag "wett"'),
        (structs.replace(TOWELS, add=(Add(supply="towl-paper"),)), 'Did you mean "towel-paper"'),
    ],
)
def test_a_rule_that_does_not_fit_is_refused_and_the_file_is_as_it_was(book: Book, rule: Rule, told: str) -> None:
    with pytest.raises(NotSaved, match=told):
        book.keep_rule(rule)
    assert not (book.folder / "rules.toml").exists()
    assert book.problems == ()
    book.keep_rule(TOWELS)
    before = (book.folder / "rules.toml").read_bytes()
    with pytest.raises(NotSaved, match="second rule with this id"):
        book.keep_rule(TOWELS)
    assert (book.folder / "rules.toml").read_bytes() == before
    assert (book.problems, book.uses_last_good) == ((), False)


def test_a_safety_rule_is_switched_off_with_a_reason_only(book: Book) -> None:
    with pytest.raises(NotSaved, match="without a reason"):
        book.switch_off(SwitchedOff(rule="count-sharps"))
    book.switch_off(SwitchedOff(rule="count-sharps", reason="the aide counts them"))
    assert book.rules.off == (SwitchedOff(rule="count-sharps", reason="the aide counts them"),)


def test_classes_are_written_anew_and_the_list_follows(book: Book) -> None:
    change = structs.replace(book.plan.classes[0], students=20)
    book.change_classes(structs.replace(classes_of(book), classes=(change, *book.plan.classes[1:])))
    assert line_of(book.day(MONDAY), "white-12x18").need == 42 + 5
    assert opened_again(book).plan.class_by_id["3-B"].headcount == 20


def test_classes_that_do_not_fit_are_refused(book: Book) -> None:
    before = (book.folder / "classes.toml").read_bytes()
    with pytest.raises(NotSaved, match="9-Z"):
        book.change_classes(structs.replace(classes_of(book), timetable={"Mon": {"P1": "9-Z"}}))
    assert (book.folder / "classes.toml").read_bytes() == before
    assert book.plan.timetable["Mon"]["P1"] == "3-B"
    assert not book.uses_last_good


def test_classes_that_were_edited_elsewhere_meanwhile_are_not_overwritten(book: Book) -> None:
    changed = classes_of(book)
    path = book.folder / "classes.toml"
    path.write_text(path.read_text(encoding="utf-8").replace("students = 22", "students = 27"), encoding="utf-8")
    with pytest.raises(NotSaved, match="changed outside"):
        book.change_classes(changed)
    assert book.plan.class_by_id["3-K"].headcount == 27


def test_while_a_plan_file_does_not_read_nothing_is_changed(book: Book) -> None:
    (book.folder / "supplies.toml").write_text("supplies = [", encoding="utf-8")
    book.read_plan_again()
    assert book.uses_last_good
    with pytest.raises(NotSaved, match=r"supplies\.toml"):
        book.keep_rule(TOWELS)
    assert not (book.folder / "rules.toml").exists()
    assert book.day(MONDAY).visits


def test_a_window_that_only_reads_changes_no_plan(book: Book) -> None:
    second = Book.open(book.folder, today=MONDAY)
    with pytest.raises(NotSaved, match="Another window"):
        second.keep_rule(TOWELS)
    assert not (book.folder / "rules.toml").exists()


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="limits of a running program, on Linux")
def test_on_a_full_disk_nothing_of_the_plan_is_changed_and_the_next_try_goes_well(book: Book) -> None:
    """The system answers EFBIG to every write, as a full disk answers ENOSPC."""
    book.keep_rule(TOWELS)
    files = {name: (book.folder / name).read_bytes() for name in ("rules.toml", "classes.toml")}
    other = structs.replace(TOWELS, id="other")
    fewer = structs.replace(classes_of(book), classes=book.plan.classes[:1], timetable={"Mon": {"P1": "3-B"}})
    before = book.day(MONDAY)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, hard))
    try:
        with pytest.raises(NotSaved, match="the disk is full"):
            book.keep_rule(other)
        with pytest.raises(NotSaved, match="the disk is full"):
            book.take_rule_out("towels")
        with pytest.raises(NotSaved, match="the disk is full"):
            book.switch_off(SwitchedOff(rule="towels"))
        with pytest.raises(NotSaved, match="the disk is full"):
            book.set_setting("towels_a_child", 2)
        with pytest.raises(NotSaved, match="the disk is full"):
            book.change_classes(fewer)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert {name: (book.folder / name).read_bytes() for name in files} == files
    assert (book.own_rules.rules, book.own_rules.off, book.own_rules.settings) == ((TOWELS,), (), {})
    assert book.day(MONDAY) == before
    book.keep_rule(other)
    assert [each.id for each in opened_again(book).own_rules.rules] == ["towels", "other"]
