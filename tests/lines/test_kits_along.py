"""A kit rides to the parts that take something from it; one that no part says a thing of, to all of them."""

from __future__ import annotations

from pathlib import Path

from checklists.daybook.state import Progress
from tests.days import day_of
from tests.schools import a_kit, a_lesson, a_part, an_item, small_school


def kits_of(folder: Path, part: int, *, second: list[str]) -> list[str]:
    """Kits that ride for a class at a part of a lesson of two parts, with these supplies needed in the second."""
    items = [an_item(supply) for supply in ("white-12x18", *second)]
    lesson = a_lesson("hills", [a_part("draw", [an_item("white-12x18")]), a_part("print", items)], kits=["printing"])
    kit = a_kit("printing", {"brayer": 6})
    supplies = [{"id": "white-12x18", "name": "white paper", "kind": "paper"}, {"id": "brayer", "name": "brayer"}]
    small_school(folder, lessons=[lesson], teaching={"3": ["hills"]}, kits=[kit], supplies=supplies)
    places = {each: Progress(lesson="hills", part=part) for each in ("3-B", "3-K")}
    return [each.id for each in day_of(folder, progress=places).containers if each.kind == "kit"]


def test_it_stays_on_its_shelf_while_a_class_is_at_a_part_that_takes_nothing_from_it(tmp_path: Path) -> None:
    assert kits_of(tmp_path / "draw", 1, second=["brayer"]) == []
    assert kits_of(tmp_path / "print", 2, second=["brayer"]) == ["printing"]


def test_where_no_part_says_a_thing_of_it_the_kit_itself_is_what_the_lesson_needs(tmp_path: Path) -> None:
    assert kits_of(tmp_path / "draw", 1, second=[]) == ["printing"]
    assert kits_of(tmp_path / "print", 2, second=[]) == ["printing"]
