"""What uses a thing, in a teacher's words."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec import structs

from checklists.book import Book
from checklists.plan.naming import names_in
from checklists.plan.plan_files import PlanFiles, files_of
from checklists.plan.records import Building, RoutePins, Walk
from checklists.plan.uses import say_uses, uses_of
from checklists.rules.read import builtin_supplies
from checklists.rules.records import RuleFile
from tests.schools import MONDAY, a_class, a_kit, a_lesson, a_part, an_item, demo_school, small_school


def school_with(folder: Path, **changes: object) -> tuple[PlanFiles, RuleFile]:
    with Book.open(small_school(folder, **changes), today=MONDAY) as book:
        return files_of(book.plan, builtin_supplies()), book.own_rules


def said(school: tuple[PlanFiles, RuleFile], kind: str, name: str) -> list[str]:
    return [each.said for each in uses_of(*school, kind, name)]


def test_a_supply_is_used_by_the_parts_that_list_it_by_what_holds_it_and_by_who_avoids_it(tmp_path: Path) -> None:
    tide_pools = a_lesson(
        "tide-pools",
        [
            a_part("paint", [an_item("glue-stick", 2, per="table")]),
            a_part(
                "glue",
                [an_item("glue-stick"), an_item("glue-stick", demo=True)],
                short_version=[an_item("glue-stick", 0.5, per="pair")],
            ),
        ],
        extension=[an_item("glue-stick", 3)],
    )
    yarn_birds = a_lesson("yarn-birds", [a_part("wind", [an_item("yarn-ball")])])
    school = school_with(
        tmp_path,
        lessons=[tide_pools, yarn_birds],
        teaching={"3": ["tide-pools", "yarn-birds"]},
        classes=[a_class("3-B", room="12", has=["glue-stick"]), a_class("3-K", room="14", avoid=["glue-stick"])],
        boxes=[{"grade": "3", "standing": {"glue-stick": 12}}],
        kits=[a_kit("paste", {"glue-stick": 5})],
    )
    assert said(school, "supply", "glue-stick") == [
        "class 3-B has its own",
        "a class has a private note of it",
        "Box 3 holds 12",
        "Paste kit holds 5",
        "Tide Pools, part 1: 2 for each table",
        "Tide Pools, part 2: 1 for each student",
        "Tide Pools, part 2: 1 for your demonstration",
        "Tide Pools, part 2, short version: 0.5 for each pair",
        "Tide Pools, for those who finish early: 3 for each student",
    ]
    assert said(school, "supply", "scissors") == ["30 always stand on the cart"]
    assert said(school, "lesson", "yarn-birds") == ["grade 3 is taught it as number 2 of 2"]
    assert [each.is_private for each in uses_of(*school, "supply", "glue-stick")[:3]] == [False, True, False]
    one = uses_of(*school, "supply", "glue-stick")[5]
    assert (one.file, one.path) == ("lessons/tide-pools.toml", ("parts", 1, "items", 0, "supply"))
    assert (one.by_kind, one.by) == ("lesson", "tide-pools")


def test_a_class_is_used_by_its_periods_and_by_the_rules_that_name_it(tmp_path: Path) -> None:
    rules = {
        "rules": [
            {
                "id": "aprons",
                "title": "Aprons for 3-B",
                "when": ["class is 3-B"],
                "because": "They asked.",
                "add": [{"supply": "yarn-ball"}],
            },
            {
                "id": "mats",
                "title": "Mats",
                "when": ["not  class is 3-B", "lesson is yarn-birds", "lists glue-stick"],
                "because": "So.",
                "checks": [{"what": "mats?"}],
            },
        ],
        "off": [{"rule": "aprons", "class_id": "3-B", "lesson": "paper-hills"}],
    }
    school = school_with(tmp_path, rules=rules)
    assert said(school, "class", "3-B") == [
        "timetable Mon P1",
        "timetable Thu P1",
        'your rule "Aprons for 3-B"',
        'your rule "Mats"',
        'the rule "Aprons for 3-B" is switched off for it',
    ]
    assert said(school, "lesson", "paper-hills") == [
        "grade 3 is taught it as number 1 of 2",
        'the rule "Aprons for 3-B" is switched off for it',
    ]
    assert 'your rule "Aprons for 3-B"' in said(school, "supply", "yarn-ball")
    assert 'your rule "Mats"' in said(school, "supply", "glue-stick")


def test_rooms_periods_days_and_kits_are_used_by_what_names_them(tmp_path: Path) -> None:
    school = school_with(
        tmp_path,
        kits=[a_kit("paste", {"glue-stick": 5})],
        lessons=[
            a_lesson(
                "paper-hills",
                [a_part("cut", [an_item("glue-stick", into="paste", not_for=["3-K"])])],
                kits=["paste"],
                dry_version="yarn-birds",
            ),
            a_lesson("yarn-birds", [a_part("wind", [an_item("yarn-ball")])]),
        ],
    )
    assert said(school, "kit", "paste") == ["Paper Hills, part 1: glue stick is in it", "Paper Hills goes with it"]
    assert said(school, "lesson", "yarn-birds") == [
        "grade 3 is taught it as number 2 of 2",
        "taught in place of Paper Hills where no water or mess can be",
    ]
    assert said(school, "class", "3-K") == ["timetable Mon P2", "Paper Hills, part 1: taught without glue stick"]
    assert said(school, "room", "12") == ["class 3-B is taught there"]
    assert said(school, "period", "P1") == ["timetable Mon P1: 3-B", "timetable Thu P1: 3-B"]
    assert said(school, "timetable day", "Mon") == ["timetable Mon: 2 periods"]
    assert said(school, "grade", "3") == ["class 3-B", "class 3-K", "grade 3 is taught 2 lessons", "Box 3"]
    assert said(school, "room", "store") == []


def test_walks_buildings_and_wishes_name_rooms_and_the_store_is_none(tmp_path: Path) -> None:
    files, rules = school_with(tmp_path)
    pins = RoutePins(stops={"P1": "never"}, rides={"box-3": "always"}, leave_in={"14": "never"})
    school = structs.replace(
        files.school, walks=(Walk(("store", "14"), 2),), buildings=(Building("Annex", ("14",)),), route=pins
    )
    files = structs.replace(files, school=school)
    assert said((files, rules), "room", "14") == [
        "the walk from the store to Room 14",
        "building Annex",
        "your wish for the route: nothing is left there",
        "class 3-K is taught there",
    ]
    assert "your wish for the route: after P1 never by the store" in said((files, rules), "period", "P1")


def test_many_uses_are_said_shortly(tmp_path: Path) -> None:
    uses = uses_of(*school_with(tmp_path), "supply", "glue-stick")
    assert say_uses(uses, 1) == "Paper Hills, part 1: 1 for each student; and 1 more"
    assert say_uses(uses) == "; ".join(each.said for each in uses)


def test_every_name_in_the_plan_can_be_said(tmp_path: Path) -> None:
    demo_school(tmp_path)
    with Book.open(tmp_path, today=MONDAY) as book:
        files, rules = files_of(book.plan, builtin_supplies()), book.own_rules
    for kind, name in {(each.kind, each.name) for each in names_in(files)}:
        uses = uses_of(files, rules, kind, name)
        assert uses and all(each.said for each in uses)


@pytest.mark.parametrize("kind", ["class", "supply", "kit"])
def test_what_nothing_names_has_no_uses(tmp_path: Path, kind: str) -> None:
    assert uses_of(*school_with(tmp_path), kind, "nothing like it") == ()
