"""A newcomer in a real terminal: from an empty folder to a ticked line, killed on the way; from the demo school."""

from __future__ import annotations

import subprocess
from datetime import date
from pathlib import Path

import pytest

from checklists.files.daybook_folder import load
from checklists.files.set_up_file import read_set_up, what_is_in
from tests.terminal import SCREENS, Terminal

MONDAY_AT_7_20 = ("--date", "2026-11-30", "--at", "7:20")
BEFORE_THE_PERIODS = (
    ("Applewick", "school year begin"),
    ("", "last day of school"),
    ("", "days are off"),
    ("", "by a cycle"),
    ("", "first period begin"),
    ("", "minutes is a period"),
    ("", "between two periods"),
    ("", "How many periods"),
    ("", "When is lunch"),
    ("", "planning time"),
    ("", "Mon, P1"),
)
"""What she types, and what shows then."""
PERIODS = (
    ("3b 12 24", "Mon, P2"),
    ("1p 9", "Mon, P3"),
    ("2r 11", "Mon, P4"),
    ("", "Mon, P5"),
    ("4d 21", "Mon, P6"),
    ("5h 23", "Mon, P7"),
    ("km 4", "What is grade 3"),
    ("9 2", "What is grade 1"),
    ("", "What is grade 2"),
    ("3", "Which part"),
    ("", "What is grade 4"),
    ("7 1", "What is grade 5"),
    ("", "What is kindergarten"),
    ("", "box for each grade"),
    ("", "That is all for the first list"),
)


@pytest.fixture
def home(tmp_path: Path) -> dict[str, str]:
    """The environment of somebody who never had the program."""
    return {f"XDG_{kind}_HOME": str(tmp_path / "home" / kind.lower()) for kind in ("DATA", "STATE", "CONFIG", "CACHE")}


class Typist:
    """Presses keys and counts them."""

    def __init__(self, terminal: Terminal) -> None:
        self.terminal, self.keys = terminal, 0

    def type(self, text: str, seen: str) -> None:
        self.terminal.press(text)
        self.keys += len(text)
        self.terminal.wait_for(seen)

    def answer(self, *answers: tuple[str, str]) -> None:
        for text, seen in answers:
            self.type(f"{text}\r", seen)


def test_from_an_empty_folder_to_a_ticked_line_killed_on_the_way(tmp_path: Path, home: dict[str, str]) -> None:
    """At most 250 keys for six visits of six grades: common practice, no source. A kill loses nothing that was said."""
    own = tmp_path / "own"
    words = (*SCREENS, "--data", str(own), *MONDAY_AT_7_20)
    with Terminal(*words, environment=home) as first:
        she = Typist(first)
        first.wait_for("Where would you like to begin?")
        she.answer(("2", "school called"), *BEFORE_THE_PERIODS, *PERIODS[:3])
        first.press("5h")
        first.wait_for("5h_")
        first.program.kill()
    keys = she.keys
    assert len(read_set_up(own).said) == len(BEFORE_THE_PERIODS) + 3
    with Terminal(*words, environment=home) as second:
        she = Typist(second)
        second.wait_for("Go on setting up my own school")
        she.answer(("", "Mon, P4"), *PERIODS[3:], ("", "Your first list."))
        second.wait_for("V6 K-M", "to pack")
        she.type(" ", "Packed ")
        keys += she.keys
        second.press("qq")
        assert second.wait_for_end() == 0 and second.is_restored
    assert keys <= 250
    assert what_is_in(own) == "a plan" and not (own / "set-up.toml").exists()
    assert load(own, date(2026, 11, 30)).record.entries


def test_from_the_demo_school_to_ones_own(tmp_path: Path, home: dict[str, str]) -> None:
    with Terminal(*SCREENS, environment=home) as terminal:
        she = Typist(terminal)
        terminal.wait_for("Where would you like to begin?")
        she.type("\r", "Box K")
        she.type("\t", "Your own school: set it up")
        row = next(row for row in terminal.shown if "Your own school: set it up" in row)
        she.type(row.split("Your own")[0].strip(" ▸▐"), "What is your school called?")
        she.answer(("Applewick", "school year begin"))
        she.type("\t", "Go on setting up my own school")
        terminal.press("q\r")
        assert terminal.wait_for_end() == 0 and terminal.is_restored
        assert "trundle goes on there next time" in terminal.text
    own = tmp_path / "home" / "data" / "trundle"
    assert read_set_up(own).said == {"school name": "Applewick"}
    assert what_is_in(own) == "half a set-up"


def test_commands_on_an_empty_folder_say_in_a_line_what_to_do(tmp_path: Path) -> None:
    for command in ("morning", "sheet", "leaving"):
        told = subprocess.run(
            [*SCREENS, command, "--data", str(tmp_path / "own")], capture_output=True, text=True, timeout=30
        )
        assert told.returncode == 2 and not told.stdout
        assert told.stderr.count("\n") == 1
        assert "trundle alone does that on screen, trundle demo shows a demo school" in told.stderr
    assert not (tmp_path / "own").exists()


def test_a_plan_that_does_not_read_is_told_as_ever_and_not_set_up_over(tmp_path: Path, home: dict[str, str]) -> None:
    (tmp_path / "school.toml").write_text("name = ")
    with Terminal(*SCREENS, "--data", str(tmp_path), environment=home) as terminal:
        assert terminal.wait_for_end() == 2
        assert "trundle: school.toml" in terminal.text and "Traceback" not in terminal.text
    assert (tmp_path / "school.toml").read_text() == "name = "
