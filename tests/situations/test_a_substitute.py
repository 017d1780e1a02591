"""A substitute for the teacher on Tue 6 Oct. Situation T21; quantities are common practice, no source."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from tests.commandline.running import Ran, on_monday, trundle
from tests.schools import a_class, a_lesson, a_part, an_item, reference_school

TUESDAY = ("--date", "2026-10-06", "--at", "7:00")
CLASSES = ["K-M", "1-P", "3-B", "3-K", "2-R", "4-D", "5-H"]
ON_DAY_B = {"B": {f"P{n}": class_ for n, class_ in enumerate(CLASSES, 1)}}
SHARP_OR_WET = ("scissors", "needle", "brush", "ink", "clay", "brayer", "pan set", "water cup", "sponge", "jug")


def a_school(folder: Path, **more: Any) -> Path:
    """Seven visits on Tuesday, day B; for a substitute there are leaf rubbings: paper and crayons."""
    return reference_school(
        folder, timetable=ON_DAY_B, school={"habits": {"filler": "leaf-rubbings"}, **more.pop("school", {})}, **more
    )


def sheet(data: Path, *when: str) -> str:
    ran: Ran = trundle("substitute", *(when or TUESDAY), data=data)
    assert (ran.status, ran.err) == (0, "")
    return ran.out


def test_the_sheet_is_one_page_of_eighty_columns(tmp_path: Path) -> None:
    rows = sheet(a_school(tmp_path)).splitlines()
    assert len(rows) <= 60
    assert max(len(row) for row in rows) <= 80


def test_it_has_every_room_time_and_number_of_children(tmp_path: Path) -> None:
    page = sheet(a_school(tmp_path))
    assert "Tue 6 Oct, day B" in page
    for number, (time, room, class_, students) in enumerate(
        [
            ("8:00-8:45", "4", "K-M", 20),
            ("8:45-9:30", "9", "1-P", 22),
            ("9:35-10:20", "12", "3-B", 24),
            ("10:25-11:10", "14", "3-K", 25),
            ("12:30-13:15", "11", "2-R", 23),
            ("13:15-14:00", "21", "4-D", 26),
            ("14:05-14:50", "23", "5-H", 27),
        ],
        start=1,
    ):
        pattern = rf"V{number} +{time} +Room {room} +{class_} +{students} children, 6 tables"
        assert re.search(pattern, page), pattern


def test_it_says_what_to_teach_and_what_to_take(tmp_path: Path) -> None:
    page = sheet(a_school(tmp_path))
    assert "Every class does Leaf Rubbings: rub the leaves." in page
    boxes = {row.split(" (")[0].strip(): row for row in page.splitlines() if row.startswith("  Box ")}
    assert len(boxes) == 6
    for thing in ("(shelf B6)", "30 white paper 9x12", "15 crayon set"):  # 27 + 3; 14 pairs + 1
        assert thing in boxes["Box 5"]
    for thing in ("(shelf B2)", "54 white paper 9x12", "14 crayon set"):  # 49 + 5; 13 pairs + 1
        assert thing in boxes["Box 3"]


def test_it_says_what_not_to_send_for_and_takes_nothing_sharp_or_wet(tmp_path: Path) -> None:
    page = sheet(a_school(tmp_path))
    take, stays = page.split("DO NOT SEND FOR")[0], page.split("DO NOT SEND FOR")[1].split("VISITS")[0]
    assert not [each for each in SHARP_OR_WET if each in take]
    for kept in ("Watercolour kit", "Stitching kit", "Printing kit", "Clay kit", "scissors"):
        assert kept in stays


def test_it_has_lines_to_fill_in_and_a_slip_to_leave(tmp_path: Path) -> None:
    page = sheet(a_school(tmp_path))
    for line in ("Attention signal: ____", "Office: ____", "Nurse: ____"):
        assert line in page
    assert page.count("done? [ ] yes [ ] no   absent (list numbers) ____") == 7
    slip = page.split("RETURN SLIP")[1]
    assert "broken, missing or left in a room? ____" in slip
    assert "All boxes back at the store?" in slip


def test_it_tells_nobody_of_a_childs_need(tmp_path: Path) -> None:
    needs = [{"need": "fine-motor", "count": 2}, {"need": "low-vision", "count": 1}]
    classes = [
        a_class(each, room=room, students=20, needs=needs)
        for each, room in zip(CLASSES, ["4", "9", "12", "14", "11", "21", "23"], strict=True)
    ]
    data = a_school(tmp_path, classes=classes)
    for words in ("fine motor", "fine-motor", "low vision", "low-vision", "need"):
        assert words not in sheet(data)
        assert words not in str(trundle("substitute", "--json", *TUESDAY, data=data).fields)


def test_for_scripts(tmp_path: Path) -> None:
    found = trundle("substitute", "--json", *TUESDAY, data=a_school(tmp_path)).fields
    assert found["lesson"] == {"id": "leaf-rubbings", "title": "Leaf Rubbings", "parts": ["rub the leaves"]}
    assert [each["class"] for each in found["visits"]] == CLASSES
    assert "scissors" in found["stays_at_store"]
    (box,) = [each for each in found["containers"] if each["id"] == "box-5"]
    assert {"supply": "white-9x12", "name": "white paper 9x12", "count": 30} in box["things"]


def test_printing_it_changes_nothing(tmp_path: Path) -> None:
    """The sheet may lie in the box since September: no day is told to have a substitute by it."""
    data = a_school(tmp_path)
    sheet(data)
    visits = trundle("morning", "--json", *TUESDAY, data=data).fields["visits"]
    assert {each["class"]: each["steps"][0]["lesson"] for each in visits}["3-B"] == "burlap-birds"
    assert "nothing to undo" in trundle("undo", *TUESDAY, data=data).out


def test_a_class_that_is_away_is_not_on_it(tmp_path: Path) -> None:
    data = a_school(tmp_path)
    trundle("change", "--away", "4-D", *TUESDAY, data=data)
    assert "4-D" not in sheet(data)


def test_on_the_day_the_list_is_that_of_the_sheet_and_no_class_moves_on(tmp_path: Path) -> None:
    data = a_school(tmp_path)
    assert trundle("change", "--substitute", "yes", *TUESDAY, data=data).status == 0
    found = trundle("morning", "--json", *TUESDAY, data=data).fields
    names = [line["name"] for line in found["lines"]]
    assert not [name for name in names if any(word in name for word in SHARP_OR_WET)]
    assert not any("class folder" in name for name in names)
    for visit in found["visits"]:
        trundle("report", visit["name"], "--as-planned", *TUESDAY, data=data)
    assert trundle("close", *TUESDAY, data=data).status == 0
    after = trundle("morning", "--json", "--date", "2026-10-15", data=data).fields["visits"]
    steps = {each["class"]: [(step["lesson"], step["part"]) for step in each["steps"]] for each in after}
    assert steps["3-B"] == [("burlap-birds", 2)]
    assert steps["4-D"] == [("pinch-owls", 1)]


def test_undo_brings_the_own_lessons_back(tmp_path: Path) -> None:
    data = a_school(tmp_path)
    trundle("change", "--substitute", "yes", *TUESDAY, data=data)
    trundle("undo", *TUESDAY, data=data)
    visits = trundle("morning", "--json", *TUESDAY, data=data).fields["visits"]
    assert {each["class"]: each["steps"][0]["lesson"] for each in visits}["4-D"] == "pinch-owls"


def test_what_does_not_fit_on_the_page_is_counted(tmp_path: Path) -> None:
    """A lesson of twelve things: a box takes two rows, and the page stays one."""
    supplies = [{"id": f"leaf-{n}", "name": f"pressed leaf of the {n}th kind", "kind": "material"} for n in range(12)]
    lesson = a_lesson("leaf-rubbings", [a_part("rub the leaves", [an_item(each["id"]) for each in supplies])])
    data = a_school(tmp_path, supplies=supplies, lessons=[lesson], kits=[], teaching={"3": ["leaf-rubbings"]})
    rows = sheet(data).splitlines()
    assert len(rows) <= 60
    assert any("more" in row for row in rows)


@pytest.mark.parametrize(
    ("when", "told"),
    [
        (("--date", "2026-10-12"), "Mon 12 Oct has nothing to teach (holiday)"),
        (("--date", "2026-10-07"), "Wed 7 Oct has nothing to teach (no visits)"),
    ],
)
def test_a_day_without_visits_has_no_sheet(tmp_path: Path, when: tuple[str, str], told: str) -> None:
    ran = trundle("substitute", *when, data=a_school(tmp_path))
    assert (ran.status, ran.out) == (2, "")
    assert told in ran.err


def test_without_a_lesson_for_substitutes_it_says_how_to_name_one(tmp_path: Path) -> None:
    ran = on_monday("substitute", data=reference_school(tmp_path))
    assert ran.status == 2
    assert "name one in school.toml, under habits, as filler" in ran.err


def test_another_lesson_for_one_visit_is_refused_while_a_substitute_teaches(tmp_path: Path) -> None:
    data = a_school(tmp_path)
    assert trundle("change", "--substitute", "yes", *TUESDAY, data=data).status == 0
    refused = trundle("change", "--lesson", "V3=paper-hills", *TUESDAY, data=data)
    assert refused.status == 2
    assert "A substitute teaches the same lesson in every visit" in refused.err
    assert trundle("change", "--substitute", "no", *TUESDAY, data=data).status == 0
    assert trundle("change", "--lesson", "V3=paper-hills", *TUESDAY, data=data).status == 0
