"""A day that is not as planned, said by command, on the reference school. Situations T01 to T04, T06 and T21.

Dates, needs and minutes are those of the reference school: common practice, no source.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.commandline import parse, run
from tests.commandline.running import Ran, monday_lines, on_monday, trundle
from tests.days import opened
from tests.schools import reference_school, small_school

MONDAY, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY = (f"2026-10-0{day}" for day in (5, 6, 7, 8, 9))
TUESDAY_13 = "2026-10-13"
SIX_ON_DAY_B = {
    "A": {"P1": "K-M"},
    "B": {"P1": "1-P", "P2": "3-B", "P3": "3-K", "P4": "2-R", "P5": "4-D", "P6": "5-H"},
}


def change(data: Path, *typed: str, on: str = MONDAY, at: str = "6:10") -> Ran:
    ran = trundle("change", *typed, "--date", on, "--at", at, data=data)
    assert (ran.status, ran.err) == (0, "")
    assert all(len(row) <= 80 for row in ran.out.splitlines()) or "--json" in typed
    return ran


def letters(data: Path, *dates: str) -> list[str]:
    """The day of the cycle that each date is, as scripts read it."""
    return [str(trundle("morning", "--json", "--date", each, data=data).fields["day"]) for each in dates]


def words(ran: Ran) -> str:
    return " ".join(ran.out.split())


def packed_yarn(data: Path) -> None:
    on_monday("tick", str(monday_lines(data)["yarn-ball"]["number"]), data=data, at="7:30")


# --------------------------------------------------------------------------------- T01, T02 snow on Tuesday


def test_after_a_snow_day_that_slides_wednesday_is_the_lost_day(tmp_path: Path) -> None:
    data = reference_school(tmp_path, timetable=SIX_ON_DAY_B)
    said = words(change(data, "--no-school", on=TUESDAY))
    assert "6 visits of day B are lost; no class moves on." in said
    assert "The next school day, Wed 7 Oct, is day B." in said
    assert said.count("comes again on Wed 7 Oct") == 6
    assert letters(data, MONDAY, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY, TUESDAY_13) == ["A", "", "B", "C", "D", "E"]


def test_after_a_snow_day_with_fixed_letters_the_lost_visits_come_with_the_next_day_b(tmp_path: Path) -> None:
    data = reference_school(tmp_path, lost_day="fixed", timetable=SIX_ON_DAY_B)
    said = words(change(data, "--no-school", on=TUESDAY))
    assert "The next school day, Wed 7 Oct, is day C." in said
    assert said.count("comes again on Thu 15 Oct") == 6
    assert letters(data, WEDNESDAY, THURSDAY, FRIDAY) == ["C", "D", "E"]


def test_where_days_are_announced_the_cycle_slides_until_somebody_says_otherwise(tmp_path: Path) -> None:
    data = reference_school(tmp_path, lost_day="announced", timetable=SIX_ON_DAY_B)
    said = words(change(data, "--no-school", on=TUESDAY))
    assert "Wed 7 Oct, is day B unless another one is announced" in said
    assert letters(data, WEDNESDAY, THURSDAY) == ["B", "C"]


def test_what_was_packed_for_a_snow_day_that_slides_is_not_asked_for_again(tmp_path: Path) -> None:
    data = reference_school(tmp_path, timetable=SIX_ON_DAY_B)
    tuesday = ("--date", TUESDAY, "--at", "6:00")
    lines = trundle("morning", "--json", *tuesday, data=data).fields["lines"]
    trundle("tick", *(str(line["number"]) for line in lines), *tuesday, data=data)
    change(data, "--no-school", on=TUESDAY)
    after = trundle("morning", "--json", "--date", WEDNESDAY, data=data).fields["lines"]
    assert {line["key"] for line in after} == {line["key"] for line in lines}
    assert {line["add"] for line in after if "folder" not in line["supply"]} == {0}


def test_a_lost_day_for_scripts(tmp_path: Path) -> None:
    data = reference_school(tmp_path, lost_day="fixed", timetable=SIX_ON_DAY_B)
    found = change(data, "--no-school", "--json", on=TUESDAY).fields
    assert (found["page"], found["day"], found["next_school_day"], found["next_day"]) == ("change", "", WEDNESDAY, "C")
    assert {each["next"] for each in found["visits_out"]} == {"2026-10-15"}
    assert len(found["visits_out"]) == 6
    assert found["lines"] == []  # whole containers stay as they are packed


def test_school_that_takes_place_after_all_brings_the_visits_back(tmp_path: Path) -> None:
    data = reference_school(tmp_path, timetable=SIX_ON_DAY_B)
    change(data, "--no-school", on=TUESDAY)
    found = change(data, "--school", "--json", on=TUESDAY).fields
    assert [each["class"] for each in found["visits_in"]] == ["1-P", "3-B", "3-K", "2-R", "4-D", "5-H"]
    assert letters(data, TUESDAY, WEDNESDAY) == ["B", "C"]


def test_a_week_without_a_cycle_goes_on_with_the_next_day_of_the_week(tmp_path: Path) -> None:
    said = words(change(small_school(tmp_path), "--no-school"))
    assert "2 visits are lost; no class moves on. What is packed" in said
    assert "The next school day is Tue 6 Oct." in said
    assert said.count("comes again on Thu 8 Oct") == 1
    assert said.count("comes again on Mon 12 Oct") == 1


# --------------------------------------------------------------------------- T03 the office says another letter


@pytest.mark.parametrize("lost_day", ["slides", "announced"])
def test_an_announced_letter_counts_from_that_day_on(tmp_path: Path, lost_day: str) -> None:
    data = reference_school(tmp_path, lost_day=lost_day)
    said = words(change(data, "--day", "c", on=THURSDAY, at="7:55"))
    assert "Thu 8 Oct: day C It is day C now." in said
    assert "The next school day, Fri 9 Oct, is day D" in said
    assert letters(data, WEDNESDAY, THURSDAY, FRIDAY, TUESDAY_13) == ["C", "C", "D", "E"]


def test_an_announced_letter_is_said_with_what_to_take_out_and_to_put_in(tmp_path: Path) -> None:
    """Day F has 3-K alone, day D both thirds: 54 yarn balls were packed, 25 and 3 spare are needed."""
    timetable = {"F": {"P3": "3-K"}, "D": {"P3": "3-B", "P4": "3-K", "P5": "5-H"}}
    data = reference_school(tmp_path, timetable=timetable)
    thursday = ("--date", THURSDAY, "--at", "7:30")
    lines = trundle("morning", "--json", *thursday, data=data).fields["lines"]
    yarn = next(line for line in lines if line["supply"] == "yarn-ball")
    trundle("tick", str(yarn["number"]), *thursday, data=data)

    out = change(data, "--day", "F", "--json", on=THURSDAY).fields
    moved = {each["key"]: (each["take_out"], each["put_in"]) for each in out["lines"]}
    assert moved["box-3/yarn-ball"] == (26, 0)
    assert out["containers_out"] == ["box-5"]

    back = change(data, "--day", "D", "--json", on=THURSDAY).fields
    moved = {each["key"]: (each["take_out"], each["put_in"]) for each in back["lines"]}
    assert moved["box-3/yarn-ball"] == (0, 0)  # nobody has taken them out yet
    assert moved["box-3/folder 3-B"] == (0, 1)
    assert moved["box-5/base-12x18"] == (0, 30)
    assert back["containers_in"] == ["box-5"]


# ------------------------------------------------------------------------------------- T04 a two-hour delay


def test_a_delayed_bell_drops_two_visits_and_says_which_parts_are_too_long(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    found = change(data, "--bells", "two hours later", "--json").fields
    assert [(each["class"], each["next"]) for each in found["visits_out"]] == [
        ("K-M", "2026-10-14"),
        ("1-P", "2026-10-14"),
    ]
    assert {"box-K", "box-1", "watercolour"} <= set(found["containers_out"])
    assert found["slots_free"] == 2.5  # 4, less Box 3 and the Stitching kit
    times = {each["class"]: (each["start"], each["end"]) for each in found["other_times"]}
    assert times["3-B"] == ("10:00", "10:30")
    short = [each for each in found["decisions"] if "needs 35 min, the period has 30: short 5" in each["text"]]
    assert [each["visit"][3:] for each in short] == ["3-B", "3-K", "2-R", "4-D", "5-H"]
    assert not any(each["stops"] for each in short)


def test_nothing_critical_of_a_dropped_visit_is_open(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said = words(change(data, "--bells", "two"))
    assert "5 half slots of the cart free for the morning's load." in said
    assert "Leave the store by 9:52." in said
    assert "have other numbers now" in said
    lines = on_monday("morning", "--json", data=data).fields["lines"]
    assert not [line for line in lines if any("K-M" in visit or "1-P" in visit for visit in line["visits"])]


def test_a_visit_that_was_reported_before_it_fell_out_is_said(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    on_monday("report", "V1", "--as-planned", data=data, at="8:50")
    said = words(change(data, "--bells", "two", at="9:00"))
    assert "V1 K-M was reported already (done)" in said


# ------------------------------------------------------------------------------------- T06 a class is away


def test_a_class_that_is_away_takes_its_yarn_out_and_leaves_the_needles(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    packed_yarn(data)
    found = change(data, "--away", "3-b", "--json", at="7:41").fields
    lines = {each["key"]: each for each in found["lines"]}
    yarn = lines["box-3/yarn-ball"]
    assert (yarn["need_before"], yarn["need"], yarn["has"], yarn["take_out"]) == (54, 28, 54, 26)
    assert "stitching/blunt-needle" not in lines
    assert monday_lines(data)["blunt-needle"]["need"] == 27
    assert [each["class"] for each in found["visits_out"]] == ["3-B"]


def test_what_to_take_out_is_said_in_words(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    packed_yarn(data)
    said = words(change(data, "--away", "3-B", at="7:41"))
    assert "Box 3: 26 yarn ball, 6 yd (28 are needed)" in said
    assert "Box 3: no class folder 3-B" in said


def test_what_was_not_packed_yet_is_only_needed_less(tmp_path: Path) -> None:
    said = words(change(reference_school(tmp_path), "--away", "3-B"))
    assert "TAKE OUT" not in said
    assert "28 yarn ball, 6 yd instead of 54" in said


def test_a_class_that_comes_after_all_is_put_in_again(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    change(data, "--away", "3-B")
    packed_yarn(data)
    said = words(change(data, "--away", "none", at="7:45"))
    assert "PUT IN" in said
    assert "Box 3: 1 class folder 3-B; 26 yarn ball, 6 yd (need 54, has 28)" in said


def test_the_classes_away_are_always_all_that_are_away(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    change(data, "--away", "3-B,K-M")
    found = change(data, "--away", "3-K", "--json").fields
    assert [each["class"] for each in found["visits_in"]] == ["K-M", "3-B"]
    assert [each["class"] for each in found["visits_out"]] == ["3-K"]


# ------------------------------------------------------------------------------------------ T21 a substitute


def test_a_substitute_gets_the_lesson_that_always_works_and_no_class_moves_on(tmp_path: Path) -> None:
    """No sharps, no clay, no ink: leaf rubbings are paper and crayons."""
    data = reference_school(tmp_path, school={"habits": {"filler": "leaf-rubbings"}})
    said = words(change(data, "--substitute", "yes"))
    assert "A substitute teaches Leaf Rubbings in every visit; no class moves on." in said
    lines = on_monday("morning", "--json", data=data).fields["lines"]
    assert not [line["name"] for line in lines if line["counted"]]
    assert not {"clay-portion", "block-ink-tube", "fish-brush"} & {line["supply"] for line in lines}
    assert {"white-9x12", "crayon-set"} <= {line["supply"] for line in lines}

    for visit in range(1, 8):
        on_monday("report", f"V{visit}", "--as-planned", data=data, at="15:00")
    on_monday("close", data=data, at="15:10")
    visits = trundle("morning", "--json", "--date", "2026-10-14", data=data).fields["visits"]
    steps = {each["class"]: each["steps"] for each in visits}
    assert steps["3-B"] == [{"lesson": "burlap-birds", "part": 2}]
    assert steps["5-H"] == [{"lesson": "paper-masks", "part": 2}]


def test_without_a_lesson_for_substitutes_it_says_how_to_name_one(tmp_path: Path) -> None:
    said = words(change(reference_school(tmp_path), "--substitute", "yes"))
    assert "There is no lesson for a substitute" in said
    assert "filler" in said


# ------------------------------------------------------------------------------------ undo, and what is refused


def test_undo_takes_a_change_back_and_says_what_it_was(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    change(data, "--away", "3-B")
    undone = on_monday("undo", data=data)
    assert "Taken back: the day changed: 3-B away" in undone.out
    assert monday_lines(data)["yarn-ball"]["need"] == 54


def test_a_day_called_lost_this_morning_is_undone_without_saying_the_date(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = reference_school(tmp_path, timetable=SIX_ON_DAY_B)
    tuesday_morning = datetime(2026, 10, 6, 6, 10)
    assert run(parse(["change", "--no-school", "--data", str(data)], tuesday_morning)) == 0
    assert run(parse(["undo", "--data", str(data)], tuesday_morning)) == 0
    assert "Taken back: the day changed: no school" in capsys.readouterr().out
    assert letters(data, TUESDAY, WEDNESDAY) == ["B", "C"]


def test_a_later_change_keeps_what_an_earlier_one_said_of_other_things(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    change(data, "--away", "5-H")
    change(data, "--bells", "two")
    found = on_monday("morning", "--json", data=data).fields
    assert [each["class"] for each in found["visits"]] == ["3-B", "3-K", "2-R", "4-D"]


def test_a_day_that_was_closed_is_corrected_and_the_days_after_follow(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    for visit in range(1, 8):
        on_monday("report", f"V{visit}", "--as-planned", data=data, at="15:00")
    on_monday("close", data=data, at="15:10")
    change(data, "--away", "3-B", at="15:20")
    visits = trundle("morning", "--json", "--date", "2026-10-14", data=data).fields["visits"]
    steps = {each["class"]: each["steps"][0]["part"] for each in visits if each["class"].startswith("3")}
    assert steps == {"3-B": 2, "3-K": 3}
    assert trundle("check", data=data).status == 0


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("--day", "G"), "The days are A, B, C, D, E and F"),
        (("--bells", "tow hours later"), "Did you mean two hours later?"),
        (("--bells", "early"), "There are regular and two hours later"),
        (("--away", "3-Q"), "Did you mean 3-"),
        (("--away", "3-B,elephants"), "There is no class elephants in the plan. The classes are K-M"),
        (("--substitute", "maybe"), "neither yes nor no"),
        (("--no-school", "--school"), "cannot both be said"),
        (("--no-school", "--day", "C"), "Give --no-school alone"),
        ((), "Say what is different about Mon 5 Oct"),
        (("--days", "C"), "Did you mean --day?"),
        (("C",), "C has no meaning behind trundle change"),
    ],
)
def test_a_change_that_cannot_be_is_said_and_nothing_noted(tmp_path: Path, typed: tuple[str, ...], told: str) -> None:
    data = reference_school(tmp_path)
    ran = on_monday("change", *typed, data=data)
    assert ran.status == 2
    assert told in ran.err
    assert "nothing to undo" in on_monday("undo", data=data).out


def test_a_day_off_of_the_plan_cannot_be_changed(tmp_path: Path) -> None:
    ran = trundle("change", "--no-school", "--date", "2026-10-12", data=reference_school(tmp_path))
    assert ran.status == 2
    assert "Mon 12 Oct is no school day in the plan (holiday)" in ran.err


def test_on_a_lost_day_only_school_can_be_said(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    change(data, "--no-school")
    ran = on_monday("change", "--bells", "two", data=data)
    assert ran.status == 2
    assert "say --school as well" in ran.err
    assert words(change(data, "--school", "--bells", "two")).startswith("Mon 5 Oct: school takes place, bells two")


def test_a_day_of_the_week_may_be_announced_by_its_name(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    said = words(change(data, "--day", "Monday", on=TUESDAY))
    assert "COMES IN" in said
    assert [visit["class"] for visit in _tuesday(data)["visits"]] == ["3-B", "3-K"]  # type: ignore[attr-defined]
    ran = on_monday("change", "--day", "Saturday", data=data)
    assert "The days are Mon, Tue, Wed, Thu and Fri" in ran.err


def _tuesday(data: Path) -> dict[str, object]:
    return trundle("morning", "--json", "--date", TUESDAY, data=data).fields


@pytest.mark.parametrize("typed", [("change", "--no-school"), ("count", "yarn", "ball", "40")])
def test_while_another_window_writes_nothing_is_changed(tmp_path: Path, typed: tuple[str, ...]) -> None:
    data = reference_school(tmp_path)
    book = opened(data)
    try:
        ran = on_monday(*typed, data=data)
        assert ran.status == 2
        assert "Another window" in ran.err
    finally:
        book.release()
    assert on_monday("morning", "--json", data=data).fields["school_day"]
    assert "nothing to undo" in on_monday("undo", data=data).out
