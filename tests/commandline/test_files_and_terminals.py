"""Files that do not read, terminals that cannot show every sign, pipes that close early."""

from __future__ import annotations

import signal
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest

from checklists.commandline import parse, run
from tests.commandline import running
from tests.commandline.running import PROGRAM, monday_lines, on_monday, surroundings
from tests.commandline.running import in_a_process as trundle
from tests.schools import a_supply, small_school


def misspell(data: Path) -> None:
    """Write the number of children of 3-B as no number, as a hurried hand does."""
    classes = data / "classes.toml"
    classes.write_text(classes.read_text().replace("students = 24", "students = 24a"))


def test_a_typo_in_a_plan_file_does_not_stop_the_morning(tmp_path: Path) -> None:
    """Situation T58 of a real year; common practice, no source."""
    data = small_school(tmp_path)
    before = monday_lines(data)

    misspell(data)
    ran = on_monday("morning", data=data)

    assert ran.status == 2
    assert "classes.toml" in ran.out
    assert "last good plan" in ran.out
    assert "white paper 12x18" in ran.out
    assert monday_lines(data)["white-12x18"]["need"] == before["white-12x18"]["need"]
    assert on_monday("tick", str(before["white-12x18"]["number"]), data=data).status == 0


def test_check_names_the_file_the_line_and_what_to_do(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    misspell(data)
    ran = trundle("check", data=data)
    assert ran.status == 2
    assert "classes.toml, line " in ran.out
    problems = trundle("check", "--json", data=data).fields["problems"]
    assert problems[0]["file"] == "classes.toml"
    assert isinstance(problems[0]["line"], int)


def test_check_finds_a_sound_plan_sound(tmp_path: Path) -> None:
    ran = trundle("check", data=small_school(tmp_path))
    assert (ran.status, ran.err) == (0, "")
    assert trundle("check", "--json", data=tmp_path).fields["well"] is True


@pytest.mark.parametrize("command", ["morning", "leaving", "tick 11", "undo", "close", "why 11", "low glue"])
def test_a_folder_without_a_plan_is_told_without_a_traceback(tmp_path: Path, command: str) -> None:
    ran = trundle(*command.split(), data=tmp_path / "nothing here")
    assert ran.status == 2
    assert "Traceback" not in ran.err
    assert str(tmp_path.name) in ran.err or "school.toml" in ran.err
    assert not (tmp_path / "nothing here").exists()


def test_scripts_are_told_what_failed_as_fields(tmp_path: Path) -> None:
    found = trundle("morning", "--json", data=tmp_path / "nothing here").fields
    assert found["page"] == "error"
    assert found["problems"]


def test_the_environment_may_name_the_folder(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = trundle("morning", "--date", "2026-10-05", "--at", "7:41", TRUNDLE_DATA=str(data))
    assert "Small School" in ran.out


def odd_school(folder: Path) -> Path:
    supplies = [
        a_supply("white-12x18", "white paper 12×18 – “best” … 紙", kind="paper"),
        a_supply("glue-stick", "glue \x1b[31mstick\x1b[2J \u202eevil", returns=True),
        a_supply("scissors", kind="tool", sharp=True, marks=["scissors"]),
        a_supply("yarn-ball"),
    ]
    return small_school(folder, supplies=supplies)


@pytest.mark.parametrize("encoding", ["cp1252", "ascii", "cp437"])
def test_a_terminal_of_another_alphabet_gets_plainer_signs(tmp_path: Path, encoding: str) -> None:
    ran = trundle("morning", "--date", "2026-10-05", "--at", "7:41", data=odd_school(tmp_path), encoding=encoding)
    assert "Traceback" not in ran.err
    assert ran.status == 1
    assert "white paper 12" in ran.out


def test_json_is_the_same_in_every_alphabet(tmp_path: Path) -> None:
    data = odd_school(tmp_path)
    typed = ("morning", "--json", "--date", "2026-10-05", "--at", "7:41")
    assert trundle(*typed, data=data, encoding="ascii").fields == trundle(*typed, data=data).fields


@pytest.mark.parametrize("typed", [("morning",), ("morning", "--json"), ("leaving",), ("why", "11")])
def test_text_from_files_is_never_a_command_to_the_terminal(tmp_path: Path, typed: tuple[str, ...]) -> None:
    ran = on_monday(*typed, data=odd_school(tmp_path))
    assert not set(ran.out + ran.err) & {"\x1b", "\u202e", "\x9b", "\x07"}


@pytest.mark.parametrize(
    "typed",
    [
        ("lend", "scissors", "2", "--to", "{}"),
        ("where", "{}"),
        ("report", "V1", "--stands", "box-3={}"),
        ("change", "--lesson", "V1={}"),
        ("tick", "{}"),
    ],
)
def test_nor_is_what_she_types(typed: tuple[str, ...], tmp_path: Path) -> None:
    ran = on_monday(*(each.format("\x1b[2J\u202e") for each in typed), data=small_school(tmp_path))
    assert "\x1b" not in ran.out + ran.err
    assert "\u202e" not in ran.out + ran.err
    assert "[2J" in ran.out + ran.err


@pytest.mark.parametrize("command", ["morning", "undo", "orders", "close"])
@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
def test_a_date_that_was_mistyped_is_told(command: str, day: str, tmp_path: Path) -> None:
    ran = running.trundle(command, "--date", day, data=small_school(tmp_path))
    assert ran.status == 2
    assert "is not a date; write year-month-day" in ran.err


def test_a_reader_that_closes_the_pipe_gets_no_traceback(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    words = [*PROGRAM, "morning", "--json", "--date", "2026-10-05", "--data", str(data)]
    child = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=surroundings())
    assert child.stdout is not None
    assert child.stderr is not None
    child.stdout.close()
    complaint = child.stderr.read().decode()
    child.wait(timeout=60)
    child.stderr.close()
    assert complaint == ""


def test_stopping_from_the_keyboard_gives_no_traceback(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    program = (
        "import io, signal, sys\n"
        "from checklists.commandline import parse, run\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"  # a test run in the background ignores it
        "class StoppedWhileWriting(io.StringIO):\n"
        "    def write(self, text): signal.raise_signal(signal.SIGINT)\n"
        "sys.stdout = StoppedWhileWriting()\n"
        "sys.exit(run(parse(sys.argv[1:])))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, "morning", "--data", str(data)],
        capture_output=True,
        env=surroundings(),
        timeout=60,
        check=False,
    )
    assert done.returncode == 128 + signal.SIGINT
    assert done.stdout == b""
    assert b"Traceback" not in done.stderr


def test_another_window_that_writes_keeps_this_one_to_reading(tmp_path: Path) -> None:
    from checklists.book import Book

    data = small_school(tmp_path)
    book = Book.open(data)
    try:
        ran = on_monday("tick", "11", data=data)
        assert ran.status == 2
        assert "Traceback" not in ran.err
        assert ran.err.strip()
        assert on_monday("morning", data=data).status == 1
    finally:
        book.release()


def test_a_command_leaves_the_folder_free_for_the_next(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    for _ in range(2):
        assert on_monday("tick", "11", data=data).status == 0


def test_run_may_be_called_within_a_program(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = small_school(tmp_path)
    request = parse(["morning", "--data", str(data)], datetime(2026, 10, 5, 7, 41))
    assert run(request) == 1
    assert "Small School" in capsys.readouterr().out


def test_looking_brings_in_no_screen(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    program = (
        "import sys\n"
        "from checklists.commandline import parse, run\n"
        "run(parse(sys.argv[1:]))\n"
        "heavy = {'textual', 'rich', 'platformdirs', 'argparse', 'tui', 'asyncio'}\n"
        "print('brought in:', sorted(heavy & {name.split('.')[0] for name in sys.modules}), file=sys.stderr)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, "morning", "--data", str(data), "--date", "2026-10-05"],
        capture_output=True,
        env=surroundings(),
        timeout=60,
        check=False,
    )
    assert done.stderr.decode().strip() == "brought in: []"


@pytest.mark.parametrize(
    "typed",
    [
        "morning",
        "morning --json",
        "leaving",
        "tick 11",
        "report V1 --as-planned",
        "close",
        "why 11",
        "low glue",
        "no such",
    ],
)
def test_a_command_says_the_same_in_a_process_of_its_own(tmp_path: Path, typed: str) -> None:
    """Most tests run commands within their own process; what she starts is a process."""
    words = (*typed.split(), "--date", "2026-10-05", "--at", "7:41")
    here = running.trundle(*words, data=small_school(tmp_path / "school"))
    (tmp_path / "school").rename(tmp_path / "the same school")
    apart = trundle(*words, data=small_school(tmp_path / "school"))
    assert (apart.status, apart.out, apart.err) == (here.status, here.out, here.err)
