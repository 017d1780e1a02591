"""What names what: no field of a plan holds a name that the table does not know."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import msgspec
import pytest
from msgspec import inspect

from checklists.book import Book
from checklists.plan import naming
from checklists.plan.naming import NAMES, OWN, names_in, names_in_record, records_of, renamed
from checklists.plan.plan_files import PlanFiles, files_of
from checklists.plan.records import Classes, DaybookNames, Kits, Lesson, School, Supplies
from checklists.rules.read import builtin_supplies
from checklists.rules.records import RuleFile
from tests.schools import MONDAY, demo_school

WRITTEN_OTHERWISE = {
    "Add.per": "the basis of a quantity: a word of the plan, or a need that is asked for in the rule's conditions too",
    "Replace.per": "the same",
    **{f"DaybookNames.{each}": "what the daybook calls it" for each in DaybookNames.__struct_fields__},
}
NUMBERS = {"Add", "Replace", "RuleSpare", "Raise", "TaskFor", "NextPart"}
"""Records whose numbers may be names of settings; only their names of things are asked for here."""


def fields_with_names(record: type) -> Iterator[str]:
    """Every field, of the record and of all below it, that holds a word which is no text to be read."""

    def walk(kind: inspect.Type, where: str) -> Iterator[str]:
        match kind:
            case inspect.StructType():
                for field in kind.fields:
                    yield from walk(field.type, f"{kind.cls.__name__}.{field.name}")
            case inspect.VarTupleType():
                yield from walk(kind.item_type, where)
            case inspect.DictType():
                yield from walk(kind.key_type, where)
                yield from walk(kind.value_type, where)
            case inspect.UnionType():
                is_number = any(isinstance(each, inspect.IntType | inspect.FloatType) for each in kind.types)
                for each in kind.types:
                    if not (is_number and where.split(".")[0] in NUMBERS):
                        yield from walk(each, where)
            case inspect.Metadata():
                yield from walk(kind.type, where)
            case inspect.StrType():
                is_text = kind.max_length == 400 and where not in NAMES
                is_time_or_about = kind.pattern is not None and "PK" not in kind.pattern
                if not is_text and not is_time_or_about:
                    yield where

    yield from walk(inspect.type_info(record), record.__name__)


@pytest.mark.parametrize("file", [School, Classes, Supplies, Kits, Lesson, RuleFile])
def test_every_field_that_holds_a_name_says_of_what(file: type) -> None:
    unknown = {each for each in fields_with_names(file) if each not in NAMES and each not in OWN}
    assert unknown - set(WRITTEN_OTHERWISE) - {"RuleFile.settings"} == set()


def test_the_table_speaks_of_no_field_that_is_gone() -> None:
    there = {each for file in (School, Classes, Supplies, Kits, Lesson, RuleFile) for each in fields_with_names(file)}
    assert {*NAMES, *OWN} - there == set()


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> PlanFiles:
    folder = tmp_path_factory.mktemp("demo")
    demo_school(folder)
    with Book.open(folder, today=MONDAY) as book:
        return files_of(book.plan, builtin_supplies())


def own_names(files: PlanFiles, kind: str) -> set[str]:
    return {
        each.name
        for file, record in records_of(files)
        for each in names_in_record(file, record, OWN)
        if each.kind == kind
    }


@pytest.mark.parametrize("kind", [naming.CLASS, naming.ROOM, naming.PERIOD, naming.KIT, naming.LESSON])
def test_every_name_in_the_demo_school_is_of_a_thing_there_is(demo: PlanFiles, kind: str) -> None:
    besides = {"store"} if kind == naming.ROOM else {"box", "cart", *(f"box-{each}" for each in "K12345")}
    there = own_names(demo, kind) | besides
    named = {each.name for each in names_in(demo) if each.kind == kind or kind in naming.MAY_BE.get(each.kind, ())}
    assert named and named <= there


def at(record: msgspec.Struct, path: tuple[str | int, ...]) -> tuple[Any, Any]:
    """The last step to a place in a file, and what stands there."""
    found: Any = msgspec.to_builtins(record)
    for step in path:
        found = found[step]
    return path[-1], found


def test_a_name_stands_where_it_is_said_to_stand(demo: PlanFiles) -> None:
    found, files = tuple(names_in(demo)), dict(records_of(demo))
    assert len(found) > 400
    assert [each for each in found if each.name not in at(files[each.file], each.path)] == []


@pytest.mark.parametrize("kind", [naming.CLASS, naming.ROOM, naming.PERIOD, naming.DAY, naming.BELLS])
def test_a_new_name_stands_in_every_place_of_the_old_one_and_back_again_nothing_is_changed(
    demo: PlanFiles, kind: str
) -> None:
    for old in sorted(own_names(demo, kind)):
        for _, record in records_of(demo):
            now = renamed(record, kind, old, "somewhere new")
            before = [(each.kind, each.name, each.path) for each in names_in_record("", record)]
            after = [(each.kind, each.name, each.path) for each in names_in_record("", now)]
            assert len(before) == len(after)
            assert not any(each.is_of(kind, old) for each in names_in_record("", now))
            assert renamed(now, kind, "somewhere new", old) == record
