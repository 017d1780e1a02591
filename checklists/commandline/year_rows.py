"""The commands about more than a day: two versions of a day, the year's beginning, looking back."""

from __future__ import annotations

from checklists.commandline.option import ALWAYS, Command, Option

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
)
