"""What is typed behind `trundle`: what is understood, and what a mistake is answered with."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from checklists.commandline import Request, parse
from checklists.commandline.commands import COMMANDS

NOW = datetime(2026, 10, 5, 7, 41)


def typed(text: str) -> Request:
    return parse(text.split(), NOW)


def test_nothing_typed_opens_the_screen() -> None:
    assert typed("").command == "today"
    assert typed("").wants_screen


def test_the_sample_school_opens_on_the_screen() -> None:
    assert typed("demo --reset").wants_screen
    assert typed("demo --reset").reset


@pytest.mark.parametrize("text", ["--text", "--json", "demo --text", "morning", "close", "help", "nonsense"])
def test_what_is_meant_for_paper_or_scripts_opens_no_screen(text: str) -> None:
    assert not typed(text).wants_screen


def test_a_date_and_a_time_are_the_clock_of_that_day() -> None:
    request = typed("morning --date 2026-10-06 --at 7:05")
    assert request.date == date(2026, 10, 6)
    assert request.now == datetime(2026, 10, 6, 7, 5)


def test_today_and_tomorrow_are_understood() -> None:
    assert typed("morning --date today").date == date(2026, 10, 5)
    assert typed("morning --date tomorrow").tomorrow
    assert typed("morning --date tomorrow").date is None


def test_counts_out_and_back_may_be_told_for_several_tools() -> None:
    request = typed("report V3 --count scissors=13/12 --count needle=27")
    assert request.counts == (("scissors", 13, 12), ("needle", 27, 27))


def test_who_was_missed_is_class_list_numbers_or_nobody_or_unknown() -> None:
    assert typed("report V3 --missed 11,4,4").missed == (4, 11)
    assert typed("report V3 --missed none").missed == ()
    assert typed("report V3 --missed unknown").missed_unknown
    assert typed("report V3 --not-done 3").missed is None


def test_words_may_be_begun_only() -> None:
    assert typed("report V3 --outcome half").outcome == "about half"
    assert typed("report V3 --outcome no").outcome == "not taught"
    assert typed("tick 11 --not-needed room").not_needed == "room has it"
    assert typed("tick 11 --short 2 --remedy make").remedy == "make more"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("mornign", "Did you mean trundle morning?"),
        ("morning --by shelv", "did you mean shelf?"),
        ("close --loook", "Did you mean --look?"),
        ("morning --date 5/10", "like 2026-10-05"),
        ("morning --date 2026-13-40", "like 2026-10-05"),
        ("morning --at 25:00", "like 7:40"),
        ("morning --date", "--date needs something behind it, like --date 2026-10-05"),
        ("morning --date --json", "--date needs something behind it"),
        ("morning --json --json", "--json was given twice"),
        ("morning --json=yes", "--json takes nothing behind it"),
        ("morning 11", "11 has no meaning behind trundle morning"),
        ("tick", "Behind trundle tick type the numbers on the list"),
        ("tick 11 --count -3", "--count: -3 is not a whole number"),
        ("tick 11 --count 18 --short 18", "--count and --short cannot both be said"),
        ("tick 11 --remedy share", "--remedy goes with --short"),
        ("tick 11 --not-needed nonsense", "is not one of not today, room has it"),
        ("left 3-K", "the class and the class-list number"),
        ("report V3 --missed 4,x", "which is no class-list number"),
        ("report V3 --missed 0,4", "which is no class-list number"),
        ("report V3 --missed 4 --missed-count 2", "say the same thing twice"),
        ("report V3 --as-planned --outcome half", "Leave it out"),
        ("report V3 --count scissors", "like scissors=13/12"),
        ("report V3 --stands printing", "like printing=11"),
        ("report V3 --handed-out maybe", "neither yes nor no"),
        ("low glue --level few", "is not one of plenty, low or out"),
    ],
)
def test_a_mistake_is_said_with_what_to_type(text: str, told: str) -> None:
    request = typed(text)
    assert request.command == "not understood"
    assert told in request.message


def test_what_was_typed_never_reaches_the_terminal_as_a_command_to_it() -> None:
    assert "\x1b" not in parse(["\x1b[2Jmorning"], NOW).message


def test_every_command_has_a_help_that_fits_on_paper() -> None:
    for command in COMMANDS:
        request = typed(f"{command.name} --help")
        assert request.command == "help"
        assert request.message.startswith(f"trundle {command.name}: ")
        assert all(len(row) <= 80 for row in request.message.splitlines())
        assert all(option.name in request.message for option in command.options)


def test_the_overview_names_every_command() -> None:
    told = typed("--help").message
    assert all(f"trundle {command.name}" in told for command in COMMANDS)
    assert all(len(row) <= 80 for row in told.splitlines())
    assert typed("help tick").message == typed("tick --help").message
