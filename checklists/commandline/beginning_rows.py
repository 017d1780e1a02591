"""The commands about beginning: lesson types, the first morning, an icon to start it with."""

from __future__ import annotations

from checklists.commandline import values
from checklists.commandline.option import ALWAYS, Command, Option

BEGINNING_COMMANDS: tuple[Command, ...] = (
    Command(
        "lesson-types",
        "usual lessons to start from: what they take, and a lesson of your own made from one",
        (
            Option("--show", "show", "one in full, for 24 children at 6 tables", "clay", values.read_name),
            Option("--start", "start", "a lesson of yours of it; what it needs comes too", "clay", values.read_name),
            Option("--title", "title", "with --start: what your lesson is called", "Pinch Owls", values.read_name),
            Option("--grade", "grade", "as this grade has it", "K", values.read_school_grade),
            *ALWAYS,
        ),
        (
            ("trundle lesson-types", "all of them, and what the children make"),
            ("trundle lesson-types --show clay --grade K", "part by part, with everything a kindergarten class takes"),
            ('trundle lesson-types --start clay --title "Pinch Owls"', "yours now; what entered the catalogue is told"),
        ),
    ),
    Command(
        "guide",
        "the first morning, step by step, with the keys of the screen",
        ALWAYS,
        (("trundle guide", "the same as on the screen behind Tab, to print"),),
    ),
    Command(
        "icon",
        "put an icon onto your desktop that starts Trundle with a double click",
        ALWAYS,
        (
            ("trundle icon", "on the desktop; where it is and what to do with it is told"),
            ("trundle icon ~/.local/share/applications", "into the start menu of a Linux computer or a Chromebook"),
        ),
        "the folder it goes into; nothing: the desktop",
        40,
    ),
)
