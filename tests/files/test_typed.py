"""From what a person wrote to records: what is wrong told at once, what is harmless read as it was meant."""

from __future__ import annotations

import tomllib
from datetime import date
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.daybook import entries, state
from checklists.daybook.state import DayRecord
from checklists.files.typed import records_from
from checklists.files.where import lines_of
from checklists.plan import records as plan_records
from checklists.plan.records import Classes, Kits, Lesson, School, SchoolClass, Supplies
from checklists.problems import Problem
from checklists.rules import records as rule_records
from checklists.rules.records import RuleFile


def read(text: str, into: type[Any], **how: Any) -> tuple[Any, tuple[Problem, ...]]:
    return records_from(tomllib.loads(text), into, file="f.toml", text=text, **how)


def told(text: str, into: type[Any], **how: Any) -> list[str]:
    return [str(each) for each in read(text, into, **how)[1]]


A_CLASS = '[[classes]]\nid = "3-B"\ngrade = "3"\nroom = "12"\nstudents = 24\n'


def the_class(lines: str) -> SchoolClass:
    """The one class of a file in which ``lines`` are added to, or take the place of, an ordinary class's."""
    given_now = {line.split(" =")[0] for line in lines.splitlines()}
    ordinary = "".join(f"{line}\n" for line in A_CLASS.splitlines() if line.split(" =")[0] not in given_now)
    record, problems = read(ordinary + lines, Classes)
    assert problems == ()
    found = record.classes[0]
    assert isinstance(found, SchoolClass)
    return found


def test_every_wrong_field_of_every_class_is_told_with_its_line() -> None:
    text = """
[[classes]]
id = "3-B"
grade = "3"
room = "12"
students = "lots"
tabels = 5

[[classes]]
id = "K-M"
grade = "Kindergarten"
students = 20
adults = 0
needs = [{ need = "fine-motor", count = 0 }, { count = 2 }]
"""
    assert told(text, Classes) == [
        'f.toml, line 6: class 3-B: students is "lots". Write a whole number from 0 to 400 or "about 24".',
        "f.toml, line 7: class 3-B: tabels is not known here. Is tables meant?",
        'f.toml, line 11: class K-M: grade is "Kindergarten". Write a grade: "PK", "K" or "1" to "8".',
        "f.toml, line 13: class K-M: adults is 0. Write a whole number from 1 to 6.",
        "f.toml, line 14: class K-M, need fine-motor: count is 0. Write a whole number from 1 to 60.",
        "f.toml, line 14: class K-M, need 2: need is missing. Add: need = text in quotes, at most 60 letters",
        "f.toml, line 9: class K-M: room is missing. Add: room = text in quotes, at most 60 letters",
    ]


def test_times_dates_choices_and_ranges_of_a_school_are_told_in_words() -> None:
    text = """format = 1
name = "T"
first_day = "soon"
last_day = 2027-06-01
walks = [{ between = ["4"], minutes = 900 }]
[cart]
half_slots = 0
standing = { scissors = "thirty" }
[rotation]
kind = "cycel"
[[bells]]
id = "regular"
periods = [
  { name = "P1", start = "8:00", end = "8.45" },
  { name = "P2", start = "8:45", ende = "9:30" },
]
"""
    assert told(text, School) == [
        'f.toml, line 3: first_day is "soon". Write a date such as 2026-10-05.',
        "f.toml, line 5: walk 1: between has 1. There must be exactly 2.",
        "f.toml, line 5: walk 1: minutes is 900. Write a whole number from 0 to 600.",
        "f.toml, line 7: cart: half_slots is 0. Write a whole number from 1 to 60.",
        'f.toml, line 8: cart, standing: scissors is "thirty". Write a whole number from 0 to 1000000.',
        'f.toml, line 10: rotation: kind is "cycel". Is "cycle" meant? Write "cycle" or "weekdays".',
        'f.toml, line 14: bells regular, period P1: end is "8.45". Write a time of day such as "8:05" or "13:15".',
        "f.toml, line 15: bells regular, period P2: ende is not known here. Is end meant?",
    ]


def test_an_item_is_named_by_its_lesson_its_part_and_its_number() -> None:
    text = """id = "burlap-birds"
title = "Burlap Birds"
[[parts]]
title = "weave"
[[parts]]
title = "stitch"
[[parts.items]]
supply = "yarn"
[[parts.items]]
supply = "needle"
per = "pairs"
"""
    assert told(text, Lesson, entry="lesson burlap-birds") == [
        'f.toml, line 11: lesson burlap-birds, part 2, item 2: per is "pairs". '
        'Is "pair" meant? Write "class", "lesson", "pair", "student" or "table".'
    ]


def test_no_problem_speaks_of_types_patterns_or_paths() -> None:
    text = """
supplies = [
  { id = "", name = 5, kind = "tol", pack = 0.5, on_hand = "some", spare = 3, marks = [[1]], counted = "x" },
  "white-12x18",
]
"""
    problems = told(text, Supplies)
    assert len(problems) == 8
    for word in ("int", "str", "float", "`", "$", "\\d", "object", "array", "Expected", "None"):
        assert not any(word in each.replace("printable", "").replace("point", "") for each in problems), word


def test_a_file_of_a_newer_format_reads_with_unknown_fields_only_noted() -> None:
    record, problems = read('classes = []\nweather = "sunny"\n', Classes, newer=True)
    assert record == Classes()
    assert [each.level for each in problems] == ["note"]


def test_beside_lines_that_did_not_read_nothing_is_told_to_be_missing() -> None:
    record, problems = read('[[classes]]\nid = "3-B"\ntabels = 6\n', Classes, partly=True)
    assert record is None
    assert [each.what for each in problems] == ["tabels is not known here."]


def test_an_undecided_head_count_may_be_written_as_people_do() -> None:
    assert the_class('students = "about 24"\n').headcount == 24
    assert the_class('students = "About 24"\n').is_about
    assert the_class('students = "~24"\n').students == "about 24"
    assert the_class('students = "24"\n').students == 24
    assert the_class("students = 24.0\n").students == 24


def test_a_number_for_a_room_or_a_grade_is_read_as_its_name() -> None:
    assert the_class("room = 12\n").room == "12"
    assert the_class("grade = 3\n").grade == "3"
    assert the_class('grade = "k"\n').grade == "K"


def test_a_single_thing_in_place_of_a_list_is_a_list_of_one() -> None:
    assert the_class('avoid = "latex"\n').avoid == ("latex",)
    assert the_class('needs = { need = "fine-motor" }\n').needs[0].need == "fine-motor"
    record, problems = read(A_CLASS.replace("[[classes]]", "[classes]"), Classes)
    assert problems == ()
    assert record.classes[0].id == "3-B"


def test_times_and_dates_may_stand_without_quotes_or_with_them() -> None:
    text = """format = 1.0
name = "T"
first_day = 2026-08-31T00:00:00
last_day = "2027-06-11"
bells = { id = "regular", periods = { name = "P1", start = 08:05:00, end = "8:45" } }
"""
    record, problems = read(text, School)
    assert problems == ()
    assert record.first_day == date(2026, 8, 31)
    assert record.last_day == date(2027, 6, 11)
    assert record.bells[0].periods[0].start == "8:05"


def test_yes_and_no_in_quotes_and_words_in_capitals_are_understood() -> None:
    record, problems = read('[[supplies]]\nid = "s"\nname = "s"\nkind = "Tool"\nsharp = "yes"\n', Supplies)
    assert problems == ()
    assert (record.supplies[0].kind, record.supplies[0].sharp) == ("tool", True)


def test_terminal_codes_in_a_file_are_made_harmless_names_of_fields_too() -> None:
    record, _ = read('[[supplies]]\nid = "s"\nname = "a\\u001b[2Jb"\n', Supplies)
    assert record.supplies[0].name == "a\ufffd[2Jb"
    [problem] = told('"\\u001b[2J" = 1\n', Supplies)
    assert "\x1b" not in problem


SCALARS = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=8)
    | st.dates()
    | st.datetimes()
    | st.times()
    | st.sampled_from(["3-B", "K", "about 24", "8:05", "student", "tool", "regular"])
)
RECORDS = [each for module in (plan_records, rule_records, entries, state) for each in vars(module).values()]
FIELDS = {name for each in RECORDS if isinstance(each, type) for name in getattr(each, "__struct_fields__", ())}
KEYS = st.sampled_from([*sorted(FIELDS), "did", "Mon", "K"])
TABLES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS | st.text(max_size=5), inner, max_size=5),
    max_leaves=30,
)


@pytest.mark.parametrize("into", [School, Classes, Supplies, Kits, Lesson, RuleFile, DayRecord])
@given(table=st.dictionaries(KEYS, TABLES, max_size=6))
def test_whatever_a_table_holds_a_record_comes_back_or_a_reason(into: type[Any], table: dict[str, Any]) -> None:
    record, problems = records_from(table, into, file="f.toml")
    assert (record is None) == any(each.level == "grave" for each in problems)
    if record is not None:
        assert msgspec.convert(msgspec.to_builtins(record), into) == record
    assert not any("This cannot be read." in each.what for each in problems)


def test_every_line_of_a_plan_file_is_found() -> None:
    text = '''# a school
name = """
two
lines"""
"odd key".x = 1
[cart]
standing = { scissors = 30, "a b" = 2 } # [not] = this
[[bells]]
periods = [
  { name = "P1" }, # one
  { name = "P2",
 },
]
[[bells]]
[bells.more]
x = 'it''s'
'''
    lines = lines_of(text.replace("'it''s'", "'its'"))
    assert lines[("name",)] == 2
    assert lines[("odd key", "x")] == 5
    assert lines[("cart", "standing", "a b")] == 7
    assert lines[("bells", 0, "periods", 0, "name")] == 10
    assert lines[("bells", 0, "periods", 1)] == 11
    assert lines[("bells", 1)] == 14
    assert lines[("bells", 1, "more", "x")] == 16
