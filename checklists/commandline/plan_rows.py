"""The commands about what the plan files hold: bringing in what exists."""

from __future__ import annotations

from checklists.commandline import values
from checklists.commandline.option import ALWAYS, Command, Option

PLAN_COMMANDS: tuple[Command, ...] = (
    Command(
        "bring-in",
        "bring in what exists: classes, the timetable, supplies, days off, from a file or a paste",
        (
            Option("--yes", "yes", "do it; without it, it is only told what was understood"),
            Option("--take", "take", "take these rows or events all the same", "3,7", values.read_row_numbers),
            Option("--all", "whole", "take all of them"),
            Option("--leave", "leave", "leave these rows or events out", "7", values.read_row_numbers),
            Option("--undo", "take_back", "take back what was brought in last"),
            *ALWAYS,
        ),
        (
            ("trundle bring-in classes classes.csv", "what was understood, row by row; nothing is changed"),
            ("trundle bring-in classes classes.csv --yes", "it is in the plan; nothing that was there is removed"),
            ("trundle bring-in timetable week.txt", "days along the top and periods down the side, or a list"),
            ("trundle bring-in supplies -", "from standard input: paste, then end it as your system does"),
            ("trundle bring-in days-off school.ics --take 3,7", "a calendar: events 3 and 7 are days off too"),
            ("trundle bring-in --undo", "as it was before"),
        ),
        "classes, timetable, supplies or days-off, and a file (or - for standard input)",
        2,
    ),
)
