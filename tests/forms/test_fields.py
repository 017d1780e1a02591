"""Every field of the plan has words, and a way to be said; what is typed becomes a value or is refused in words."""

from __future__ import annotations

from datetime import date
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import Struct
from msgspec import inspect as kinds

from checklists.forms.fields import Field, field_of, fields_of, words_of_record
from checklists.forms.typed import CannotBe, value_typed
from checklists.plan import records
from checklists.plan.records import Bells, Box, Item, Need, Period, Record, Room, School, SchoolClass, Supply
from checklists.words import clean

NOT_SHOWN = (Record, records.RoutePins, records.DaybookNames)
"""What other screens say, or nobody: wishes for the route, and the daybook's own names."""
RECORDS = [
    each
    for each in vars(records).values()
    if isinstance(each, type) and issubclass(each, Record) and each not in NOT_SHOWN
]
SCHOOL = School(
    format=1,
    name="Tern Rock",
    first_day=date(2026, 9, 1),
    last_day=date(2027, 6, 11),
    bells=(Bells("regular", (Period("P1", "8:00", "8:45"),)),),
)


@pytest.mark.parametrize("record", RECORDS, ids=lambda each: each.__name__)
def test_every_field_of_the_plan_can_be_changed_or_is_hidden_on_purpose(record: type[Struct]) -> None:
    if record.__name__ in ("Supplies",):  # a file of nothing but its list, which PlanFiles has
        return
    kept = set(words_of_record(record).hidden)
    assert {each.name for each in fields_of(record)} | kept == {each.name for each in msgspec.structs.fields(record)}
    assert not kept & {each.name for each in fields_of(record)}


@pytest.mark.parametrize("record", RECORDS, ids=lambda each: each.__name__)
def test_what_is_asked_of_a_new_one_covers_all_that_must_be_said(record: type[Struct]) -> None:
    if record.__name__ in ("School", "Supplies"):  # never made on a list
        return
    made_by_the_program = {"id"} if "id" in words_of_record(record).hidden else set()
    made_by_the_program |= {"parts"} if record is records.Lesson else set()
    made_by_the_program |= {"rooms"} if record is records.Building else set()
    must = {each.name for each in msgspec.structs.fields(record) if each.required} - made_by_the_program
    assert must <= set(words_of_record(record).ask)


def test_each_choice_of_a_field_has_its_words() -> None:
    for record in RECORDS:
        if record.__name__ == "Supplies":
            continue
        for field in fields_of(record):
            if isinstance(field.kind, kinds.LiteralType):
                assert {each.value for each in field.choices} == set(field.kind.values) - {""}, field
                assert all(each.words for each in field.choices)


@pytest.mark.parametrize(
    ("record", "name", "typed", "value"),
    [
        (Period, "start", "805", "8:05"),
        (Period, "start", "8.05", "8:05"),
        (Period, "start", "1:15 pm", "13:15"),
        (Period, "start", "1:15", "13:15"),
        (Period, "start", "5:30 am", "5:30"),
        (Period, "start", "05:30", "5:30"),
        (Period, "start", "12:30 PM", "12:30"),
        (Period, "start", "12am", "0:00"),
        (SchoolClass, "students", "24", 24),
        (SchoolClass, "students", "~24", "about 24"),
        (SchoolClass, "students", "about 24", "about 24"),
        (Need, "tables", "5, 2", (2, 5)),
        (records.Lesson, "grades", "k 3 1", ("K", "1", "3")),
        (Supply, "on_hand", "320", 320),
        (Supply, "on_hand", "plen", "plenty"),
        (Supply, "on_hand", "l", "low"),
        (Supply, "grams", "9,1", 9.1),
        (Item, "count", "1.5", 1.5),
        (Item, "count", "2", 2),
        (Room, "wing", "  B  hall ", "B hall"),
        (School, "last_day", "6/12", date(2027, 6, 12)),
        (School, "last_day", "Jun 12", date(2027, 6, 12)),
        (School, "last_day", "2027-06-12", date(2027, 6, 12)),
    ],
)
def test_what_is_typed_is_read_as_it_was_meant(record: type, name: str, typed: str, value: Any) -> None:
    assert value_typed(field_of(record, name), typed, SCHOOL) == value


@pytest.mark.parametrize(
    ("record", "name", "typed", "why"),
    [
        (Period, "start", "25:00", "A time of day is typed 8:05"),
        (Period, "start", "8:75", "A time of day is typed 8:05"),
        (Period, "start", "15 am", "A time of day is typed 8:05"),
        (SchoolClass, "students", "lots", "written 25, or about 24"),
        (SchoolClass, "tables", "0", "from 1 to 60"),
        (SchoolClass, "tables", "5.5", "A whole number only"),
        (SchoolClass, "tables", "six", '"six" is no number'),
        (SchoolClass, "tables", "", "Type a whole number"),
        (SchoolClass, "id", "", "Type something"),
        (School, "last_day", "soon", "No date"),
        (School, "last_day", "6/1-6/4", "One date only"),
        (records.Lesson, "grades", "3 9", '"9" is no grade'),
        (Need, "tables", "2 2", "twice"),
        (Supply, "on_hand", "?", "Type how many there are"),
        (School, "name", "x" * 401, "at most 400"),
    ],
)
def test_what_cannot_be_is_refused_in_words(record: type, name: str, typed: str, why: str) -> None:
    with pytest.raises(CannotBe, match=why):
        value_typed(field_of(record, name), typed, SCHOOL)


TYPED_FIELDS = [
    field
    for record in RECORDS
    if record.__name__ != "Supplies"
    for field in fields_of(record)
    if field.way in ("text", "whole", "number", "time", "date", "size", "stock", "numbers", "grades", "words")
]


@given(st.sampled_from(TYPED_FIELDS), st.text(max_size=40))
def test_any_text_is_a_value_of_its_kind_or_refused_and_never_obeyed_by_a_terminal(field: Field, typed: str) -> None:
    try:
        value = value_typed(field, typed, SCHOOL)
    except CannotBe as why:
        assert str(why)
    else:
        assert msgspec.convert(value, _type_of(field)) == value
        if isinstance(value, str):
            assert clean(value) == value


def _type_of(field: Field) -> Any:
    for record in RECORDS:
        for each in msgspec.structs.fields(record):
            if each.name == field.name and record.__name__ != "Supplies" and field in fields_of(record):
                return each.type
    raise AssertionError(field)


def test_a_box_is_named_by_its_grade_and_nothing_asks_for_an_id() -> None:
    for record in (Supply, records.Kit, records.Lesson):
        assert all(each.name != "id" for each in fields_of(record))
    assert next(each.name for each in fields_of(Box)) == "grade"
