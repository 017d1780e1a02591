"""Handing a file to the program of the system that opens its kind: a browser for a page, an editor for a text."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path


def open_file(path: Path) -> bool:
    """Open a file on this computer in a window of its own; false where that cannot be asked for.

    Nothing is waited for, and nothing that is said there reaches the screen. Sources: Python, ``os.startfile``; the
    manual page of open on the Mac; freedesktop.org, xdg-open, which without a desktop would draw into this terminal.
    """
    if sys.platform == "win32":
        try:
            os.startfile(path)
        except OSError:
            return False
        return True
    command = "open" if sys.platform == "darwin" else "xdg-open"
    has_desktop = sys.platform == "darwin" or any(os.environ.get(each) for each in ("DISPLAY", "WAYLAND_DISPLAY"))
    found = shutil.which(command) if has_desktop else None
    if found is None:
        return False
    quiet = subprocess.DEVNULL
    try:
        subprocess.Popen([found, str(path)], stdin=quiet, stdout=quiet, stderr=quiet, start_new_session=True)
    except OSError:
        return False
    return True
