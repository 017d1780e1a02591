"""Why is it there, on the command line: by number and by words, for every kind of thing, for people and scripts."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commandline.running import on_monday, trundle
from tests.packing_schools import school_after_pompon_mice, school_one_adult_short, school_that_avoids_latex
from tests.schools import FRIDAY_BEFORE, in_the_evening, reference_school, small_school

WHY = "format page date kind thing how reasons change private_left_out"


def words(text: str) -> str:
    """The text without its line breaks."""
    return " ".join(text.split())


def test_the_sum_the_contents_and_the_place_to_change_it(tmp_path: Path) -> None:
    ran = on_monday("why", "white", "paper", data=small_school(tmp_path))
    assert ran.status == 0
    told = words(ran.out)
    assert (
        "Needed today: 51. V1 3-B takes 24 and V2 3-K 22, which add up to 46; 5 more are spare or in reserve." in told
    )
    assert "In it: 0; 51 to add." in told
    assert "lessons/paper-hills.toml" in told and "school.toml" in told


@pytest.mark.parametrize("typed", ["choice bin", "green strips V1", "no time for the store"])
def test_checks_tasks_and_cautions_are_found_by_their_words(tmp_path: Path, typed: str) -> None:
    ran = on_monday("why", *typed.split(), data=small_school(tmp_path))
    assert ran.status == 0, ran.err
    assert typed.removesuffix(" V1") in words(ran.out).casefold()


def test_a_rule_is_told_by_its_name_with_its_source(tmp_path: Path) -> None:
    ran = on_monday("why", "no", "time", "for", "the", "store", data=small_school(tmp_path))
    assert "Rule: No time for the store" in ran.out
    assert "Where that comes from: " in ran.out
    assert "can be switched off" in words(ran.out)


def test_what_must_be_decided_tells_its_ways_out_and_is_answered_by_words(tmp_path: Path) -> None:
    data = school_one_adult_short(tmp_path)
    morning = on_monday("morning", data=data)
    assert morning.status == 1
    assert 'trundle answer "V1 3-B This part needs" "teach Rubbings"' in morning.out
    assert "a second adult is there" in words(on_monday("why", "two", "adults", "3-B", data=data).out)
    assert on_monday("answer", "V1 3-B This part needs", "teach Rubbings", data=data).status == 0
    fields = on_monday("morning", "--json", data=data).fields
    assert [each["visit"] for each in fields["decisions"]] == ["P2 3-K"]
    assert on_monday("leaving", "--json", data=data).fields["matters"][0]["section"] == "Decide"
    leaving = on_monday("leaving", data=data)
    assert leaving.status == 1
    assert "V2 3-K: This part needs two adults" in words(leaving.out) and 'trundle answer "' in leaving.out
    assert on_monday("undo", data=data).status == 0
    assert len(on_monday("morning", "--json", data=data).fields["decisions"]) == 2


def test_what_must_not_come_along_says_what_to_use_and_why_only_where_it_was_asked_for(tmp_path: Path) -> None:
    data = school_that_avoids_latex(tmp_path)
    public, private = on_monday("why", "rubber", data=data), on_monday("why", "rubber", "--private", data=data)
    assert "Use cotton tie instead." in public.out
    assert "avoids" not in public.out and "avoids" in private.out


def test_words_of_several_things_are_answered_with_their_numbers(tmp_path: Path) -> None:
    ran = on_monday("why", "class", "folder", data=reference_school(tmp_path))
    assert ran.status == 2
    assert "things have the words class folder" in ran.err
    assert ran.err.count("class folder 3-") >= 1


def test_words_that_nothing_has_are_told(tmp_path: Path) -> None:
    ran = on_monday("why", "hippopotamus", data=small_school(tmp_path))
    assert ran.status == 2
    assert "hippopotamus" in ran.err


def test_scripts_get_the_same_in_fields_for_every_kind(tmp_path: Path) -> None:
    data = school_after_pompon_mice(tmp_path)
    for typed, kind in (("white paper", "line"), ("take out", "take out"), ("choice bin", "check")):
        fields = on_monday("why", *typed.split(), "--json", data=data).fields
        assert set(WHY.split()) <= set(fields)
        assert fields["kind"] == kind
        assert fields["how"]
    assert on_monday("why", "no", "time", "--json", data=data).fields["reasons"][0]["source"]


def test_a_carried_matter_says_since_when_and_why(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    scissors = next(each for each in on_monday("morning", "--json", data=data).fields["lines"] if each["counted"])
    on_monday("tick", str(scissors["number"]), data=data)
    assert trundle("close", "--date", "2026-10-05", "--at", "15:00", data=data).status == 0
    ran = trundle("why", "not", "counted", "back", "3-B", "--date", "2026-10-06", data=data)
    assert ran.status == 0, ran.err
    assert "Carried over since Mon 5 Oct, 1 school day ago" in words(ran.out)
    assert "nobody has said how many came back" in words(ran.out)


# --------------------------------------------------------------------------------------- take out, put in, leave


def test_a_container_says_what_to_take_out_to_put_in_and_to_leave(tmp_path: Path) -> None:
    data = school_after_pompon_mice(tmp_path)
    ran = on_monday("changeover", data=data)
    assert ran.status == 0
    out, put_in, leave = (ran.out.index(each) for each in ("TAKE OUT", "PUT IN", "LEAVE"))
    assert out < ran.out.index("38 pompon → shelf Y1") < put_in < ran.out.index("51 white paper 12x18") < leave
    assert max(map(len, ran.out.splitlines())) <= 80


def test_what_stays_says_for_which_class(tmp_path: Path) -> None:
    contents = {"box-3": {"yarn-ball": 38}, "cart": {"scissors": 30}}
    data = in_the_evening(reference_school(tmp_path), FRIDAY_BEFORE, contents=contents)
    fields = on_monday("changeover", "box", "3", "--json", data=data).fields
    box = fields["containers"][0]
    staying = {each["supply"]: each for each in box["leave"]}
    assert staying["yarn-ball"]["count"] == 38
    assert any("3-B today" in whom for whom in staying["yarn-ball"]["for"])
    assert {"container", "name", "take_out", "forbidden", "put_in", "leave"} <= set(box)


def test_nothing_to_take_out_is_said(tmp_path: Path) -> None:
    assert "Nothing has to be taken out" in on_monday("changeover", data=small_school(tmp_path)).out


def test_what_is_taken_out_is_ticked_by_its_number_and_undone(tmp_path: Path) -> None:
    data = school_after_pompon_mice(tmp_path)

    def pompons() -> dict[str, int]:
        return {each["supply"]: each["left"] for each in on_monday("morning", "--json", data=data).fields["take_out"]}

    number = str(on_monday("morning", "--json", data=data).fields["take_out"][0]["number"])
    assert on_monday("tick", number, "--count", "20", data=data).status == 0
    assert pompons() == {"pompon": 18}
    assert on_monday("tick", number, "--count", "19", data=data).status == 2
    assert on_monday("tick", number, data=data).status == 0
    assert pompons() == {"pompon": 0}
    assert on_monday("tick", number, data=data).status == 2
    on_monday("undo", data=data)
    on_monday("undo", data=data)
    assert pompons() == {"pompon": 38}
    assert on_monday("tick", number, "--not-needed", "not today", data=data).status == 0
    assert pompons() == {"pompon": 0}


def test_a_whole_container_takes_nothing_out_and_says_what_is_left_to_take(tmp_path: Path) -> None:
    data = school_after_pompon_mice(tmp_path)
    ran = on_monday("tick", "box-3", "--all", data=data)
    assert "1 thing still to take out: trundle tick" in ran.out
    assert on_monday("morning", "--json", data=data).fields["take_out"][0]["left"] == 38


def test_taking_out_what_must_not_come_along_empties_the_box(tmp_path: Path) -> None:
    data = school_that_avoids_latex(tmp_path)
    lines = {each["supply"]: each for each in on_monday("morning", "--json", data=data).fields["lines"]}
    assert lines["rubber-band"]["critical"]
    assert on_monday("morning", data=data).status == 1
    number = str(lines["rubber-band"]["number"])
    assert on_monday("tick", number, data=data).status == 2
    assert on_monday("tick", number, "--not-needed", "other", data=data).status == 0
    after = {each["supply"]: each for each in on_monday("morning", "--json", data=data).fields["lines"]}
    assert (after["rubber-band"]["state"], after["rubber-band"]["has"]) == ("not needed", 0)
