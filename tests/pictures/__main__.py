"""Make the pictures anew: ``python -m tests.pictures`` opens the demo school, presses keys and writes what is shown."""

from __future__ import annotations

import asyncio
import os
import re
import tempfile
from datetime import datetime
from pathlib import Path

from checklists.book import Book
from checklists.demo import DEMO_TIME, open_demo

MORE_TO_SET_UP = ("down",) * 6
"""From the first page behind Tab to where everything is set up."""
TO_ITEMS = ("enter", "enter", "down", "down", "enter", "enter", "down", "enter", "down")
"""From a lesson found in the list to what its first part needs."""
FOLDER = Path(__file__).parent
PICTURES: dict[str, tuple[tuple[int, int], tuple[str, ...]]] = {
    "morning": ((100, 30), ("right", "right", "right", "enter", "enter")),
    "before-you-go": ((100, 30), ("g",)),
    "day-end": ((100, 30), ("e",)),
    "what-came-back": ((100, 30), ("v", "enter", "v", "2", "space", "a", "4", ",", "1", "1", "space", "t", "8")),
    "a-day-that-is-different": ((100, 30), ("t", "5", "1")),
    "route": ((100, 30), ("tab", "enter")),
    "set-up": ((100, 30), ("tab", *MORE_TO_SET_UP, "enter")),
    "what-a-part-needs": ((100, 30), ("tab", *MORE_TO_SET_UP, "enter", "4", "j", "t", "i", "d", *TO_ITEMS)),
    "what-is-wrong-with-a-line": ((100, 30), ("right", "right", "right", "slash")),
    "why": ((100, 30), ("right", "right", "right", "right", "right", "right", "down", "w")),
}
"""Name -> size in columns and rows, keys pressed."""


async def take(size: tuple[int, int], keys: tuple[str, ...], folder: Path) -> str:
    """The SVG of the screen after some keys, always the same for the same program."""
    from tui.app import TrundleApp

    on = open_demo(folder, reset=True)
    with Book.open(folder, today=on) as book:
        app = TrundleApp(book, lambda: datetime.combine(on, DEMO_TIME), on=on)
        async with app.run_test(size=size) as pilot:
            for key in keys:
                await pilot.press(key)
            await pilot.pause()
            picture = app.export_screenshot(title="trundle demo")
    picture = re.sub(r"@font-face\s*\{.*?\}", "", picture, flags=re.DOTALL)  # fonts from elsewhere: nothing is fetched
    return re.sub(r"terminal-\d+", "terminal", picture)


def main() -> None:
    """Write every picture."""
    os.environ["TEXTUAL_ANIMATIONS"] = "none"
    for name, (size, keys) in PICTURES.items():
        with tempfile.TemporaryDirectory() as folder:
            picture = asyncio.run(take(size, keys, Path(folder) / "demo"))
        (FOLDER / f"{name}.svg").write_text(picture, encoding="utf-8")


if __name__ == "__main__":
    main()
