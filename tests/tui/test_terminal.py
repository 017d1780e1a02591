"""The command on a real terminal: it starts, takes a key, and gives the terminal back however it ends."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
from collections.abc import Iterator
from pathlib import Path

import pytest

from checklists.files.daybook_folder import load
from tests.schools import MONDAY, reference_school

LIMIT = 30.0
"""Seconds until a terminal that says nothing counts as dead; far more than any machine needs."""
TOLD_BACK = {b"\x1b[?2026$p": b"\x1b[?2026;2$y", b"\x1b[?2048$p": b"\x1b[?2048;0$y"}
COMMAND = [sys.executable, "-m", "tui.main"]
MAIN_SCREEN = b"\x1b[?1049l"
"""Leaves the alternate screen. Source: xterm control sequences, private mode 1049."""


class Terminal:
    """A pseudo-terminal of 80 by 24 with one command in it."""

    def __init__(self, command: list[str], home: Path) -> None:
        self.fd, inner = pty.openpty()
        fcntl.ioctl(inner, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))

        def take_over() -> None:
            os.setsid()
            fcntl.ioctl(inner, termios.TIOCSCTTY, 0)

        places = {f"XDG_{kind}_HOME": str(home / kind.lower()) for kind in ("DATA", "STATE", "CONFIG", "CACHE")}
        self.command = subprocess.Popen(
            command,
            stdin=inner,
            stdout=inner,
            stderr=inner,
            preexec_fn=take_over,
            env={**os.environ, **places, "TERM": "xterm-256color"},
        )
        os.close(inner)
        self.told = b""
        self.answered: set[bytes] = set()

    def read(self) -> bool:
        """Take what comes next; False at the end."""
        if not select.select([self.fd], [], [], LIMIT)[0]:
            raise TimeoutError(self.told[-500:])
        try:
            told = os.read(self.fd, 65536)
        except OSError:
            return False
        self.told += told
        for asked, answer in TOLD_BACK.items():
            if asked in self.told and asked not in self.answered:
                self.answered.add(asked)
                os.write(self.fd, answer)
        return bool(told)

    def wait_for(self, text: bytes) -> None:
        while text not in self.told:
            assert self.read(), self.told[-500:]

    def end(self) -> int:
        """The exit status, once everything was said."""
        while self.read():
            pass
        return self.command.wait(LIMIT)


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    reference_school(tmp_path / "school")
    opened = Terminal([*COMMAND, "--data", str(tmp_path / "school"), "--date", "2026-10-05"], tmp_path / "home")
    yield opened
    if opened.command.poll() is None:
        opened.command.kill()
    opened.command.wait()
    os.close(opened.fd)


def test_the_command_opens_the_list_and_quits_with_one_key(terminal: Terminal) -> None:
    terminal.wait_for(b"open")
    os.write(terminal.fd, b"qq")
    assert terminal.end() == 0
    assert MAIN_SCREEN in terminal.told


@pytest.mark.parametrize("sent", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_to_leave_gives_the_terminal_back(terminal: Terminal, sent: signal.Signals) -> None:
    """128 and the number of the signal. Source: POSIX shells' exit status of a command ended by a signal."""
    terminal.wait_for(b"keys")
    terminal.command.send_signal(sent)
    assert terminal.end() == 128 + sent
    assert MAIN_SCREEN in terminal.told


def test_an_error_nobody_foresaw_is_one_plain_line_and_what_was_ticked_is_there(tmp_path: Path) -> None:
    reference_school(tmp_path / "school")
    breaks = (
        "import sys, tui.main\n"
        "from tui.screens.morning import MorningScreen\n"
        "def fail(self):\n"
        "    number_of_a_child = 4711\n"
        "    raise RuntimeError('broken')\n"
        "MorningScreen.action_why = fail\n"
        "sys.exit(tui.main.main(sys.argv[1:]))\n"
    )
    opened = Terminal(
        [sys.executable, "-c", breaks, "--data", str(tmp_path / "school"), "--date", "2026-10-05"], tmp_path / "home"
    )
    opened.wait_for(b"keys")
    os.write(opened.fd, b"\r")
    while not load(tmp_path / "school", MONDAY).record.entries:
        assert opened.read(), opened.told[-500:]
    os.write(opened.fd, b"w")
    assert opened.end() == 1
    os.close(opened.fd)
    after = opened.told.split(MAIN_SCREEN)[-1]
    assert b"Trundle had to stop" in after
    assert b"Traceback" not in after and b"4711" not in after
    assert list((tmp_path / "school" / "daybook").glob("*.toml"))
    assert any("RuntimeError: broken" in path.read_text() for path in (tmp_path / "home").rglob("errors.txt"))


def test_without_a_terminal_it_says_so_and_ends_with_2(tmp_path: Path) -> None:
    reference_school(tmp_path)
    told = subprocess.run(
        [*COMMAND, "--data", str(tmp_path)], stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=LIMIT
    )
    assert told.returncode == 2
    assert "no terminal" in told.stderr
    assert "Traceback" not in told.stderr
