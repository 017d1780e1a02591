"""A supply that a part lists and a rule brings as well: one need, with what is due on either."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from checklists.daybook.state import Progress
from checklists.lines.records import Day
from tests.days import day_of, line_of, lines_of
from tests.schools import a_class, a_kit, a_lesson, a_part, a_supply, an_item, small_school


def a_day(tmp_path: Path, items: list[dict[str, Any]], *rules: dict[str, Any], **changes: Any) -> Day:
    """3-B alone, one part with these items, and rules of her own."""
    plan: dict[str, Any] = {
        "classes": [a_class("3-B", room="12", students=23, tables=23)],
        "timetable": {"Mon": {"P1": "3-B"}},
        "supplies": [
            a_supply("rag", "rag", kind="material"),
            a_supply("shears", kind="tool", marks=["scissors"]),
            a_supply("cut-out", "cut-out"),
        ],
        "lessons": [a_lesson("work", [a_part("work", items, tags=["drawing"])], **changes.pop("lesson", {}))],
        "teaching": {"3": ["work"]},
        "rules": {"rules": [{"title": "Hers", "because": "she wants it", **rule} for rule in rules]},
        **changes,
    }
    return day_of(small_school(tmp_path, **plan))


def test_what_comes_to_nothing_makes_no_line(tmp_path: Path) -> None:
    rule = {"id": "r", "when": ["drawing"], "add": [{"supply": "rag", "per": "need left-handed", "critical": True}]}
    assert lines_of(a_day(tmp_path, [], rule), "rag") == []


def test_a_rule_that_brings_more_leaves_the_spare_of_the_parts_own(tmp_path: Path) -> None:
    rule = {"id": "r", "when": ["drawing"], "add": [{"supply": "rag", "per": "table", "plus": 1}]}
    # The part's 23 have 3 spare; the rule asks for a rag for each of 23 desks and one more.
    assert line_of(a_day(tmp_path, [an_item("rag")], rule), "rag").need == 24 + 3


def test_a_replacement_that_brings_more_of_a_listed_thing_keeps_its_kit(tmp_path: Path) -> None:
    rule = {
        "id": "r",
        "when": ["drawing"],
        "replace": [{"what": "scissors", "supply": "cut-out", "count": 2, "per": "class"}],
    }
    items = [an_item("shears"), an_item("cut-out", into="cutting")]
    day = a_day(tmp_path, items, rule, kits=[a_kit("cutting", {"cut-out": 30})], lesson={"kits": ["cutting"]})
    assert [(line.container, line.need) for line in lines_of(day, "cut-out")] == [("cutting", 23 + 2 + 3)]


def test_a_demonstration_set_counts_for_what_was_replaced_in_part_as_well(tmp_path: Path) -> None:
    swap = {"id": "a", "when": ["drawing"], "replace": [{"what": "scissors", "supply": "cut-out", "per": "class"}]}
    sets = {"id": "b", "when": ["drawing"], "raises": [{"what": "for each child", "sets": 1}]}
    day = a_day(tmp_path, [an_item("shears"), an_item("cut-out")], swap, sets)
    assert line_of(day, "cut-out").need == 23 + 1 + 1 + 3


def test_hoops_that_one_class_keeps_and_others_use_in_turn(tmp_path: Path) -> None:
    exact = {"at_least": 0, "percent": 0}
    folder = small_school(
        tmp_path,
        classes=[
            a_class("3-B", room="12", students=9),
            a_class("3-K", room="14", students=23),
            a_class("3-R", room="14", students=7),
        ],
        timetable={"Mon": {"P1": "3-B", "P2": "3-K"}},
        supplies=[a_supply("hoop", kind="tool", spare=exact)],
        lessons=[
            a_lesson("keep", [a_part("sew", [an_item("hoop", stays_in_work=True)]), a_part("end", [])]),
            a_lesson("look", [a_part("look", [an_item("hoop")])]),
        ],
        teaching={"3": ["keep", "look"]},
    )
    day = day_of(folder, progress={"3-K": Progress("look", 1, lessons_done=("keep",))})
    assert line_of(day, "hoop").need == 9 + 23
