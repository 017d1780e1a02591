"""Rules by command: shown, made, tried, switched off and on, numbers set. Common practice, no source."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.commandline.running import Ran, monday_lines, on_monday, trundle
from tests.schools import small_school


def rules_file(data: Path) -> str:
    return (data / "rules.toml").read_text(encoding="utf-8") if (data / "rules.toml").exists() else ""


def with_own(folder: Path) -> Path:
    own = {"id": "own", "title": "A yarn ball each", "when": ["lesson is paper-hills"], "because": "they like it"}
    return small_school(folder, rules={"rules": [{**own, "add": [{"supply": "yarn-ball", "per": "student"}]}]})


# -------------------------------------------------------------------------------------------------- looking


def test_rules_are_shown_by_subject_with_what_is_on_and_off(tmp_path: Path) -> None:
    ran = trundle("rules", data=with_own(tmp_path))
    assert (ran.status, ran.err) == (0, "")
    own, rooms = ran.out.index("Your own ---"), ran.out.index("Rooms ---")
    assert own < rooms
    assert "+  own                            A yarn ball each" in ran.out
    assert "-  first-things" in ran.out
    assert "+! count-sharps" in ran.out
    assert max(len(row) for row in ran.out.splitlines()) <= 80


def test_one_rule_in_full(tmp_path: Path) -> None:
    ran = trundle("rules", "--why", "yarn ball each", data=with_own(tmp_path))
    assert ran.out.splitlines()[:2] == ["A yarn ball each", "  own (your own rule)"]
    assert "Counts for the lesson Paper Hills" in ran.out
    assert "It     adds yarn ball, 1 per child" in ran.out
    assert "Why    they like it" in ran.out


def test_a_safety_rule_in_full_defers_to_local_rules(tmp_path: Path) -> None:
    ran = trundle("rules", "--why", "count-sharps", data=small_school(tmp_path))
    assert "local rules, the nurse and the building's safety person decide" in ran.out


def test_every_rule_that_comes_along_can_be_told_in_full(tmp_path: Path) -> None:
    """No condition and no action is left without words: nothing empty, no brackets of the program's own."""
    fields = trundle("rules", "--json", data=small_school(tmp_path)).fields
    assert (fields["format"], fields["page"]) == (1, "rules")
    assert len(fields["rules"]) > 50
    for rule in fields["rules"]:
        assert rule["asks"]
        assert rule["does"]
        assert all(rule["does"])
        assert not any(sign in " ".join([rule["asks"], *rule["does"]]) for sign in ("item is", "Add(", "None"))


def test_the_numbers_that_rules_go_by_are_shown_with_what_they_mean(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert "towels_a_child" in trundle("rules", "--settings", data=data).out
    fields = trundle("rules", "--settings", "--json", data=data).fields["settings"]
    assert {"name", "value", "builtin", "meaning", "least", "most", "whole", "source"} == set(fields[0])


# --------------------------------------------------------------------------------------------------- making


def test_a_rule_is_tried_first_and_nothing_is_written(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = on_monday("rule", "add", "yarn", "ball", "2", "--per", "table", "--class", "3-b", "--try", data=data)
    assert (ran.status, ran.err) == (0, "")
    assert "Yarn ball: 2 per table for class 3-B" in ran.out
    assert "Only tried: nothing was written." in " ".join(ran.out.split())
    assert "Mon 5 Oct, Box 3: 12 yarn ball, new (V1 3-B)" in ran.out
    assert rules_file(data) == ""
    assert "yarn-ball" not in monday_lines(data)


def test_a_rule_is_made_and_on_the_list_and_taken_out_again(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = on_monday("rule", "add", "yarn-ball", "2", "--per", "table", "--class", "3-B", "--critical", data=data)
    assert "Its id: yarn-ball-for-3-b." in ran.out
    assert 'source = "your own rule, Mon 5 Oct 2026"' in rules_file(data)
    line = monday_lines(data)["yarn-ball"]
    assert (line["need"], line["critical"], line["visits"]) == (12, True, ["P1 3-B"])
    assert "yarn-ball-for-3-b" in trundle("rules", "--own", data=data).out
    assert on_monday("rule", "remove", "yarn-ball-for-3-b", data=data).status == 0
    assert "yarn-ball" not in monday_lines(data)


def test_a_thing_for_each_child_with_a_need_is_on_the_list_and_its_reason_private(tmp_path: Path) -> None:
    data = small_school(tmp_path, needs=[{"need": "fine-motor", "count": 3}])
    ran = on_monday("rule", "add", "yarn-ball", "2", "--per", "need", "--need", "fine motor", data=data)
    assert ran.status == 0
    assert "V1 3-B" not in ran.out
    assert monday_lines(data)["yarn-ball"]["need"] == 6
    assert monday_lines(data)["yarn-ball"]["because"] == []


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("scissors", "when something is along that is: scissors of any kind"),
        ("not scissors", "when nothing is along that is: scissors of any kind"),
        ("yarn-ball", "when something is along that is: yarn ball"),
        ("fine-motor", "when a child has a need: fine motor skills"),
        ("latex", "when something is along that is: balloons, rubber bands"),
        ("wool", "when something is along that is: wool"),
        ("first part", "when it is the first part"),
        ("not sink", "when the room is not known to have a sink"),
        ("students at least 20", "with at least 20 children"),
    ],
)
def test_a_time_is_understood_as_she_says_it(tmp_path: Path, typed: str, said: str) -> None:
    ran = on_monday("rule", "add", "glue-stick", "--when", typed, "--try", data=small_school(tmp_path))
    assert said in " ".join(ran.out.split())


def test_what_is_never_to_come_along_is_forbidden_on_the_list(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("rule", "never", "glue", "stick", "--grade", "up to 3", "--reason", "they dried out", data=data)
    assert monday_lines(data)["glue-stick"]["forbidden"]


def test_more_to_spare_is_on_the_list(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("rule", "spare", "white-12x18", "9", "--lesson", "Paper Hills", data=data)
    assert monday_lines(data)["white-12x18"]["need"] == 46 + 9


def test_a_rule_made_for_scripts(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    fields = on_monday("rule", "add", "yarn-ball", "--class", "3-B", "--json", "--try", data=data).fields
    assert (fields["page"], fields["id"], fields["written"]) == ("rule", "yarn-ball-for-3-b", False)
    preview = fields["preview"]
    assert preview["lines"][0] == {
        "date": "2026-10-05",
        "what": "added",
        "container": "Box 3",
        "supply": "yarn-ball",
        "name": "yarn ball",
        "before": 0,
        "after": 1,
        "visits": ["V1 3-B"],
    }
    assert (preview["school_days"], preview["first_later"]) == (10, None)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("rule", "ad", "yarn-ball"), "Did you mean trundle rule add?"),
        (("rule", "add", "yarnbal"), "Did you mean yarn-ball?"),
        (("rule", "add", "yarn-ball", "--when", "wett"), 'Did you mean "wet"?'),
        (("rule", "add", "yarn-ball", "--class", "3-C"), "Did you mean 3-"),
        (("rule", "add", "yarn-ball", "--lesson", "paper-hill"), "Did you mean paper-hills?"),
        (("rule", "add", "yarn-ball", "--need", "fine-moter"), 'Did you mean "fine-motor"?'),
        (("rule", "add", "yarn-ball", "--grade", "ninth"), "is no grade"),
        (("rule", "add", "yarn-ball", "--per", "row"), "is not one of student, pair, table, class, lesson or need"),
        (("rule", "add", "yarn-ball", "0"), "adds nothing"),
        (("rule", "add", "yarn-ball", "--per", "need"), "Say which need"),
        (("rule", "spare", "yarn-ball"), "Say how many to spare"),
        (("rule", "never", "yarn-ball", "--critical"), "--critical has no meaning with trundle rule never"),
        (("rule", "add", "yarn-ball", "--until", "2026-11-01"), "--until has no meaning with trundle rule add"),
        (("rule", "off", "count-sharp", "--class", "3-B"), "safety rule: say with --reason"),
        (("rule", "off", "no-such-thing"), "There is no rule called no-such-thing"),
        (("rule", "off", "choice-bim"), "Did you mean choice-bin?"),
        (("rule", "off", "choice-bin", "--until", "2026-10-01"), "is over already"),
        (("rule", "on", "choice-bin"), "is on already"),
        (("rule", "remove", "choice-bin"), "trundle rule off choice-bin"),
        (("rule", "add"), "a supply"),
        (("set", "towels_a_chid", "2"), "Did you mean towels_a_child?"),
        (("set", "towels_a_child", "many"), "is no number"),
        (("set", "towels_a_child", "99999"), "99999 cannot be"),
        (("rules", "--own", "--off"), "are two pages"),
        (("rules", "--why", "sharps"), "Say which"),
    ],
)
def test_what_is_not_understood_is_said_and_nothing_is_written(
    tmp_path: Path, typed: tuple[str, ...], told: str
) -> None:
    data = small_school(tmp_path)
    ran = on_monday(*typed, data=data)
    assert (ran.status, ran.out) == (2, "")
    assert told in ran.err
    assert "Traceback" not in ran.err
    assert rules_file(data) == ""


# ------------------------------------------------------------------------------------------------ off and on


def test_a_rule_is_switched_off_for_a_class_until_a_date_and_on_again(tmp_path: Path) -> None:
    data = with_own(tmp_path)
    before = rules_file(data)
    ran = on_monday("rule", "off", "own", "--class", "3-B", "--until", "2026-10-30", data=data)
    assert "A yarn ball each: off for class 3-B until Fri 30 Oct." in ran.out
    assert "Mon 5 Oct, Box 3: yarn ball 46 -> 22 (V2 3-K)" in ran.out
    assert monday_lines(data)["yarn-ball"]["visits"] == ["P2 3-K"]
    off = on_monday("rules", "--off", data=data).out
    assert "off since Mon 5 Oct 2026 for class 3-B, until Fri" in off
    assert on_monday("rule", "on", "own", "--class", "3-B", data=data).status == 0
    assert monday_lines(data)["yarn-ball"]["visits"] == ["P1 3-B", "P2 3-K"]
    assert rules_file(data).rstrip() == before.rstrip()


def test_switched_off_twice_for_the_same_is_said(tmp_path: Path) -> None:
    data = with_own(tmp_path)
    on_monday("rule", "off", "own", data=data)
    written = rules_file(data)
    assert "is off for every class already" in on_monday("rule", "off", "own", data=data).err
    assert rules_file(data) == written


def test_of_several_switchings_off_the_one_that_is_meant_is_to_be_said(tmp_path: Path) -> None:
    data = with_own(tmp_path)
    for class_id in ("3-B", "3-K"):
        on_monday("rule", "off", "own", "--class", class_id, data=data)
    ran = on_monday("rule", "on", "own", data=data)
    assert ran.status == 2
    assert "for class 3-B" in ran.err
    assert "for class 3-K" in ran.err


def test_a_safety_rule_is_off_with_its_reason_which_is_listed(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = on_monday("rule", "off", "count-sharps", "--reason", "the aide counts", data=data)
    assert ran.status == 0
    assert "check less: Count out, count back" in ran.out
    fields = on_monday("rules", "--off", "--json", data=data).fields
    assert fields["off"][0] == {
        "rule": "count-sharps",
        "title": "Count what is sharp",
        "class": "",
        "lesson": "",
        "since": "2026-10-05",
        "until": None,
        "reason": "the aide counts",
        "safety": True,
        "over": False,
        "comes_off": False,
    }


def test_a_rule_that_comes_switched_off_is_used_and_not_used_again(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert on_monday("rule", "on", "first-things", data=data).status == 0
    assert "+  first-things" in trundle("rules", data=data).out
    assert on_monday("rule", "off", "first-things", data=data).status == 0
    assert "-  first-things" in trundle("rules", data=data).out


def test_that_a_rule_about_a_need_is_off_for_a_class_is_shown_only_where_asked_for(tmp_path: Path) -> None:
    own = {
        "id": "own",
        "title": "Soft grips",
        "when": ["need fine-motor"],
        "because": "x",
        "add": [{"supply": "yarn-ball"}],
    }
    off = [{"rule": "own", "class_id": "3-B", "reason": "no. 4 has her own"}]
    data = small_school(tmp_path, needs=[{"need": "fine-motor"}], rules={"rules": [own], "off": off})
    for typed in (("rules", "--off"), ("rules", "--why", "own"), ("rules", "--off", "--json"), ("rules", "--json")):
        assert "no. 4" not in on_monday(*typed, data=data).out
    assert "1 entry left out as private" in on_monday("rules", "--off", data=data).out
    assert "no. 4 has her own" in on_monday("rules", "--off", "--private", data=data).out


# -------------------------------------------------------------------------------------------------- numbers


def test_a_number_is_set_and_put_back_and_the_file_is_else_as_it_was(tmp_path: Path) -> None:
    data = with_own(tmp_path)
    before = rules_file(data)
    ran = on_monday("set", "towels-a-child", "3", data=data)
    assert (ran.status, ran.err) == (0, "")
    assert "towels_a_child: 1.5 -> 3." in ran.out
    assert rules_file(data).startswith(before)
    settings = {each["name"]: each for each in trundle("rules", "--settings", "--json", data=data).fields["settings"]}
    assert (settings["towels_a_child"]["value"], settings["towels_a_child"]["builtin"]) == (3, 1.5)
    assert on_monday("set", "towels_a_child", "built-in", data=data).status == 0
    settings = {each["name"]: each for each in trundle("rules", "--settings", "--json", data=data).fields["settings"]}
    assert settings["towels_a_child"]["value"] == 1.5


def test_a_number_is_only_tried(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert "Only tried" in on_monday("set", "towels_a_child", "3", "--try", data=data).out
    assert rules_file(data) == ""


# ---------------------------------------------------------------------------------------------------- check


def check(data: Path, *typed: str) -> Ran:
    return trundle("check", *typed, data=data)


def test_check_notes_a_rule_that_can_never_apply_and_is_content_all_the_same(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("rule", "add", "yarn-ball", "--grade", "5", data=data)
    ran = check(data)
    assert ran.status == 0
    assert "It can never apply: no class is of such a grade" in " ".join(ran.out.split())
    found: dict[str, Any] = json.loads(check(data, "--json").out)
    assert [(each["entry"], each["level"]) for each in found["problems"]] == [("rule yarn-ball-grade-is-5", "note")]


def test_check_says_all_is_well_of_rules_that_do_something(tmp_path: Path) -> None:
    assert "All is well" in check(with_own(tmp_path)).out


def test_what_a_rule_for_a_need_would_change_is_not_told_in_public(tmp_path: Path) -> None:
    data = small_school(tmp_path, needs=[{"need": "asthma"}])
    words = ("rule", "add", "yarn-ball", "2", "--need", "asthma", "--try")
    public = on_monday(*words, data=data).out
    assert "3-B" not in public
    assert "left out as private" in public
    assert "3-B" in on_monday(*words, "--private", data=data).out
