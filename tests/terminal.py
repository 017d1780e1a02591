"""A program in a terminal of its own: its keys are pressed as on a keyboard, its screen is read as it stands there.

The screen is drawn by pyte, a terminal emulator; what a frame shows is looked at only once the program ended the frame.
"""

from __future__ import annotations

import contextlib
import fcntl
import os
import pty
import re
import select
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Protocol

import pyte

PROJECT = Path(__file__).parents[1]
SCREENS = (sys.executable, "-m", "tui.main")
FRAME_BEGINS, FRAME_ENDS = b"\x1b[?2026h", b"\x1b[?2026l"
_ASKED = ((b"\x1b[?2026$p", b"\x1b[?2026;2$y"), (b"\x1b[?2048$p", b"\x1b[?2048;0$y"))
"""What a program asks a terminal of today, and what such a terminal answers. Source: the terminal specification
"Synchronized Output" (mode 2026) and "In-Band Window Resize Notifications" (mode 2048)."""
_NOT_DRAWN = re.compile(rb"\x1b\[[<=>][0-9;]*[a-z]|\x1b\[\?[0-9;]*\$p|\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)")
"""What concerns the keyboard and the window's title; pyte would draw parts of it."""
_LONGEST_COMMAND = 40
PATIENCE = 30.0
"""Seconds after which a program that shows nothing of what is waited for has failed."""


class Program(Protocol):
    """A running program."""

    pid: int

    def poll(self) -> int | None: ...
    def send_signal(self, number: int, /) -> None: ...
    def kill(self) -> None: ...
    def wait(self, timeout: float = ...) -> int: ...


class Terminal:
    """A terminal with a program in it. Use it in a ``with`` statement: the program does not outlive that."""

    def __init__(
        self,
        *words: str,
        columns: int = 80,
        rows: int = 24,
        environment: Mapping[str, str] | None = None,
        before: Callable[[], None] | None = None,
        start: Callable[[str, tuple[str, ...]], Program] | None = None,
    ) -> None:
        """Start ``words``; ``before`` runs in the new process first. ``start`` starts them in another way: it is given
        the name of the terminal."""
        self.written = bytearray()
        self.read_at = 0.0
        """When the newest bytes came, on ``time.perf_counter``."""
        self.screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self.screen)
        self._not_fed = b""
        self._looked_through = dict.fromkeys((question for question, _ in _ASKED), 0)
        self._is_open = True
        self.descriptor, inner = pty.openpty()
        fcntl.ioctl(inner, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

        def take_terminal() -> None:
            os.setsid()
            fcntl.ioctl(0, termios.TIOCSCTTY, 0)
            if before is not None:
                before()

        kept = {name: value for name, value in os.environ.items() if name not in ("TRUNDLE_DATA", "NO_COLOR")}
        known = {"TERM": "xterm-256color", "COLORTERM": "truecolor", "PYTHONPATH": str(PROJECT)}
        self.started = time.perf_counter()
        self.program: Program = (
            start(os.ttyname(inner), words)
            if start is not None
            else subprocess.Popen(
                words,
                stdin=inner,
                stdout=inner,
                stderr=inner,
                preexec_fn=take_terminal,
                env={**kept, **known, **(environment or {})},
            )
        )
        os.close(inner)

    def __enter__(self) -> Terminal:
        return self

    def __exit__(self, *_: object) -> None:
        if self.program.poll() is None:
            self.program.kill()
        self.program.wait()
        self.close()

    # ------------------------------------------------------------------------------------------------- looking

    @property
    def shown(self) -> list[str]:
        """The rows of the newest whole frame."""
        return [row.rstrip() for row in self.screen.display]

    @property
    def text(self) -> str:
        return "\n".join(self.shown)

    @property
    def is_restored(self) -> bool:
        """Whether the screen from before is back, the cursor shows, mouse and pastes are let go, and keys are echoed.

        Source: xterm control sequences, private modes 1049, 25, 1000, 1003, 2004; POSIX termios, ECHO and ICANON.
        """
        written = bytes(self.written)
        switched_back = all(
            written.rfind(_mode(number, not is_on)) < written.rfind(_mode(number, is_on)) != -1
            for number, is_on in ((1049, False), (25, True), (1000, False), (1003, False), (2004, False))
        )
        local = termios.tcgetattr(self.descriptor)[3]
        return switched_back and bool(local & termios.ECHO) and bool(local & termios.ICANON)

    def read(self, wait: float) -> bytes:
        """What the program wrote next, within ``wait`` seconds; b"" where there is nothing, or it has ended."""
        if not self._is_open or not select.select([self.descriptor], [], [], wait)[0]:
            return b""
        try:
            fresh = os.read(self.descriptor, 1 << 16)
        except OSError:  # nobody holds the other end any more
            fresh = b""
        self.read_at = time.perf_counter()
        if not fresh:
            self._is_open = False
        self.written += fresh
        for question, answer in _ASKED:
            while (at := self.written.find(question, self._looked_through[question])) >= 0:
                self._looked_through[question] = at + len(question)
                os.write(self.descriptor, answer)
            beginning = max(0, len(self.written) - len(question) + 1)
            self._looked_through[question] = max(self._looked_through[question], beginning)
        return fresh

    def draw(self, fresh: bytes) -> Iterator[None]:
        """Draw what was read, and stop after each whole frame."""
        self._not_fed += fresh
        while (end := self._not_fed.find(FRAME_ENDS)) >= 0:
            end += len(FRAME_ENDS)
            self._stream.feed(_NOT_DRAWN.sub(b"", self._not_fed[:end]))
            self._not_fed = self._not_fed[end:]
            yield
        begun = self._not_fed.find(FRAME_BEGINS)
        safe = begun if begun >= 0 else max(0, len(self._not_fed) - _LONGEST_COMMAND)
        self._stream.feed(_NOT_DRAWN.sub(b"", self._not_fed[:safe]))
        self._not_fed = self._not_fed[safe:]

    def read_frame(self, until: float) -> Iterator[None]:
        """Read and draw up to a moment of ``time.perf_counter``; stop after each whole frame."""
        while self._is_open and (left := until - time.perf_counter()) > 0:
            yield from self.draw(self.read(left))

    def read_rest(self) -> Iterator[None]:
        """Read and draw what an ended program has left behind."""
        while fresh := self.read(0.0):
            yield from self.draw(fresh)
        self._stream.feed(_NOT_DRAWN.sub(b"", self._not_fed))
        self._not_fed = b""

    def wait_for(self, *texts: str, absent: str = "") -> None:
        """Until the screen shows all of ``texts``, and no longer shows ``absent``."""

        def is_there() -> bool:
            text = self.text
            return all(each in text for each in texts) and not (absent and absent in text)

        self.wait_until(is_there, f"{texts} without {absent!r}" if absent else str(texts))

    def wait_until(self, is_there: Callable[[], bool], said: str = "what was waited for") -> None:
        if is_there():
            return
        for _ in self.read_frame(time.perf_counter() + PATIENCE):
            if is_there():
                return
        for _ in self.read_rest():
            pass
        if not is_there():
            raise AssertionError(f"The screen never showed {said}. It shows:\n{self.text}")

    # -------------------------------------------------------------------------------------------------- doing

    def press(self, keys: str) -> None:
        """Press keys, all at once; a letter or digit is itself, "\\r" is Enter, "\\x7f" Backspace."""
        os.write(self.descriptor, keys.encode())

    def send_signal(self, number: int) -> None:
        self.program.send_signal(number)

    def close(self) -> None:
        """Close the window."""
        if self.descriptor >= 0:
            os.close(self.descriptor)
            self.descriptor, self._is_open = -1, False

    def wait_for_end(self) -> int:
        """The exit status once the program has ended; what it wrote last is read and drawn."""
        end = time.perf_counter() + PATIENCE
        while self.program.poll() is None and time.perf_counter() < end:
            with contextlib.suppress(OSError):
                for _ in self.draw(self.read(0.02)):
                    pass
            if not self._is_open:
                break
        status = self.program.wait(timeout=max(0.1, end - time.perf_counter()))
        for _ in self.read_rest():
            pass
        return status


def _mode(number: int, is_on: bool) -> bytes:
    return f"\x1b[?{number}{'h' if is_on else 'l'}".encode()
