"""The fields that scripts may rely on. A field may be added here; one that goes or changes breaks what others wrote."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from tests.commandline.running import on_monday, trundle
from tests.schools import reference_school, small_school

LINE = (
    "key number container supply name group need has add state critical counted about class visits shelf on_shelf"
    " counted_on remedy reason forbidden because"
)
STOCK = "on_hand about counted level"
VISIT = "key number name class grade period room start end students about tables steps"
VISIT += " next_part done_ahead open critical_open"
TASK = "key number what minutes due for class visit critical done because"
PARTS = {
    "visits": VISIT,
    "containers": "id name kind shelf sign place since kilograms visits open critical_open",
    "lines": LINE,
    "tasks": TASK,
    "checks": "key number what at visit critical done because",
    "cautions": "key what visit critical new because",
}
MORNING = (
    "format page date school school_day why_no_school day bells leave_by minutes_to_leave packing_minutes open"
    " critical_open next_school_day visits containers lines tasks checks cautions questions matters cases notes"
    " private_left_out problems"
)


def has_fields(found: dict[str, Any], names: str) -> bool:
    return set(names.split()) <= set(found)


def test_the_morning_of_a_whole_day(tmp_path: Path) -> None:
    found = on_monday("morning", "--json", data=reference_school(tmp_path)).fields
    assert has_fields(found, MORNING)
    assert (found["format"], found["page"], found["date"], found["day"]) == (1, "morning", "2026-10-05", "A")
    assert found["leave_by"] == "7:52"
    assert found["minutes_to_leave"] == 11
    assert found["open"] == sum(line["state"] in ("open", "part packed", "forbidden") for line in found["lines"])
    for part, names in PARTS.items():
        assert found[part], part
        assert all(has_fields(each, names) for each in found[part]), part
    assert has_fields(found["lines"][0]["because"][0], "text visits rule title facts private")


def test_dates_are_iso_and_times_of_day_as_in_the_plan_files(tmp_path: Path) -> None:
    found = on_monday("morning", "--json", data=reference_school(tmp_path)).fields
    assert all(re.fullmatch(r"\d{4}-\d\d-\d\d", task["due"]) for task in found["tasks"])
    assert all(re.fullmatch(r"([1-9]|1\d|2[0-3]):[0-5]\d", visit["start"]) for visit in found["visits"])


def test_numbers_are_the_same_on_every_page(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    lines = on_monday("morning", "--json", data=data).fields["lines"]
    by_key = {line["key"]: line["number"] for line in lines}
    left = on_monday("leaving", "--json", data=data).fields["matters"]
    assert {each["key"]: each["number"] for each in left if each["key"] in by_key}.items() <= by_key.items()
    page = on_monday("morning", data=data).out
    assert all(re.search(rf"^ [! ]\s*{line['number']} \[", page, re.MULTILINE) for line in lines)


def test_another_day_has_no_minutes_to_leave(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    assert trundle("morning", "--json", "--date", "2026-10-05", data=data).fields["minutes_to_leave"] is None


def test_leaving_and_the_days_end(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    matter = "key section text critical number visit choices hint answer"
    left = on_monday("leaving", "--json", data=data).fields
    assert has_fields(left, "format page date gone open critical_open matters problems")
    assert all(has_fields(each, matter) for each in left["matters"])
    end = on_monday("close", "--look", "--json", data=data, at="15:00").fields
    assert has_fields(end, "format page date closed open critical_open matters problems")
    assert (left["page"], end["page"]) == ("leaving", "day end")
    assert all(has_fields(each, matter) for each in end["matters"])


@pytest.mark.parametrize(
    "words",
    [
        ("tick", "11"),
        ("undo",),
        ("report", "V1", "--as-planned"),
        ("low", "scissors"),
        ("count", "yarn-ball", "40"),
        ("order", "white-12x18", "4"),
        ("delivered", "white-12x18", "4"),
        ("change", "--away", "3-K"),
        ("answer", "V1 who missed", "nobody"),
        ("close",),
    ],
)
def test_what_was_done(tmp_path: Path, words: tuple[str, ...]) -> None:
    ran = on_monday(*words, "--json", data=small_school(tmp_path), at="15:00")
    assert ran.status == 0
    assert has_fields(ran.fields, "format page date did open critical_open")
    assert ran.fields["page"] == words[0]
    assert all(isinstance(each, str) and each for each in ran.fields["did"])


def test_a_changed_day(tmp_path: Path) -> None:
    found = on_monday("change", "--away", "3-B", "--json", data=reference_school(tmp_path)).fields
    names = "day bells next_school_day next_day visits_out visits_in other_times containers_out containers_in lines"
    assert has_fields(found, f"format page date did open critical_open {names} cautions numbers_changed")
    assert has_fields(found["visits_out"][0], f"{VISIT} next")
    assert has_fields(found["lines"][0], "key number container name need_before need has take_out put_in")


def test_a_changed_visit(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    found = on_monday("change", "--students", "3-K=27", "--lesson", "V5=leaf-rubbings", "--json", data=data).fields
    assert has_fields(found["other_children"][0], f"{VISIT} adults students_before adults_before")
    assert has_fields(found["other_lessons"][0], f"{VISIT} steps_before")
    assert found["decisions"] == []


def test_a_short_line(tmp_path: Path) -> None:
    found = on_monday("tick", "11", "--short", "0", "--json", data=small_school(tmp_path)).fields
    (short,) = found["short"]
    assert has_fields(short, "line supply missing stock ways")
    assert has_fields(short["stock"], STOCK)
    assert [each["remedy"] for each in short["ways"]] == ["share", "use another", "make more", "fetch", "go without"]
    assert all(has_fields(each, "remedy words enough needs") for each in short["ways"])


def test_orders(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("low", "glue-stick", data=data)
    on_monday("order", "yarn-ball", "4", data=data)
    found = on_monday("orders", "--json", data=data).fields
    assert has_fields(found, "format page date lead_school_days looked_ahead_to due to_order")
    due = "supply name packs due pack since expected late claim_by came_instead runs_out"
    assert has_fields(found["due"][0], f"{due} {STOCK}")
    wanted = "supply name packs pack why shelf runs_out order_by too_late"
    assert has_fields(found["to_order"][0], f"{wanted} {STOCK}")
    order = on_monday("order", "yarn-ball", "4", "--json", data=data).fields
    assert has_fields(order["stock"], f"supply due {STOCK}")


def test_the_substitutes_sheet(tmp_path: Path) -> None:
    data = reference_school(tmp_path, school={"habits": {"filler": "leaf-rubbings"}})
    found = on_monday("substitute", "--json", data=data).fields
    assert has_fields(found, "format page date lesson leave_by visits containers stays_at_store")
    assert has_fields(found["visits"][0], VISIT)
    assert has_fields(found["containers"][0], "id name shelf things")


def test_why(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    found = on_monday("why", "11", "--json", data=data).fields
    assert has_fields(found, "format page date kind thing private_left_out")
    assert found["kind"] == "line"
    assert has_fields(found["thing"], LINE)


def test_check(tmp_path: Path) -> None:
    found = trundle("check", "--json", data=small_school(tmp_path)).fields
    assert found == {"format": 1, "page": "check", "well": True, "problems": []}


def test_a_failure(tmp_path: Path) -> None:
    found = on_monday("tick", "999", "--json", data=small_school(tmp_path)).fields
    assert has_fields(found, "format page error problems")
    assert "no number 999" in found["error"]
