"""`trundle bring-in`: it tells what it understood and changes nothing before --yes; --undo takes it back."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.plan.records import DayOff, Plan
from tests.commandline.running import in_a_process, refused, said, trundle
from tests.schools import reference_school

CLASSES = "Class,Students,Room\n3-B,25,12\n3-C,24,15\nHale,20,4\n"


def plan_in(data: Path) -> Plan:
    """The plan as the next start finds it."""
    with Book.open(data, write=False) as book:
        return book.plan


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return reference_school(tmp_path / "school")


@pytest.fixture
def file(tmp_path: Path) -> str:
    path = tmp_path / "classes.csv"
    path.write_text(CLASSES, encoding="utf-8")
    return str(path)


def test_it_is_told_first_and_nothing_changes_before_yes(data: Path, file: str) -> None:
    before = plan_in(data)
    told = said("bring-in", "classes", file, data=data).out
    assert told.startswith("CLASSES FROM classes.csv\n2 classes, 1 line not understood: row 4.\n")
    assert told.index("NOT UNDERSTOOD") < told.index("CHANGES") < told.index("NEW")
    assert "  row 2 3-B: 25 children instead of 24\n" in told
    assert told.endswith("Nothing is changed yet. With --yes it is brought in.\n")
    assert plan_in(data) == before


def test_with_yes_it_is_in_the_plan_and_undo_takes_it_back_in_processes_of_their_own(data: Path, file: str) -> None:
    before = plan_in(data)
    ran = in_a_process("bring-in", "classes", file, "--yes", data=data)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.endswith(
        "Done: 2 classes brought in.\ntrundle bring-in --undo takes it back, and so does u on the screen.\n"
    )
    assert plan_in(data).class_by_id["3-C"].students == 24
    assert "Nothing is to be changed." in said("bring-in", "classes", file, "--yes", data=data).out
    assert said("bring-in", "--undo", data=data).out == "Taken back: 2 classes brought in.\n"
    assert plan_in(data) == before
    assert refused("bring-in", "--undo", data=data) == "There is nothing to take back."


def test_fields_for_scripts(data: Path, file: str) -> None:
    found = said("bring-in", "classes", file, "--json", data=data).fields
    names = "format page kind source understood rows notes in_the_way can_be_taken done did"
    assert set(found) == set(names.split())
    assert found["rows"][0] == {
        "number": 2,
        "column": None,
        "does": "changes",
        "said": "3-B: 25 children instead of 24",
        "stood": "3-B | 25 | 12",
        "to_do": "",
    }
    assert (found["can_be_taken"], found["done"]) == (True, False)
    assert said("bring-in", "classes", file, "--json", "--yes", data=data).fields["done"]


def test_a_calendar_with_events_taken_by_number(data: Path, tmp_path: Path) -> None:
    path = tmp_path / "school.ics"
    names = ("No school", "Picture day", "Conferences")
    events = [
        f"BEGIN:VEVENT\nSUMMARY:{name}\nDTSTART;VALUE=DATE:2026111{n}\nEND:VEVENT" for n, name in enumerate(names)
    ]
    path.write_text("\n".join(["BEGIN:VCALENDAR", *events, "END:VCALENDAR"]), encoding="utf-8")
    assert "event 3 Thu 12 Nov 2026 Conferences" in said("bring-in", "days-off", str(path), data=data).out
    said("bring-in", "days-off", str(path), "--take", "3", "--yes", data=data)
    assert plan_in(data).school.days_off[-2:] == (
        DayOff(date(2026, 11, 10), reason="No school"),
        DayOff(date(2026, 11, 12), reason="Conferences"),
    )
    told = said("bring-in", "days-off", str(path), "--all", "--leave", "1", data=data).out
    assert "Wed 11 Nov 2026 Picture day" in told


def test_nothing_understood_is_status_2(data: Path, tmp_path: Path) -> None:
    (tmp_path / "empty.csv").write_bytes(b"")
    ran = trundle("bring-in", "supplies", str(tmp_path / "empty.csv"), data=data)
    assert (ran.status, "There is nothing in it." in ran.out) == (2, True)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        (("bring-in",), "Say what, and from which file"),
        (("bring-in", "clases", "x"), "Is classes meant?"),
        (("bring-in", "classes", "no-such-file.csv"), "no-such-file.csv cannot be read (No such file or directory)."),
        (("bring-in", "classes", "x", "--take", "many"), "are no numbers of rows; write them like 3,7 or 3-5."),
        (("bring-in", "classes", "x", "--leave", "7-3"), "are no numbers of rows; write them like 3,7 or 3-5."),
    ],
)
def test_what_is_not_understood_is_said_with_what_to_type(typed: tuple[str, ...], why: str, data: Path) -> None:
    assert why in refused(*typed, data=data)
