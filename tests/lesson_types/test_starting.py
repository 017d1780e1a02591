"""A lesson of her own from a type: what enters her plan, what of hers is used, and that nothing else changes."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace

from checklists.files.plan_check import problems_in
from checklists.files.plan_folder import read_plan
from checklists.lesson_types import lesson_types, start_from, what_enters
from checklists.plan.plan_files import PlanFiles, files_of
from checklists.plan.records import Kit, Kits, Supply
from checklists.rules.read import builtin_supplies
from tests.schools import small_school

IDS = [each.id for each in lesson_types()]


def small_plan(folder: Path) -> PlanFiles:
    plan = read_plan(small_school(folder)).plan
    assert plan is not None
    return files_of(plan, builtin_supplies())


@pytest.mark.parametrize("ident", IDS)
def test_every_type_fits_into_a_plan_without_a_word(ident: str, tmp_path: Path) -> None:
    files, lesson = start_from(small_plan(tmp_path), ident)
    assert problems_in(files) == ()
    assert lesson in {each.id for each in files.lessons}


def test_all_of_them_one_after_the_other_bring_nothing_twice(tmp_path: Path) -> None:
    files = small_plan(tmp_path)
    for ident in (*IDS, *IDS):
        files, _ = start_from(files, ident)
    assert problems_in(files) == ()
    for ids in ([each.id for each in files.supplies], [each.id for each in files.kits.kits]):
        assert len(ids) == len(set(ids))
    assert len(files.lessons) == 2 + 2 * len(IDS)
    assert [each.id for each in files.lessons] == sorted(each.id for each in files.lessons)


def test_only_the_lesson_its_supplies_and_its_kit_are_new(tmp_path: Path) -> None:
    before = small_plan(tmp_path)
    started = what_enters(before, "watercolour", title="Fish in the Deep")
    after = started.files
    assert (after.school, after.classes, after.kits.boxes) == (before.school, before.classes, before.kits.boxes)
    assert after.supplies[: len(before.supplies)] == before.supplies
    assert [each.id for each in started.kits] == ["watercolour"]
    assert started.lesson.id == "fish-in-the-deep"
    assert started.lesson.title == "Fish in the Deep"
    assert {each.on_hand for each in started.supplies} == {"plenty"}
    assert {"watercolour-12x18", "watercolour-set-8", "sample-fish-in-the-deep"} <= {e.id for e in started.supplies}


def test_what_she_has_under_another_id_is_used_and_stays_as_it_is(tmp_path: Path) -> None:
    before = small_plan(tmp_path)
    hers = Supply("p-12", "Watercolour  paper 12 × 18 in", kind="paper", grams=20, on_hand=300)
    mud = Kit("mud", "Clay kit", holds={"p-12": 1})
    before = replace(before, supplies=(*before.supplies, hers), kits=Kits(before.kits.boxes, (mud,)))
    started = what_enters(before, "watercolour")
    assert "p-12" in {item.supply for item in started.lesson.parts[0].items}
    assert "watercolour-12x18" not in {each.id for each in started.supplies}
    assert hers in started.files.supplies
    clay = what_enters(before, "clay")
    assert (clay.lesson.kits, clay.kits) == (("mud",), ())
    assert mud in clay.files.kits.kits


def test_what_she_has_by_the_same_id_is_used_whatever_it_is_called(tmp_path: Path) -> None:
    before = small_plan(tmp_path)
    started = what_enters(before, "collage")
    assert "glue-stick" not in {each.id for each in started.supplies}
    assert [each for each in started.files.supplies if each.id == "glue-stick"] == [
        each for each in before.supplies if each.id == "glue-stick"
    ]


def test_a_lesson_of_another_title_has_a_sample_of_its_own(tmp_path: Path) -> None:
    files, first = start_from(small_plan(tmp_path), "clay")
    files, second = start_from(files, "clay")
    files, third = start_from(files, "clay", title="Owls")
    assert (first, second, third) == ("clay-pot", "clay-pot-2", "owls")
    samples = {each.id: each.name for each in files.supplies if each.kind == "sample"}
    assert samples == {"sample-clay-pot": "sample: Clay pot", "sample-owls": "sample: Owls"}


def test_a_grade_takes_what_is_meant_for_it_and_the_lesson_is_for_those_alike(tmp_path: Path) -> None:
    files, ident = start_from(small_plan(tmp_path), "clay", grade="K")
    lesson = next(each for each in files.lessons if each.id == ident)
    assert lesson.grades == ("K",)
    assert lesson.parts[0].items[0].supply == "clay-portion-8oz"
    files, ident = start_from(files, "clay", grade="2")
    lesson = next(each for each in files.lessons if each.id == ident)
    assert lesson.grades == ("1", "2", "3", "4", "5")


def test_a_title_in_another_script_has_an_id_after_the_type(tmp_path: Path) -> None:
    files, ident = start_from(small_plan(tmp_path), "clay", title="طيور 🐟")
    assert ident == "clay"
    assert next(each.title for each in files.lessons if each.id == ident) == "طيور 🐟"


def test_a_type_that_is_not_there_is_no_lesson(tmp_path: Path) -> None:
    with pytest.raises(KeyError):
        start_from(small_plan(tmp_path), "macrame")


def test_a_title_of_any_text_is_kept_harmless(tmp_path: Path) -> None:
    files, ident = start_from(small_plan(tmp_path), "collage", title="[b]Fish\x1b[2J\n& chips")
    title = next(each.title for each in files.lessons if each.id == ident)
    assert title.startswith("[b]Fish")
    assert title.isprintable()
    assert problems_in(files) == ()
