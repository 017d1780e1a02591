"""The commands about more than a day: two versions of a day, the year's beginning, looking back, backups."""

from __future__ import annotations

from checklists.commandline import day_values, values
from checklists.commandline.option import ALWAYS, AT, DATA, JSON, Command, Option

YEAR_COMMANDS: tuple[Command, ...] = (
    Command(
        "versions",
        "two versions of a day from a folder kept in step: shown side by side, merged on request",
        (Option("--merge", "merge", "make one of the versions of a day; both are kept aside"), *ALWAYS),
        (
            ("trundle versions", "every day of which there are two versions, and what each has"),
            ("trundle versions --merge --date 2026-10-05", "everything of both; of two words on a thing the newer"),
        ),
    ),
    Command(
        "look-back",
        "how it stands: every class against the plan, who is owed what, what is missing, lent or short",
        ALWAYS,
        (
            ("trundle look-back", "as today opens, or at its end where it is closed"),
            ("trundle look-back --date 2026-10-16", "at the end of that week"),
        ),
    ),
    Command(
        "new-year",
        "begin the next school year: classes move up, what you have stays",
        (
            Option("--first", "first", "its first school day", "2027-08-30", values.read_day_to_move_to),
            Option("--last", "last", "its last one", "2028-06-15", values.read_day_to_move_to),
            Option(
                "--off",
                "off_days",
                "a day off or a break, with its reason",
                "2027-11-25..2027-11-26=Thanksgiving",
                day_values.read_days_off,
                several=True,
            ),
            Option("--days-off", "days_off", "a text file of them, one a line", "days-off.txt", values.read_name),
            Option("--try", "trial", "only show what it would do; nothing is written"),
            Option("--undo", "take_back", "last year again, as long as nothing is told in the new one"),
            *ALWAYS,
        ),
        (
            ("trundle new-year --first 2027-08-30 --last 2028-06-15 --try", "what would happen, class by class"),
            (
                "trundle new-year --first 2027-08-30 --last 2028-06-15 --off 2027-09-06",
                "the year begins; last year's plan files are kept",
            ),
            ("trundle new-year --undo", "it has not begun after all"),
        ),
    ),
    Command(
        "backup",
        "back up everything into one dated file: plan, rules, daybook",
        (
            Option("--to", "place", "the folder it goes into; Documents where none is named", "E:", values.read_name),
            Option("--as-folder", "as_folder", "as a folder of files instead of one archive"),
            DATA,
            AT,
            JSON,
        ),
        (
            ("trundle backup", "a dated archive in Documents; a second one of the day gets -2"),
            ("trundle backup --to /media/stick", "the same on a stick"),
        ),
    ),
    Command(
        "restore",
        "put a backup back; without --yes it is only told what that would do",
        (Option("--yes", "yes", "do it; what is there now is backed up first"), DATA, AT, JSON),
        (
            ("trundle restore trundle-applewick-elementary-2026-10-05.zip", "what is in it, and what would change"),
            ("trundle restore trundle-applewick-elementary-2026-10-05.zip --yes", "put it back, all or nothing"),
        ),
        "the backup: its file or folder",
        20,
        1,
    ),
    Command(
        "rename",
        "call a class, room, period, timetable day or bell schedule otherwise, everywhere",
        ALWAYS,
        (
            ("trundle rename class 3-B 3-W", "in the timetable, in your rules, in what is told of its days"),
            ('trundle rename room 12 "the barn"', "and where classes are, walks and what stands there"),
            ("trundle rename period P1 first", "in every bell schedule; day and bells are said the same way"),
        ),
        "what it is (class, room, period, day or bells), how it is called, how it is called from now on",
        3,
        3,
    ),
    Command(
        "uses",
        "what uses a thing: before it is changed or taken out",
        ALWAYS,
        (
            ("trundle uses supply glue-stick", "the parts, boxes and kits that need it, the classes that have it"),
            ("trundle uses room 12", "who is taught there, which walks and wishes name it"),
        ),
        "what it is (class, room, period, day, supply, kit, lesson), and its name",
        2,
        2,
    ),
)
