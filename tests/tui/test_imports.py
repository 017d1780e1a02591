"""Who loads whom: the core knows no screen, and the command loads Textual only for a screen."""

from __future__ import annotations

import pkgutil
import subprocess
import sys

import checklists


def loaded_by(code: str) -> set[str]:
    """Names of the top packages and of our modules that a fresh interpreter has loaded after ``code``."""
    told = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys\nprint('\\n'.join(sys.modules))"],
        capture_output=True,
        text=True,
        check=True,
    )
    return set(told.stdout.split())


def test_the_core_loads_neither_textual_nor_a_screen() -> None:
    names = [found.name for found in pkgutil.walk_packages(checklists.__path__, "checklists.")]
    names = [name for name in names if not name.endswith("__main__")]
    loaded = loaded_by("\n".join(f"import {name}" for name in names))
    assert "checklists.book" in loaded
    assert not {name for name in loaded if name.split(".")[0] in ("textual", "rich", "tui")}


def test_the_command_loads_textual_only_for_a_screen() -> None:
    loaded = loaded_by("import tui.main\ntry:\n    tui.main.main(['--version'])\nexcept SystemExit:\n    pass")
    assert "tui.main" in loaded
    assert "textual" not in loaded


def test_a_school_that_is_set_up_loads_nothing_of_the_first_start() -> None:
    loaded = loaded_by("import tui.main, tui.app, checklists.book")
    assert not {name for name in loaded if "first_start" in name or "lesson_types" in name or "set_up" in name}


def test_the_first_screen_loads_no_other_screen() -> None:
    loaded = loaded_by("import tui.app")
    assert "tui.screens.morning" in loaded
    others = {f"tui.screens.{name}" for name in ("leaving", "day_end", "why", "help", "page", "matters_screen")}
    assert not others & loaded
    assert not {"textual.widgets._header", "textual.widgets._footer", "textual.widgets._markdown"} & loaded
