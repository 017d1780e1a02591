"""Renaming: one new name in every place, nothing else changed, and words where a name cannot be."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from msgspec import structs

from checklists.book import Book
from checklists.files.plan_check import problems_in
from checklists.plan.naming import BELLS, CLASS, DAY, PERIOD, ROOM
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import DaybookNames, Room
from checklists.plan.renaming import (
    CannotRename,
    known_names,
    names_there,
    rename,
    say_renamed,
    why_no_name,
    without_class,
)
from checklists.plan.uses import uses_of
from checklists.rules.records import RuleFile
from tests.days import opened, opened_again
from tests.schools import MONDAY, demo_school, small_school

AT = datetime(2026, 10, 5, 7)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[PlanFiles, RuleFile]:
    folder = tmp_path_factory.mktemp("demo")
    demo_school(folder)
    with Book.open(folder, today=MONDAY) as book:
        return book.plan_files, book.own_rules


def every_name(files: PlanFiles) -> list[tuple[str, str]]:
    kinds = (CLASS, ROOM, PERIOD, DAY, BELLS)
    every = [(kind, name) for kind in kinds for name in known_names(files.school, files.classes, kind)]
    weekdays = files.school.rotation.kind == "weekdays"
    return [(kind, name) for kind, name in every if not (kind == DAY and weekdays)]


def test_what_is_renamed_is_used_as_before_and_the_plan_fits_as_before(demo: tuple[PlanFiles, RuleFile]) -> None:
    files, rules = demo
    assert len(every_name(files)) > 20
    for kind, name in every_name(files)[::3]:
        after = rename(files, rules, kind, name, "Name Nobody Has")
        before = [(each.file, len(each.path)) for each in uses_of(files, rules, kind, name)]
        now = uses_of(after.files, after.own_rules, kind, "Name Nobody Has")
        assert [(each.file, len(each.path)) for each in now] == before
        assert uses_of(after.files, after.own_rules, kind, name) == ()
        assert len(problems_in(after.files, after.own_rules)) == len(problems_in(files, rules))
        back = rename(after.files, after.own_rules, kind, "Name Nobody Has", name)
        assert (back.files, back.own_rules) == (files, rules)


@pytest.mark.parametrize(
    ("kind", "old", "new", "why"),
    [
        (CLASS, "3-B", "   ", "Give the class a name"),
        (CLASS, "3-B", "3-K", 'There is a class "3-K" already'),
        (CLASS, "3-B", "3-k", 'There is a class "3-K" already'),
        (CLASS, "3-B", "3/B", 'Write it as "3-B"'),
        (CLASS, "3-B", "3-B", "called so already"),
        (CLASS, "3-C", "3-D", 'Is "3-[BK]" meant'),
        (CLASS, "3-B", "x" * 61, "at most 60"),
        (CLASS, "3-B", "3\u202eB", "a sign in it that cannot be shown"),
        (ROOM, "12", "Store", "the name of something else"),
        (ROOM, "12", "everywhere", "the name of something else"),
        (ROOM, "12", "14", 'There is a room "14" already'),
        (PERIOD, "P1", "P2", 'There is a period "P2" already'),
        (PERIOD, "P1", "1/2", 'Write it as "1-2"'),
        (DAY, "Mon", "Monday", "those of the week"),
        (BELLS, "half day", "short", "There are regular"),
        ("lesson", "paper-hills", "hills", "changed where it is described"),
    ],
)
def test_a_name_that_cannot_be_is_refused_in_words(tmp_path: Path, kind: str, old: str, new: str, why: str) -> None:
    with opened(small_school(tmp_path)) as book:
        with pytest.raises(CannotRename, match=why):
            rename(book.plan_files, book.own_rules, kind, old, new)
        assert why_no_name(book.plan_files, CLASS, "3-B ", "3-B") == ""


def test_capital_letters_may_change_and_odd_names_are_names(tmp_path: Path) -> None:
    with opened(small_school(tmp_path)) as book:
        for new in (
            "3-b",
            "[b]3[/b]".replace("/", ""),
            'the "third"',
            "\u0627\u0644\u062b\u0627\u0644\u062b",
            "\U0001f98a 3",
        ):
            after = rename(book.plan_files, book.own_rules, CLASS, "3-B", new)
            book.change_files(after.files, say_renamed(CLASS, "3-B", new), AT, after.own_rules)
            assert [visit.class_id for visit in book.day(MONDAY).visits] == [new, "3-K"]
            assert book.take_files_back() == f"Class 3-B is called {new} now"


RULES = """# mine
[[rules]]
id = "aprons"     # keep
title = "Aprons for 3-B"
when = [
    "wet",  # always
    'class is 3-B', "not class is 3-K"]
because = "3-B asked for them"
add = [{ supply = "yarn-ball" }]

[[off]]
rule = "aprons"
class_id = "3-B"  # not her
"""


def test_her_own_rules_go_along_and_every_other_sign_of_their_file_stays(tmp_path: Path) -> None:
    folder = small_school(tmp_path, rules={})
    (folder / "rules.toml").write_text(RULES, encoding="utf-8")
    with opened(folder) as book:
        after = rename(book.plan_files, book.own_rules, CLASS, "3-B", 'Ms "B"')
        book.change_files(after.files, "renamed", AT, after.own_rules)
        text = (folder / "rules.toml").read_text(encoding="utf-8")
        assert text == RULES.replace("'class is 3-B'", '"class is Ms \\"B\\""').replace(
            'class_id = "3-B"', 'class_id = "Ms \\"B\\""'
        )
        assert book.own_rules.rules[0].when == ("wet", 'class is Ms "B"', "not class is 3-K")
        again = opened_again(book)
        again.take_files_back()
        assert (folder / "rules.toml").read_text(encoding="utf-8") == RULES
        assert [each.id for each in again.plan.classes] == ["3-B", "3-K"]
        again.release()


def test_two_classes_can_change_their_names_with_each_other(tmp_path: Path) -> None:
    with opened(small_school(tmp_path)) as book:
        files = book.plan_files
    for old, new in (("3-B", "for now"), ("3-K", "3-B"), ("for now", "3-K")):
        files = rename(files, RuleFile(), CLASS, old, new).files
    assert files.school.daybook_names.classes == {"3-B": "3-K", "3-K": "3-B"}
    assert files.classes.timetable == {"Mon": {"P1": "3-K", "P2": "3-B"}, "Thu": {"P1": "3-K"}}


def test_a_class_that_is_no_more_leaves_its_days_to_nobody(tmp_path: Path) -> None:
    with opened(small_school(tmp_path)) as book:
        files = book.plan_files
    school = structs.replace(files.school, daybook_names=without_class(files, "3-B"))
    there = names_there(school, files.classes, CLASS)
    assert there["3-B"] == "3-B~" and there["3-K"] == "3-K"
    assert len(set(there.values())) == len(there)
    assert DaybookNames() == files.school.daybook_names


def test_a_new_thing_of_an_old_name_is_not_the_old_thing(tmp_path: Path) -> None:
    with opened(small_school(tmp_path)) as book:
        files = rename(book.plan_files, book.own_rules, ROOM, "12", "the barn").files
    school = structs.replace(files.school, rooms=(*files.school.rooms, Room("12")))
    there = names_there(school, files.classes, ROOM)
    assert there["the barn"] == "12" and there["12"] == "12~"
    again = rename(structs.replace(files, school=school), RuleFile(), ROOM, "the barn", "15").files
    there = names_there(again.school, again.classes, ROOM)
    assert there["15"] == "12" and there["12"] == "12~"
