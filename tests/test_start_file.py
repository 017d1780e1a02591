"""The files that start Trundle with a double click: what each system makes of them, and started for real."""

from __future__ import annotations

import os
import re
import select
import shlex
import shutil
import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest

from checklists.start_file import (
    Start,
    desktop_entry_text,
    quote_for_exec,
    quote_for_windows,
    shell_text,
    start_files,
    windows_text,
)
from tests.commandline.running import PROJECT, surroundings
from tests.schools import reference_school
from tests.terminal import Terminal

ODD_PATHS = (
    "/home/reyes/Documents/Trundle",
    "/home/o'brien/Art cart/100% paper",
    '/Users/zoë/Künstler/$HOME `id` "x"',
    "/home/a/%f %% back\\slash\\",
    "/srv/school;rm -rf/a&b|c>d<e (f)#g=h~*?!",
    "/home/a/tab\tand\nnew line",
    "/home/ليلى/عربة الفن",
)
WINDOWS_PATHS = (
    r"C:\Users\reyes\Documents\Trundle",
    r"C:\Users\O'Brien\Art cart\100% paper",
    r"C:\Users\Zoë\a & b (c)^d!e%PATH%",
    "E:\\",
    r"\\server\art\1%2",
)


def words_of_exec(entry: str) -> list[str]:
    """The words of the Exec key of a desktop entry, by the letter of the specification and nothing else.

    Source: freedesktop.org, Desktop Entry Specification: "Possible value types" (escapes of a text), then "The Exec
    key" (whole arguments in double quotes, a backslash in them before `"`, a backtick, $ and a backslash; %% is %).
    """
    (line,) = [row for row in entry.split("\n") if row.startswith("Exec=")]
    escapes = {"s": " ", "n": "\n", "t": "\t", "r": "\r", "\\": "\\"}
    value = re.sub(r"\\(.)", lambda found: escapes[found[1]], line.removeprefix("Exec="))
    words = []
    while value:
        if value[0] == '"':
            quoted = re.match(r'"((?:[^"`$\\]|\\["`$\\])*)"(?: |$)', value)
            assert quoted is not None, f"not quoted as a whole: {value}"
            word = re.sub(r"\\(.)", r"\1", quoted[1])
            value = value[quoted.end() :]
        else:
            word, _, value = value.partition(" ")
            assert not set(word) & set("\t\n\"'\\><~|&;$*?#()`"), f"a reserved sign outside quotes: {word}"
        assert not re.search("%[^%]", word.replace("%%", "")), f"a field code: {word}"
        words.append(word.replace("%%", "%"))
    return words


def words_on_windows(command: str) -> list[str]:
    """The words of a batch file's row as the program gets them.

    Sources: Microsoft, the page on cmd (%% in a batch file is %; in quotes & | < > ( ) ^ stand for themselves), and
    "Parsing C command-line arguments" (2n backslashes before a quote are n, and the quote ends the word).
    """
    assert "%" not in command.replace("%%", ""), "a variable would be put in"
    text, words, word, quoted, at = command.replace("%%", "%"), [], "", False, 0
    while at < len(text):
        run = re.match(r'(\\*)(")?', text[at:])
        assert run is not None
        if run[2]:
            word += "\\" * (len(run[1]) // 2)
            assert len(run[1]) % 2 == 0, "a quote inside a path"
            quoted = not quoted
        elif run[1]:
            word += run[1]
        else:
            sign = text[at]
            assert quoted or sign not in "&|<>()^", f"cmd would act on {sign}"
            if sign == " " and not quoted:
                words.append(word)
                word = ""
            else:
                word += sign
        at += max(1, run.end())
    assert not quoted
    return [*words, word]


@pytest.mark.parametrize("path", ODD_PATHS)
def test_a_linux_desktop_reads_back_every_path(path: str) -> None:
    start = Start(f"{path}/python", path)
    assert words_of_exec(desktop_entry_text(start))[3:] == [*start.words]
    assert words_of_exec(f"Exec=a {quote_for_exec(path)}") == ["a", path]


@pytest.mark.skipif(shutil.which("gio") is None, reason="asks GLib, which starts programs on many desktops")
@pytest.mark.parametrize("path", ODD_PATHS)
def test_glib_starts_every_path_as_it_is(path: str, tmp_path: Path) -> None:
    """GLib's own command starts the entry, as a desktop that is built on it does, but without a terminal."""
    folder = tmp_path / "it's 100% a=b"
    folder.mkdir()
    os.mkfifo(tmp_path / "told")
    program = folder / "tell"
    program.write_text(f'#!/bin/sh\nprintf "%s\\0" "$@" > {tmp_path / "told"}\n', encoding="utf-8")
    program.chmod(0o700)
    entry = tmp_path / "Trundle.desktop"
    entry.write_text(desktop_entry_text(Start(str(program), path)).replace("Terminal=true", "Terminal=false"))
    told = os.open(tmp_path / "told", os.O_RDWR)
    try:
        subprocess.run(["gio", "launch", entry], timeout=30, check=True)
        words = b""
        while words.count(b"\0") < 5:
            assert select.select([told], [], [], 30)[0], "nothing was started"
            words += os.read(told, 4096)
    finally:
        os.close(told)
    assert words.decode().split("\0")[:-1] == ["-P", "-m", "tui.main", "--data", path]


def test_the_program_of_an_entry_has_no_equals_sign_whatever_its_folder_is_called() -> None:
    """Source: Desktop Entry Specification, "The Exec key": the name or path may not contain an equal sign."""
    assert "=" not in words_of_exec(desktop_entry_text(Start("/home/a=b/python")))[0]


@pytest.mark.parametrize("path", ODD_PATHS)
def test_a_shell_reads_back_every_path(path: str, tmp_path: Path) -> None:
    """The shell of this computer is asked; the interpreter is one that tells what it was given."""
    script = shell_text(Start("/nowhere/python", path)).replace("program=/nowhere/python", f"program={_told(tmp_path)}")
    ran = subprocess.run(["sh", "-c", script], capture_output=True, text=True, timeout=30, check=True)
    assert ran.stdout.split("\0")[:-1] == ["-P", "-m", "tui.main", "--data", path]


@pytest.mark.parametrize("path", WINDOWS_PATHS)
def test_windows_reads_back_every_path(path: str) -> None:
    rows = windows_text(Start(rf"{path}\python.exe", path)).split("\r\n")
    words = [rf"{path}\python.exe", "-P", "-m", "tui.main", "--data", path]
    (last,) = [row for row in rows if row.startswith('"')]
    assert words_on_windows(last) == words
    (terminal,) = [row for row in rows if row.startswith("where wt.exe")]
    inside = terminal.partition("--title Trundle ")[2].removesuffix(" && exit /b 0")
    assert words_on_windows(inside) == words
    assert words_on_windows(quote_for_windows(path)) == [path]


def test_windows_is_told_that_the_text_is_utf_8_before_the_first_path() -> None:
    (file,) = start_files("windows", Start("C:\\Zoë\\python.exe"))
    rows = file.content.decode("utf-8").split("\r\n")
    assert all(row.isascii() for row in rows[: rows.index("chcp 65001 >nul")])
    assert not file.content.startswith(b"\xef\xbb\xbf")  # cmd would take the mark for a part of the first command
    assert file.content.count(b"\n") == file.content.count(b"\r\n")


def test_a_path_that_windows_terminal_would_cut_in_two_opens_in_the_console() -> None:
    """Source: Microsoft, "Using command line arguments for Windows Terminal": a semicolon begins the next command."""
    assert "wt.exe" in windows_text(Start(r"C:\a b\python.exe"))
    assert "wt.exe" not in windows_text(Start(r"C:\a;b\python.exe"))


def test_the_usual_folder_is_not_named() -> None:
    for system in ("windows", "mac", "linux"):
        for file in start_files(system, Start("/opt/python")):
            assert b"--data" not in file.content


@pytest.fixture
def odd_folder(tmp_path: Path) -> Path:
    """A folder as teachers call theirs."""
    folder = tmp_path / "O'Brien's 100% art"
    folder.mkdir()
    return folder


@pytest.mark.parametrize("system", ["mac", "linux"])
def test_the_script_starts_this_trundle_from_a_folder_with_a_space_and_an_apostrophe(
    system: str, odd_folder: Path
) -> None:
    (odd_folder / "python").symlink_to(sys.executable)
    school = reference_school(odd_folder / "my school")
    files = start_files("mac" if system == "mac" else "linux", Start(str(odd_folder / "python"), str(school)))
    script = odd_folder / f"Trundle{files[-1].ending}"
    script.write_bytes(files[-1].content)
    script.chmod(0o700)
    modules = surroundings(PYTHONPATH=f"{PROJECT}:{sysconfig.get_path('purelib')}")
    ran = subprocess.run(
        [script, "morning", "--date", "2026-10-05", "--at", "7:41"],
        capture_output=True,
        text=True,
        env=modules,
        cwd=odd_folder,
        timeout=60,
        check=False,
    )
    assert (ran.returncode, ran.stderr) == (1, "")  # 1: something critical is open
    assert "Tansy Hollow Elementary" in ran.stdout


def test_the_entry_s_command_opens_the_screen_in_a_terminal(odd_folder: Path) -> None:
    words = words_of_exec(desktop_entry_text(Start(sys.executable, str(odd_folder / "new school"))))
    with Terminal(*words) as terminal:
        terminal.wait_for("Where would you like to begin?")
        terminal.press("q\r")
        assert terminal.wait_for_end() == 0


def test_where_trundle_was_moved_away_the_file_says_so(odd_folder: Path) -> None:
    start = Start(str(odd_folder / "gone" / "python"))
    for words in (words_of_exec(desktop_entry_text(start)), ["sh", "-c", shell_text(start)]):
        ran = subprocess.run(words, input="\n", capture_output=True, text=True, timeout=30, check=False)
        assert (ran.stdout.startswith("Trundle is not where it was"), ran.stderr) == (True, "")
        assert "set Trundle up anew" in ran.stdout


def _told(folder: Path) -> str:
    """A program that prints what it was given, each word closed by a zero."""
    program = folder / "tell"
    program.write_text('#!/bin/sh\nprintf "%s\\0" "$@"\n', encoding="utf-8")
    program.chmod(0o700)
    return shlex.quote(str(program))
