"""A process with the program's modules ready in it, from which programs are started in terminals faster than anew.

Each is a process of its own with a terminal of its own, as if started by ``python -m tui.main``; only the imports were
done before. So hundreds of programs can be killed in a test that people still run.
"""

from __future__ import annotations

import contextlib
import fcntl
import os
import signal
import socket
import subprocess
import sys
import termios
import time

from tests.terminal import PROJECT


class Born:
    """A program from the nursery, as far as a terminal needs to know it."""

    def __init__(self, pid: int) -> None:
        self.pid = pid

    def poll(self) -> int | None:
        try:
            os.kill(self.pid, 0)
        except ProcessLookupError:
            return 0
        return None

    def send_signal(self, number: int) -> None:
        with contextlib.suppress(ProcessLookupError):
            os.kill(self.pid, number)

    def kill(self) -> None:
        self.send_signal(signal.SIGKILL)

    def wait(self, timeout: float = 30.0) -> int:
        end = time.monotonic() + timeout
        while self.poll() is None:
            if time.monotonic() > end:
                raise subprocess.TimeoutExpired(str(self.pid), timeout)
            os.sched_yield()
        return 0


class Nursery:
    """Use it in a ``with`` statement."""

    def __init__(self) -> None:
        self._socket, other = socket.socketpair()
        known = {"TERM": "xterm-256color", "COLORTERM": "truecolor", "PYTHONPATH": str(PROJECT)}
        self._mother = subprocess.Popen(
            [sys.executable, "-m", "tests.lost.nursery", str(other.fileno())],
            pass_fds=[other.fileno()],
            env={**os.environ, **known},
            cwd=PROJECT,
        )
        other.close()

    def start(self, terminal_name: str, words: tuple[str, ...]) -> Born:
        """Start the screens with ``words`` in a terminal."""
        self._socket.sendall("\0".join((terminal_name, *words)).encode() + b"\n")
        pid = self._socket.recv(32)
        assert pid, "the nursery has ended"
        return Born(int(pid))

    def __enter__(self) -> Nursery:
        return self

    def __exit__(self, *_: object) -> None:
        self._socket.close()
        self._mother.wait()


def give_birth(asked: socket.socket) -> None:
    """For each line "terminal, words": a new process with that terminal; its number is the answer."""
    import checklists.commandline
    import checklists.demo  # noqa: F401
    import tui.app
    import tui.screens.day_end  # noqa: F401
    from tui.main import main

    signal.signal(signal.SIGCHLD, signal.SIG_IGN)
    for line in asked.makefile("rb"):
        name, *words = line.rstrip(b"\n").decode().split("\0")
        terminal = os.open(name, os.O_RDWR | os.O_NOCTTY)
        pid = os.fork()
        if pid == 0:
            signal.signal(signal.SIGCHLD, signal.SIG_DFL)
            asked.close()
            os.setsid()
            fcntl.ioctl(terminal, termios.TIOCSCTTY, 0)
            for standard in (0, 1, 2):
                os.dup2(terminal, standard)
            os.close(terminal)
            os._exit(main(words))
        os.close(terminal)
        asked.sendall(b"%d" % pid)


if __name__ == "__main__":
    give_birth(socket.socket(fileno=int(sys.argv[1])))
