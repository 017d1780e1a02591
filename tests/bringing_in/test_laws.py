"""What holds of everything brought in: it never fails, twice is once, and what it does not name stays as it is."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from msgspec import structs

from checklists.bringing_in.bring_in import bring_in
from checklists.bringing_in.understood import Kind
from checklists.plan.plan_files import PlanFiles
from tests.bringing_in.schools import brought, tansy_hollow
from tests.schools import MONDAY

KINDS: tuple[Kind, ...] = ("classes", "timetable", "supplies", "days-off")
LATER = date(2026, 11, 2)

CELL = st.one_of(
    st.sampled_from(
        [
            "3-B",
            "3-K",
            "K-M",
            "4-Q",
            "2-R",
            "Hale",
            "Hale 3rd",
            "3",
            "K",
            "24",
            "about 20",
            "12",
            "14",
            "Room 30",
            "library",
            "P1",
            "P2",
            "1",
            "8:00",
            "A",
            "B",
            "Day C",
            "Lunch",
            "scissors",
            "yarn ball",
            "felt",
            "tool",
            "plenty",
            "2 packs",
            "Sep 7",
            "9/7/2026",
            "Nov 26-27",
            "2026-12-21",
            "Labor Day",
            "no school",
            "early dismissal",
            "=1+1",
            "[b]",
            "yes",
            "100",
            "",
            "",
        ]
    ),
    st.text(max_size=8),
)
HEADINGS: dict[Kind, str] = {
    "classes": "Class,Grade,Room,# of students,Tables",
    "timetable": "Day,Period,Class,,",
    "supplies": "Item,Qty,Kind,Shelf,Pack",
    "days-off": "Date,Until,Reason,,",
}
ROWS = st.lists(st.lists(CELL, min_size=1, max_size=5), max_size=8)


def as_text(rows: list[list[str]], head: str) -> str:
    lines = ["\t".join(cell.replace("\t", " ").replace('"', "'") for cell in row) for row in rows]
    return "\n".join([*([head.replace(",", "\t")] if head else []), *lines])


@example("classes", [["Hale", "Hale 3rd", "2-R"]], False)  # the first column is a class's name once it is brought in
@given(st.sampled_from(KINDS), ROWS, st.booleans())
def test_the_same_brought_in_twice_changes_nothing_the_second_time(
    kind: Kind, rows: list[list[str]], has_headings: bool
) -> None:
    text = as_text(rows, HEADINGS[kind] if has_headings else "")
    first = brought(kind, text)
    again = bring_in(kind, text, first.files, LATER)
    assert again.files == first.files
    assert not again.changes_anything
    assert first.changes_anything == (first.files != tansy_hollow())


@given(st.sampled_from(KINDS), ROWS, st.booleans())
def test_nothing_is_removed_and_only_what_is_named_is_different(
    kind: Kind, rows: list[list[str]], has_headings: bool
) -> None:
    before, after = tansy_hollow(), brought(kind, as_text(rows, HEADINGS[kind] if has_headings else ""))
    now = after.files
    changed = {each.entry for each in after.those_that("adds", "changes")}
    assert now.lessons == before.lessons and now.kits == before.kits
    for class_ in before.classes.classes:
        same = next(each for each in now.classes.classes if each.id == class_.id)
        assert same == class_ or f"class {class_.id}" in changed
        assert (same.needs, same.avoid, same.has, same.left) == (class_.needs, class_.avoid, class_.has, class_.left)
    for supply in before.supplies:
        same_supply = next(each for each in now.supplies if each.id == supply.id)
        assert same_supply == supply or f"supply {supply.id}" in changed
    for day, periods in before.classes.timetable.items():
        for period, ident in periods.items():
            assert now.classes.timetable[day][period] == ident or f"timetable {day}, {period}" in changed
    assert {each.first for each in before.school.days_off} <= {each.first for each in now.school.days_off}
    assert now.school.rooms[: len(before.school.rooms)] == before.school.rooms
    assert structs.replace(now.school, rooms=before.school.rooms, days_off=before.school.days_off) == before.school


@given(st.sampled_from(KINDS), st.binary(max_size=200))
def test_no_file_makes_it_fail(kind: Kind, content: bytes) -> None:
    assert brought(kind, content).counted


@given(st.lists(st.sampled_from(["BEGIN:VEVENT", "END:VEVENT", "DTSTART:20261009", "DTSTART;VALUE=DATE:20261009",
    "DTEND;VALUE=DATE:20261010", "DTEND:2026", "RRULE:FREQ=DAILY;COUNT=3", "RRULE:FREQ=WEEKLY;BYDAY=XX",
    "RRULE:COUNT=0", "EXDATE:foo", "RDATE;VALUE=PERIOD:20261009T090000Z/PT1H", "SUMMARY:No school", "STATUS:CANCELLED",
    "DURATION:-P1D", "RECURRENCE-ID:20261009T000000Z", "DTSTART;TZID=Nowhere/At All:20261009T090000", ":", " folded",
    "BEGIN:VALARM", "END:VALARM", "X-WR-TIMEZONE:Mars/Olympus", "DTSTART:99999999T999999"]), max_size=14))  # fmt: skip
def test_no_calendar_makes_it_fail(lines: list[str]) -> None:
    understood = brought("days-off", "\n".join(["BEGIN:VCALENDAR", *lines]))
    assert brought("days-off", "\n".join(["BEGIN:VCALENDAR", *lines]), understood.files).files == understood.files


TEN_THOUSAND: dict[Kind, list[str]] = {
    "classes": [f"{1 + n % 8}-C{n % 500},{20 + n % 8},{n % 500}" for n in range(10_000)],
    "timetable": ["day,period,class", *(f"{'ABCDEF'[n % 6]},P{n % 7 + 1},3-B{n}" for n in range(10_000))],
    "supplies": [f"thing number {n},{20 + n % 8},S{n % 40}" for n in range(10_000)],
    "days-off": [f"2026-{9 + n % 4}-{1 + n % 28},reason {n}" for n in range(10_000)],
}


@pytest.mark.parametrize("kind", KINDS)
def test_ten_thousand_rows_are_all_read(kind: Kind) -> None:
    assert len(brought(kind, "\n".join(TEN_THOUSAND[kind])).rows) == 10_000


def test_what_was_understood_is_for_this_plan_only() -> None:
    files: PlanFiles = tansy_hollow()
    assert bring_in("classes", b"", files, MONDAY).files is files
