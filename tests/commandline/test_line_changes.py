"""`trundle change-line`: what can be changed about a line, and one of it as a change from now on."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commandline.running import monday_lines, on_monday
from tests.days import opened
from tests.schools import reference_school, small_school


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return small_school(tmp_path / "school")


def line_number(data: Path, supply: str) -> str:
    return str(monday_lines(data)[supply]["number"])


def test_what_can_be_changed_is_numbered_with_what_it_counts_for(data: Path) -> None:
    said = on_monday("change-line", line_number(data, "white-12x18"), data=data)
    told = " ".join(said.out.split())
    assert said.status == 0
    assert "1 3-B has 24 children: another number (every visit of 3-B)" in told
    assert "not for 3-K (Paper Hills, part 1, 3-K alone)" in told


def test_one_of_it_is_done_by_its_number_or_its_key_and_what_follows_is_told(data: Path) -> None:
    number = line_number(data, "white-12x18")
    told = on_monday("change-line", number, "1", "30", data=data).out
    assert "3-B: 30 children." in told and "Box 3: put in 58 white paper 12x18." in told
    on_monday("change-line", number, "size 3-B", "about", "20", data=data)
    with opened(data) as book:
        assert book.plan.class_by_id["3-B"].students == "about 20"


def test_not_for_a_class_by_the_key_that_json_has(data: Path) -> None:
    number = line_number(data, "glue-stick")
    offers = on_monday("change-line", number, "--json", data=data).fields["offers"]
    key = next(each["key"] for each in offers if each["what"] == "not for 3-B")
    done = on_monday("change-line", number, key, "--json", data=data).fields
    assert done["said"] == "Paper Hills, part 1: no glue stick for 3-B" and done["follows"]
    assert monday_lines(data)["glue-stick"]["need"] == 22 + 3


def test_a_way_is_said_by_the_beginning_of_its_words(data: Path) -> None:
    number = line_number(data, "glue-stick")
    offers = on_monday("change-line", number, "--json", data=data).fields["offers"]
    key = next(each["key"] for each in offers if each["what"].endswith("counted otherwise"))
    assert "1 for each table" in on_monday("change-line", number, key, "x", data=data).err
    on_monday("change-line", number, key, "1", "for", "each", "table", data=data)
    with opened(data) as book:
        assert book.plan.lesson_by_id["paper-hills"].parts[0].items[1].per == "table"


def test_a_safety_rule_is_switched_off_only_with_a_reason(tmp_path: Path) -> None:
    data = reference_school(tmp_path / "school")
    with opened(data) as book:
        safety = {rule.id for rule in book.rules.rules if rule.safety}
        lines = {line.number: line.because for line in book.day(book.today).lines}
    number, rule = next((n, why.rule) for n, because in lines.items() for why in because if why.rule in safety)
    refused = on_monday("change-line", str(number), f"rule {rule}", "nowhere any more", data=data)
    assert refused.status == 2 and "Say why with --reason" in refused.err
    on_monday("change-line", str(number), f"rule {rule}", "nowhere any more", "--reason", "the aide does it", data=data)
    with opened(data) as book:
        assert [(each.rule, each.reason) for each in book.rules.off] == [(rule, "the aide does it")]


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        (("1", "many"), "A number of children is written 25"),
        (("99",), "is none of what can be changed"),
        (("not for 3-B paper-hills/1/0", "3"), "takes nothing behind it"),
    ],
)
def test_what_cannot_be_is_said_and_nothing_is_changed(typed: tuple[str, ...], why: str, data: Path) -> None:
    ran = on_monday("change-line", line_number(data, "white-12x18"), *typed, data=data)
    assert ran.status == 2 and why in ran.err
    with opened(data) as book:
        assert book.newest_files_step() is None
