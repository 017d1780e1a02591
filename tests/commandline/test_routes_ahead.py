"""`trundle route --ahead` and `--year`: the days there is something to see to, and what would help over the year."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tests.commandline.running import trundle
from tests.schools import Entry, reference_school

AT = ("--date", "2026-10-05", "--at", "7:41")
"""The clock stands on that date as well, so that the year begins there."""


def school(folder: Path, half_slots: int) -> Path:
    cart: dict[str, Entry] = {"cart": {"half_slots": half_slots, "standing": {"scissors": 30}}}
    return reference_school(folder, school=cart)


def test_a_day_to_see_to_is_told_in_what_to_do(tmp_path: Path) -> None:
    """With 4 half slots and 10 minutes before school: see tests/route/test_coming.py for the numbers."""
    ran = trundle("route", "--ahead", *AT, data=school(tmp_path, 4))
    assert (ran.status, ran.err) == (0, "")
    assert all(len(row) <= 80 for row in ran.out.splitlines())
    assert "1 day with visits, 1 to see to" in ran.out
    assert "Mon 5 Oct, day A" in ran.out
    assert "Before school leave Box" in ran.out
    assert "In the break after V4 3-K leave" in ran.out
    assert "Go by the store between V2 1-P and V3 3-B: 5 min." in ran.out
    assert "V2 1-P begins 1 min late, unless V1 K-M ends at 8:44." in ran.out
    assert "V6 4-D begins 4 min late, unless V5 2-R ends at 13:11." in ran.out
    assert "trundle route --date 2026-10-05" in ran.out
    in_order = ("Before school", "V2 1-P begins", "Go by the store", "In the break", "V6 4-D begins")
    places = [ran.out.index(each) for each in in_order]
    assert places == sorted(places)


def test_at_ten_past_three_today_is_over_and_the_next_days_are_told(tmp_path: Path) -> None:
    """V7 ends at 14:50; the next day A is Wed 14 Oct."""
    data = school(tmp_path, 4)
    at_the_end = ("--date", "2026-10-05", "--at", "15:10")
    assert "Mon 5 Oct" not in trundle("route", "--ahead", *at_the_end, data=data).out
    assert trundle("route", "--ahead", "--json", *at_the_end, data=data).fields["date"] == "2026-10-14"
    assert trundle("route", "--ahead", "--json", *AT, data=data).fields["date"] == "2026-10-05"


def test_the_coming_days_and_the_year_begin_at_the_day_that_is_asked_for_whatever_the_clock(tmp_path: Path) -> None:
    data = school(tmp_path, 4)
    for what in ("--ahead", "--year"):
        by_the_clock = trundle("route", what, "--date", "2026-10-05", data=data)
        assert by_the_clock.out == trundle("route", what, *AT, data=data).out
        assert by_the_clock.out.startswith("ROUTES  Mon 5 Oct")


def test_where_a_day_does_not_fit_the_status_is_1_and_it_says_what_would_help(tmp_path: Path) -> None:
    data = school(tmp_path, 2)
    ran = trundle("route", "--ahead", *AT, data=data)
    assert ran.status == 1
    assert "Not everything fits on the cart: V3 3-B alone needs 1 half slot more." in ran.out
    assert "What would help: " in ran.out
    (day,) = trundle("route", "--ahead", "--json", *AT, data=data).fields["days"]
    assert day["fits"] is False
    assert day["help"]["kind"] in ("carried", "may be left", "minutes", "half slots")


def test_with_json_the_coming_days_have_visits_by_key(tmp_path: Path) -> None:
    found = trundle("route", "--ahead", "--json", *AT, data=school(tmp_path, 4)).fields
    assert (found["page"], found["date"], found["last"]) == ("routes ahead", "2026-10-05", "2026-10-05")
    assert found["well"] == 0
    (day,) = found["days"]
    assert day["late"] == [
        {"visit": "P2 1-P", "minutes": 1, "by_store": False},
        {"visit": "P6 4-D", "minutes": 4, "by_store": False},
    ]
    assert day["stops"] == [{"after": "P2 1-P", "before": "P3 3-B", "minutes": 5}]
    assert [each["after"] for each in day["ahead"]] == [None, "P4 3-K", "P4 3-K"]
    assert day["help"] is None


def test_the_year_is_a_table_and_sentences_and_says_that_it_takes_a_while(tmp_path: Path) -> None:
    ran = trundle("route", "--year", *AT, data=school(tmp_path, 4))
    assert ran.status == 0
    assert ran.err == "Going through the year takes some seconds.\n"
    assert all(len(row) <= 80 for row in ran.out.splitlines())
    rows = [row for row in ran.out.splitlines() if row[:1].isdigit()]
    assert [row[:28].strip() for row in rows] == [
        "4 half slots, as it is",
        "6 half slots",
        "2 half slots",
        "2 min more before school",
        "2 min more between bells",
    ]
    assert "2 min more before school for leaving things ahead: changes nothing." in ran.out


def test_the_years_json_has_the_same_numbers_as_its_table(tmp_path: Path) -> None:
    data = school(tmp_path, 4)
    ran = trundle("route", "--year", "--json", *AT, data=data)
    found = ran.fields
    assert ran.err == ""  # for scripts: nothing beside the object
    shown = trundle("route", "--year", *AT, data=data).out
    assert found["half_slots"] == 4
    rows = [row[28:].split() for row in shown.splitlines() if row[:1].isdigit()]
    assert rows == [[str(each[name]) for name in ("not_fitting", "late", "stops", "ahead")] for each in found["tried"]]
    assert in_words(found["tried"][1]) in shown


def in_words(tried: dict[str, Any]) -> str:
    """The first change, one slot more, where it takes stops and boxes left ahead away."""
    more = tried["more"]
    assert more["late"] == more["not_fitting"] == 0
    return f"2 half slots more (6 half slots): {-more['stops']} stop fewer, {-more['ahead']} fewer left ahead."


def test_the_coming_days_and_the_year_are_asked_for_one_by_one(tmp_path: Path) -> None:
    ran = trundle("route", "--ahead", "--year", *AT, data=school(tmp_path, 4))
    assert (ran.status, ran.out) == (2, "")
    assert "trundle route --year" in ran.err


def test_a_year_with_no_day_left_has_no_routes(tmp_path: Path) -> None:
    ran = trundle("route", "--year", "--date", "2027-06-12", "--at", "8:00", data=school(tmp_path, 4))
    assert ran.status == 2
    assert "There are no visits from Sat 12 Jun on" in ran.err
