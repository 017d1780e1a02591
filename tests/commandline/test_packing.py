"""The morning without the screen: the list, ticks, undo, levels, leaving."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.commandline import parse, run
from tests.commandline.running import monday_lines, on_monday
from tests.schools import a_class, small_school

THIRD_GRADES_PAPER = 51
"""46 children in two classes; the larger of 2 and 10 % on top. Common practice, no source."""


def number_of(supply: str, data: Path) -> str:
    return str(monday_lines(data)[supply]["number"])


def test_the_morning_page_says_when_to_leave_and_what_to_pack(tmp_path: Path) -> None:
    ran = on_monday("morning", data=small_school(tmp_path))
    assert ran.err == ""
    assert "Small School" in ran.out
    assert "Mon 5 Oct" in ran.out
    assert "Leave the store by " in ran.out
    paper = next(row for row in ran.out.splitlines() if "white paper 12x18" in row)
    assert f" {THIRD_GRADES_PAPER} " in paper
    assert f"+{THIRD_GRADES_PAPER}" in paper
    assert paper.lstrip().startswith("!")


def test_every_page_fits_on_paper(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    for typed in (
        ("morning",),
        ("morning", "--by", "shelf"),
        ("morning", "--by", "class"),
        ("leaving",),
        ("why", "11"),
    ):
        out = on_monday(*typed, data=data).out
        assert out.endswith("\n")
        assert max(map(len, out.splitlines())) <= 80, typed


def test_critical_things_open_are_told_by_the_exit_status(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert on_monday("morning", data=data).status == 1
    assert on_monday("leaving", data=data).status == 1


def test_all_critical_things_packed_is_exit_status_0(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    critical = [str(line["number"]) for line in monday_lines(data).values() if line["critical"]]
    ran = on_monday("tick", *critical, data=data)
    assert (ran.status, ran.err) == (0, "")
    assert on_monday("morning", data=data).status == 0


def test_trundle_alone_prints_the_same_list_where_text_is_asked_for(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert on_monday("--text", data=data) == on_monday("morning", data=data)
    assert on_monday("today", "--json", data=data) == on_monday("morning", "--json", data=data)


def test_a_tick_is_there_after_the_program_was_started_again_and_undo_takes_it_back(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    number = number_of("glue-stick", data)

    assert on_monday("tick", number, data=data).status == 0
    assert monday_lines(data)["glue-stick"]["state"] == "packed"

    undone = on_monday("undo", data=data)
    assert undone.status == 0
    assert "glue stick" in undone.out
    assert monday_lines(data)["glue-stick"]["state"] == "open"


def test_lines_ticked_together_are_undone_together(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("tick", number_of("glue-stick", data), number_of("white-12x18", data), data=data)
    on_monday("undo", data=data)
    states = {supply: line["state"] for supply, line in monday_lines(data).items()}
    assert (states["glue-stick"], states["white-12x18"]) == ("open", "open")


def test_undo_with_nothing_to_undo_says_so(tmp_path: Path) -> None:
    ran = on_monday("undo", data=small_school(tmp_path))
    assert ran.status == 0
    assert "nothing to undo" in ran.out


def test_a_count_below_the_need_is_part_packed(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("tick", number_of("white-12x18", data), "--count", "18", data=data)
    line = monday_lines(data)["white-12x18"]
    assert (line["state"], line["has"], line["add"]) == ("part packed", 18, THIRD_GRADES_PAPER - 18)


def test_a_short_line_keeps_what_she_does_about_it(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("tick", number_of("glue-stick", data), "--short", "20", "--remedy", "share", data=data)
    line = monday_lines(data)["glue-stick"]
    assert (line["state"], line["has"], line["remedy"]) == ("short", 20, "share")


def test_a_line_that_is_not_needed_keeps_the_reason(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("tick", number_of("glue-stick", data), "--not-needed", "room has it", data=data)
    line = monday_lines(data)["glue-stick"]
    assert (line["state"], line["reason"]) == ("not needed", "room has it")


def test_a_whole_container_leaves_what_must_be_seen_one_by_one(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert on_monday("tick", "box-3", "--all", data=data).status == 0
    for line in monday_lines(data).values():
        if line["container"] == "box-3":
            assert line["state"] != "open" or line["critical"] or line["counted"], line["name"]
    assert monday_lines(data)["white-12x18"]["state"] == "open"
    assert monday_lines(data)["glue-stick"]["state"] == "packed"


def test_a_part_packed_line_is_not_ticked_with_its_container(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("tick", number_of("glue-stick", data), "--count", "5", data=data)
    on_monday("tick", "box-3", "--all", data=data)
    assert monday_lines(data)["glue-stick"]["state"] == "part packed"


def test_a_number_that_is_not_on_the_list_is_answered_with_the_numbers_there_are(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = on_monday("tick", "999", data=data)
    assert ran.status == 2
    assert "no number 999" in ran.err
    assert "They go from 11 to" in ran.err


def test_one_unknown_line_among_several_ticks_none(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert on_monday("tick", number_of("glue-stick", data), "999", data=data).status == 2
    assert monday_lines(data)["glue-stick"]["state"] == "open"


def test_why_tells_the_children_and_the_spare(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = on_monday("why", number_of("white-12x18", data), data=data)
    assert ran.status == 0
    assert "white paper 12x18" in ran.out
    assert "24 children" in ran.out
    assert "V1 3-B" in ran.out


def test_a_reason_that_tells_of_a_childs_need_is_left_out_unless_asked_for(tmp_path: Path) -> None:
    needs = [{"need": "fine-motor", "count": 2, "tables": [3]}]
    data = small_school(tmp_path, needs=needs)
    lines = on_monday("morning", "--json", data=data).fields["lines"]
    shown = on_monday("morning", "--json", "--private", data=data).fields["lines"]
    told = [reason for line in shown for reason in line["because"] if reason["private"]]
    assert told, "a need gives at least one private reason"
    assert not [reason for line in lines for reason in line["because"] if reason["private"]]
    adapted = next(line for line in shown if any(reason["private"] for reason in line["because"]))
    page = on_monday("why", str(adapted["number"]), data=data).out
    assert "left out as private" in page
    assert "fine" not in page.casefold()


def test_leaving_lists_critical_things_first_with_what_to_do(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    found = on_monday("leaving", "--json", data=data).fields
    critical = [each["critical"] for each in found["matters"]]
    assert critical == sorted(critical, reverse=True)
    assert found["critical_open"] == sum(critical) > 0
    assert all(each["choices"] or each["hint"] for each in found["matters"])
    assert "CRITICAL" in on_monday("leaving", data=data).out


def test_leaving_with_open_lines_is_allowed_and_noted(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert on_monday("leaving", "--gone", data=data).status == 1
    assert "left" in on_monday("undo", data=data).out.casefold()


def test_a_supply_may_be_named_as_she_says_it(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = on_monday("low", "glue", "sticks", "--level", "out", data=data)
    assert ran.status == 0
    assert "glue stick" in ran.out
    assert "out" in ran.out


def test_a_supply_that_is_not_there_is_answered_with_the_nearest(tmp_path: Path) -> None:
    ran = on_monday("low", "yarnbal", data=small_school(tmp_path))
    assert ran.status == 2
    assert "yarn" in ran.err


def test_tomorrow_on_a_friday_is_monday_and_keeps_its_ticks(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = small_school(tmp_path)
    friday_afternoon = datetime(2026, 10, 2, 15, 0)
    typed = ["tick", number_of("glue-stick", data), "--date", "tomorrow", "--data", str(data)]
    assert run(parse(typed, friday_afternoon)) == 0
    assert "Mon 5 Oct" in capsys.readouterr().out
    assert monday_lines(data)["glue-stick"]["state"] == "packed"


def test_the_list_by_shelf_has_what_must_be_taken_from_a_shelf(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    by_shelf = on_monday("morning", "--by", "shelf", data=data).out
    assert "SHELF P1" in by_shelf
    on_monday("tick", number_of("white-12x18", data), data=data)
    assert "SHELF P1" not in on_monday("morning", "--by", "shelf", data=data).out


def test_the_list_by_class_has_a_line_under_each_class_that_needs_it(tmp_path: Path) -> None:
    by_class = on_monday("morning", "--by", "class", data=small_school(tmp_path)).out
    assert by_class.count("white paper 12x18") == 2


def test_a_class_size_that_is_about_is_shown_as_about(tmp_path: Path) -> None:
    classes = [a_class("3-B", room="12", students="about 24"), a_class("3-K", room="14", students=22)]
    data = small_school(tmp_path, classes=classes)
    assert monday_lines(data)["white-12x18"]["about"] is True
    assert f"~{monday_lines(data)['white-12x18']['need']}" in on_monday("morning", data=data).out
