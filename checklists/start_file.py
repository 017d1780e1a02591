"""Texts of the files that start Trundle by a double click, for each system. Pure: nothing is looked at or written.

They lie outside the data folder, on one computer's desktop, and are the one thing that names places of that computer.
Each starts the interpreter that made it, with her data folder where that is not the usual one.
"""

from __future__ import annotations

import shlex
from hashlib import sha256
from typing import Literal

from msgspec import Struct

System = Literal["windows", "mac", "linux"]

NAME = "Trundle"
COLUMNS, ROWS = 100, 32
"""A window that shows a day's list with room to spare; 80 by 24 is the least that does."""
OPTIONS = ("-P", "-m", "tui.main")
"""-P: what lies in the folder it is started from is never taken for a part of it. Source: Python's command line."""
GONE = "Trundle is not where it was when this file was made. Put its folder back there,"
GONE_TOO = "or set Trundle up anew and let it make a new start file."

_RESERVED = frozenset(" \t\n\"'\\><~|&;$*?#()`")
"""Signs for which an argument is quoted. Source: Desktop Entry Specification, "The Exec key"."""
_RUN_AND_WAIT = (
    f'if [ -x "$0" ]; then "$0" "$@" && exit; else echo "{GONE}"; echo "{GONE_TOO}"; fi; '
    'echo "Enter closes."; read -r _'
)


class Start(Struct, frozen=True):
    """What is started: the interpreter, and her data folder; empty for the usual one."""

    program: str
    folder: str = ""

    @property
    def words(self) -> tuple[str, ...]:
        return (self.program, *OPTIONS, *(("--data", self.folder) if self.folder else ()))


class StartFile(Struct, frozen=True):
    """A file as it is to be written: how its name ends, what is in it."""

    ending: str
    content: bytes


def start_files(system: System, start: Start, *, in_menu: bool = False) -> tuple[StartFile, ...]:
    """The files for a system; for the menu of a Linux desktop the entry alone, else with a plain script beside it."""
    if system == "windows":
        return (_file(".cmd", windows_text(start)),)
    if system == "mac":
        return (_file(".command", shell_text(start)),)
    entry = _file(".desktop", desktop_entry_text(start))
    return (entry,) if in_menu else (entry, _file(".sh", shell_text(start)))


def sign_of(start: Start) -> str:
    """What stands in every start file of a data folder, so that one of the same folder can be made anew."""
    return f"Trundle start file {sha256(start.folder.encode(errors='surrogatepass')).hexdigest()[:12]}"


# ------------------------------------------------------------------------------------------------------------ Windows


def windows_text(start: Start) -> str:
    """A batch file, as cmd.exe reads it once it is told that the text is UTF-8.

    Where Windows Terminal is there it opens in it, otherwise in the console, made large enough. A path with a
    semicolon, which the terminal takes for the end of a command, always opens in the console. Sources: Microsoft's
    pages on cmd, chcp, mode, where and start, and "Using command line arguments for Windows Terminal".
    """
    command = " ".join(quote_for_windows(word) for word in start.words)
    program = quote_for_windows(start.program)
    terminal = f'where wt.exe >nul 2>nul && start "" wt.exe --title {NAME} {command} && exit /b 0'
    rows = [
        "@echo off",
        "setlocal DisableDelayedExpansion",
        "chcp 65001 >nul",
        f"rem {sign_of(start)}: made by Trundle, which can make it again",
        f"if not exist {program} echo {GONE}",
        f"if not exist {program} echo {GONE_TOO}",
        f"if not exist {program} pause",
        f"if not exist {program} exit /b 1",
        *([] if ";" in command else [terminal]),
        f"title {NAME}",
        f"mode con: cols={COLUMNS} lines={ROWS}",
        command,
        "if errorlevel 1 pause",
    ]
    return "\r\n".join((*rows, ""))


def quote_for_windows(word: str) -> str:
    """A word as cmd.exe and then the program itself read it: in quotes, % doubled, backslashes before a quote too.

    Windows allows no quote in a path. Sources: Microsoft's "Parsing C command-line arguments" (backslashes) and the
    page on cmd (in quotes all other signs stand for themselves; %% is a percent sign in a batch file).
    """
    if word.replace("-", "").replace(".", "").isalnum() and word.isascii():
        return word
    trailing = len(word) - len(word.rstrip("\\"))
    return '"' + word.replace("%", "%%") + "\\" * trailing + '"'


# ---------------------------------------------------------------------------------------------------- Mac and Linux


def shell_text(start: Start) -> str:
    """A script for any POSIX shell; the Finder runs it as a .command file. What is typed behind it is passed on.

    Source of the quoting: POSIX, Shell Command Language, 2.2.2 (single quotes). The sign that asks a terminal for a
    size is of xterm's control sequences (CSI 8 t); a terminal that does not know it does nothing.
    """
    program, *options = start.words
    behind = " ".join(shlex.quote(word) for word in options[len(OPTIONS) :])
    rows = [
        "#!/bin/sh",
        f"# {sign_of(start)}: made by Trundle, which can make it again",
        f"program={shlex.quote(program)}",
        'if [ -x "$program" ]; then',
        f"    if [ -t 1 ]; then printf '\\033[8;{ROWS};{COLUMNS}t'; fi",
        f'    "$program" {" ".join(OPTIONS)} "$@" {behind}'.rstrip(),
        "    status=$?",
        "else",
        f"    echo '{GONE}'",
        f"    echo '{GONE_TOO}'",
        "    status=1",
        "fi",
        'if [ "$status" -ne 0 ] && [ -t 0 ]; then echo "Enter closes."; read -r _; fi',
        'exit "$status"',
    ]
    return "\n".join((*rows, ""))


def desktop_entry_text(start: Start) -> str:
    """An entry of a Linux desktop or its menu. The shell keeps the window open where something went wrong, and takes
    an interpreter with "=" in its path, which the specification does not allow in first place.

    Source: freedesktop.org, Desktop Entry Specification, "Recognized desktop entry keys" and "The Exec key".
    """
    words = ("/bin/sh", "-c", _RUN_AND_WAIT, *start.words)
    rows = [
        f"# {sign_of(start)}: made by Trundle, which can make it again",
        "[Desktop Entry]",
        "Type=Application",
        f"Name={NAME}",
        "Comment=What goes on the cart today",
        f"Exec={' '.join(quote_for_exec(word) for word in words)}",
        "Terminal=true",
        "Icon=utilities-terminal",
        "Categories=Education;",
    ]
    return "\n".join((*rows, ""))


def quote_for_exec(word: str) -> str:
    """A word of an Exec key: field codes escaped, quoted where a sign is reserved, and then as any text of an entry.

    Source: Desktop Entry Specification: % is %%; in quotes a backslash before `"`, a backtick, $ and a backslash;
    backslash, newline and tab of the value itself are written with one more backslash.
    """
    word = word.replace("%", "%%")
    if not word or _RESERVED & set(word):
        word = '"' + "".join(f"\\{sign}" if sign in '"`$\\' else sign for sign in word) + '"'
    for sign, written in (("\\", "\\\\"), ("\n", "\\n"), ("\t", "\\t"), ("\r", "\\r")):
        word = word.replace(sign, written)
    return word


def _file(ending: str, text: str) -> StartFile:
    return StartFile(ending, text.encode("utf-8", "surrogateescape"))
