"""The system tells the program to end: by a signal while the terminal is there, or because its window was closed.

With the window the terminal is gone. Textual's writing thread ends at the first write that fails, and what is put into
its queue after that waits for ever once the queue is full; so the program does not take the usual way out then.
"""

from __future__ import annotations

import asyncio
import os
import signal
import sys
import threading
from collections.abc import Callable
from types import FrameType

LONGEST_SAVING = 5.0
"""Seconds after which the program ends whatever it waits for: every step is in the day's journal by then."""


def on_leaving_signals(leave: Callable[[int], None], save: Callable[[], None]) -> None:
    """Call ``leave`` with the exit status when the program is to end; where the window is gone, ``save`` and end."""
    loop = asyncio.get_running_loop()
    try:
        loop.add_signal_handler(signal.SIGTERM, leave, 128 + signal.SIGTERM)
        if hasattr(signal, "SIGHUP"):
            signal.signal(signal.SIGHUP, _Hangup(loop, leave, save))
    except (NotImplementedError, RuntimeError, ValueError):  # no signals on this system, or not the main thread
        return


class _Hangup:
    """What is done when the window is closed. It runs between two steps of whatever the program is at."""

    def __init__(self, loop: asyncio.AbstractEventLoop, leave: Callable[[int], None], save: Callable[[], None]) -> None:
        self.loop = loop
        self.leave = leave
        self.save = save

    def __call__(self, number: int, frame: FrameType | None) -> None:
        status = 128 + number
        if is_terminal_there():
            self.loop.call_soon_threadsafe(self.leave, status)
            return
        last = threading.Timer(LONGEST_SAVING, os._exit, (status,))  # where the loop itself waits for the terminal
        last.daemon = True
        last.start()
        self.loop.call_soon_threadsafe(self.end, status)

    def end(self, status: int) -> None:
        try:
            self.save()
        finally:
            os._exit(status)


def is_terminal_there() -> bool:
    """Whether the terminal that the screens are written to still answers."""
    import termios  # there is one where there is such a signal

    try:
        termios.tcgetattr(sys.__stderr__.fileno() if sys.__stderr__ is not None else 2)
    except (OSError, termios.error):
        return False
    return True
