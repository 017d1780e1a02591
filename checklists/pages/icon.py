"""Where a start file is and what to do if the system asks about it: sentences, and JSON."""

from __future__ import annotations

from checklists.files.start_files import Icon
from checklists.pages.fields import Fields
from checklists.pages.plain import wrap
from checklists.start_file import Start, System
from checklists.words import clean

_STARTS = "A double click on it starts Trundle. To be rid of it, put it into the bin: nothing else goes with it."
_MOVED = "Where Trundle's folder is moved or renamed, make the icon again; this one then says so."
_ASKED: dict[System, tuple[str, ...]] = {
    "windows": (
        "If Windows asks whether it may be run: this file was made here, by Trundle, and only starts it. “More info”, "
        "then “Run anyway”.",
        "Where your school does not allow that, ask who looks after the computers; typing trundle works as before.",
    ),
    "mac": (
        "If the Mac says that it was not opened: System Settings, Privacy & Security, and there “Open Anyway”. This "
        "file was made here, by Trundle, and only starts it.",
    ),
    "linux": (
        "If nothing happens, or its text is shown: click on it with the right button and choose “Allow Launching” or "
        "“Run as a Program”, once.",
        "Where the desktop shows no icons, and on a Chromebook, choose the start menu: there it is among the programs.",
    ),
}
"""Common practice of these systems, no source."""


def say_icon(icon: Icon, start: Start, system: System) -> tuple[str, ...]:
    """Where it is, what it starts, and what to do if it is not run at once."""
    is_there = "It is there already" if icon.was_there else "Written"
    folder = (f"It opens the school in {clean(start.folder)}.",) if start.folder else ()
    return (
        f"{is_there}: {clean(str(icon.paths[0]))}",
        *(f"Beside it, the same as a plain script: {clean(each.name)}" for each in icon.paths[1:]),
        _STARTS,
        *folder,
        *_ASKED[system],
        _MOVED,
    )


def icon_page(icon: Icon, start: Start, system: System) -> str:
    return "\n".join([*(row for text in say_icon(icon, start, system) for row in wrap(text)), ""])


def icon_as_json(icon: Icon, start: Start, system: System) -> Fields:
    """The page "icon": ``made`` are the files, ``data`` the folder it opens, null for the usual one."""
    return {
        "format": 1,
        "page": "icon",
        "made": [str(path) for path in icon.paths],
        "was_there": icon.was_there,
        "data": start.folder or None,
        "said": list(say_icon(icon, start, system)),
    }
