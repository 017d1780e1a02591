"""The cart sheet by command: on the terminal, in a file, for scripts."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.files.lock import take_lock
from tests.commandline.running import in_a_process, on_monday, refused
from tests.days import TUESDAY_13
from tests.pages.sheets import Read
from tests.schools import a_class, a_room, reference_school, write_toml

SHEET = (
    "format page date school day bells leave_by printed substitute why_no_visits visits stops",
    "number key class room start end students about tables guests taught parts own_part_waits to_decide from walk gap"
    " along folders sink projector own at_tables trays clean_up_from counted missed",
    "before_visit breaks since leave_by off on half_slots holds too_much",
)


def test_the_sheet_is_printed_as_text(tmp_path: Path) -> None:
    ran = on_monday("sheet", data=reference_school(tmp_path))
    assert (ran.status, ran.err) == (0, "")
    rows = ran.out.splitlines()
    assert len(rows) <= 60 and max(map(len, rows)) <= 80
    assert rows[0].startswith("CART SHEET  Tansy Hollow Elementary")
    assert "printed 7:41" in rows[1]


def test_a_printer_of_an_old_encoding_gets_a_sheet_too(tmp_path: Path) -> None:
    folder = reference_school(tmp_path, boxes=[{"grade": "3", "sign": "½ étoile → 9 × 12"}])
    ran = in_a_process("sheet", "--date", "2026-10-05", "--at", "7:41", data=folder, encoding="ascii")
    assert (ran.status, ran.err) == (0, "")
    assert "Box 3 (1/2 ?toile -> 9 x 12)" in ran.out


def test_it_is_written_into_a_file_and_the_ending_says_which_form(tmp_path: Path) -> None:
    folder, out = reference_school(tmp_path / "school"), tmp_path / "paper"
    out.mkdir()
    assert str(out / "monday.txt") in on_monday("sheet", "--out", str(out / "monday.txt"), data=folder).out
    on_monday("sheet", "--out", str(out / "monday.html"), data=folder)
    on_monday("sheet", "--html", "--out", str(out / "page"), data=folder)
    assert (out / "monday.txt").read_text() == on_monday("sheet", data=folder).out
    assert (out / "monday.html").read_text() == on_monday("sheet", "--html", data=folder).out
    assert (out / "page").read_text() == (out / "monday.html").read_text()
    assert Read((out / "page").read_text()).mistakes == []
    assert sorted(each.name for each in out.iterdir()) == ["monday.html", "monday.txt", "page"]


def test_a_printer_takes_another_sheet_of_paper_for_the_second_page(tmp_path: Path) -> None:
    rooms = {each: f"{each} beyond the long hall behind the gymnasium annex" for each in ("4", "9", "12", "14")}
    names = dict(zip(("K-M", "1-P", "3-B", "3-K"), rooms.values(), strict=True))
    classes = [a_class(name, room=room) for name, room in names.items()]
    walks = {"rooms": [a_room(room) for room in rooms.values()], "walks": []}
    day_a = {f"P{n}": name for n, name in enumerate([*names, "K-M", "1-P", "3-B"], 1)}
    folder = reference_school(tmp_path / "school", school=walks, classes=classes, timetable={"A": day_a})
    out = tmp_path / "monday.txt"
    on_monday("sheet", "--out", str(out), data=folder)
    assert out.read_bytes().count(b"\fCART SHEET") == 1
    assert on_monday("sheet", data=folder).out.encode() == out.read_bytes()


def test_a_sheet_written_before_is_kept_beside_the_new_one(tmp_path: Path) -> None:
    folder, out = reference_school(tmp_path / "school"), tmp_path / "notes.txt"
    out.write_text("something of hers")
    on_monday("sheet", "--out", str(out), data=folder)
    assert (tmp_path / "notes.txt.before").read_text() == "something of hers"


@pytest.mark.parametrize("name", ["classes.toml", "daybook/2026-10-05.toml", "notes.txt"])
def test_it_is_never_written_among_the_files_of_the_plan(name: str, tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    before = {path: path.read_bytes() for path in folder.rglob("*.toml")}
    assert "among the files of the plan" in refused("sheet", "--out", str(folder / name), data=folder)
    assert {path: path.read_bytes() for path in folder.rglob("*.toml")} == before


def test_a_place_that_is_not_there_is_told(tmp_path: Path) -> None:
    folder = reference_school(tmp_path / "school")
    assert "There is no folder" in refused("sheet", "--out", str(tmp_path / "nowhere" / "a.txt"), data=folder)
    assert "is a folder" in refused("sheet", "--out", str(tmp_path), data=folder)
    ran = on_monday("sheet", "--json", "--html", data=folder)
    assert ran.status == 2 and "Leave out --html" in ran.fields["error"]


@pytest.mark.parametrize("name", ["x" * 300 + ".html", "~nobody-there/monday.html"])
def test_a_name_that_no_file_can_have_is_told(name: str, tmp_path: Path) -> None:
    ran = on_monday("sheet", "--out", name, data=reference_school(tmp_path))
    assert ran.status == 2
    assert "Name another" in ran.err or "name another" in ran.err, ran.err


def test_it_is_printed_while_the_screen_is_open(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    lock = take_lock(folder)
    assert lock is not None
    try:
        assert on_monday("sheet", data=folder).status == 0
    finally:
        lock.release()


def test_scripts_get_every_field(tmp_path: Path) -> None:
    found = on_monday("sheet", "--json", data=reference_school(tmp_path)).fields
    whole, visit, stop = SHEET
    assert set(whole.split()) <= set(found)
    assert (found["page"], found["leave_by"], found["printed"]) == ("sheet", "7:52", "2026-10-05T07:41")
    assert all(set(visit.split()) <= set(each) for each in found["visits"])
    assert all(set(stop.split()) <= set(each) for each in found["stops"])
    third = found["visits"][2]
    assert (third["from"], third["walk"], third["gap"], third["clean_up_from"]) == ("9", 1, 5, "10:15")
    assert [(each["supply"], each["out"]) for each in third["counted"]] == [("scissors", 13), ("blunt-needle", 26)]


def test_a_day_without_visits_has_a_sheet_that_says_so(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    ran = on_monday("sheet", "--json", data=folder)
    assert ran.fields["why_no_visits"] == ""
    ran = in_a_process("sheet", "--date", TUESDAY_13.isoformat(), data=folder)
    assert ran.status == 0
    assert "Nothing to take along: no visits." in ran.out


def test_where_the_plan_does_not_read_the_last_good_one_is_printed_and_it_is_said(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    assert on_monday("morning", data=folder).status in (0, 1)
    write_toml(folder / "kits.toml", {"boxes": 3})
    ran = on_monday("sheet", data=folder)
    assert ran.status == 2
    assert "CART SHEET" in ran.out and "kits.toml" in ran.err
