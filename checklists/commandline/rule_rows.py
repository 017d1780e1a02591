"""The commands about rules, as rows of the table of commands."""

from __future__ import annotations

from checklists.commandline import rule_values, values
from checklists.commandline.option import ALWAYS, PRIVATE, Command, Option

_TRY = Option("--try", "trial", "only show what it would do; nothing is written")

RULE_COMMANDS: tuple[Command, ...] = (
    Command(
        "rules",
        "all rules by subject, what is switched off, your own, and the numbers they go by",
        (
            Option("--own", "own", "only your own rules"),
            Option("--off", "off", "everything that is switched off, since when, for whom and why"),
            Option("--settings", "settings", "the numbers that rules go by"),
            Option(
                "--why", "why", "one rule in full, by its id or words of its title", "count-sharps", values.read_name
            ),
            PRIVATE,
            *ALWAYS,
        ),
        (
            ("trundle rules", "every rule by subject, and whether it is on"),
            ("trundle rules --why choice-bin", "what the rule asks for, what it does and where it comes from"),
            ("trundle rules --off", "what does not apply, for whom and until when"),
        ),
    ),
    Command(
        "rule",
        "make a rule of your own, or switch a rule off or on",
        (
            Option(
                "--per",
                "per",
                "count for each child, pair, table, class, child with the need, or once a lesson",
                "table",
                rule_values.read_per,
            ),
            Option("--critical", "critical", "the lesson cannot start without it"),
            Option(
                "--when", "when", "only where this is so, like a tag of the part", "wet", values.read_name, several=True
            ),
            Option(
                "--grade",
                "grade",
                "only for this grade, or up to it, or from it on",
                '"up to 1"',
                rule_values.read_grade,
            ),
            Option("--class", "for_class", "only for this class", "3-B", values.read_name),
            Option("--lesson", "lesson", "only for this lesson", "burlap-birds", values.read_name),
            Option("--need", "need", "only where a child has this need", "fine-motor", values.read_name),
            Option("--instead", "instead", "with never: what to take in its place", "yarn-ball", values.read_name),
            Option(
                "--reason",
                "reason",
                "why; a safety rule is switched off with a reason only",
                '"they spill"',
                values.read_name,
            ),
            Option(
                "--until",
                "until",
                "with off: the last day on which it is off",
                "2026-10-30",
                values.read_day_to_move_to,
            ),
            _TRY,
            PRIVATE,
            *ALWAYS,
        ),
        (
            ("trundle rule add towel 2 --per table --when wet --try", "what it would do to the coming two weeks"),
            ("trundle rule add towel 2 --per table --when wet", "the same, written into rules.toml"),
            ('trundle rule never glitter --grade "up to 1"', "glitter never comes along for these grades"),
            ("trundle rule spare white-12x18 8 --lesson paper-hills", "at least 8 more than are needed"),
            ("trundle rule off choice-bin --class 3-B --until 2026-10-30", "not for 3-B, and only until then"),
            ("trundle rule on choice-bin --class 3-B", "for 3-B again"),
            ("trundle rule remove towel-wet", "takes a rule of your own out"),
        ),
        "add, never or spare and a supply; or off, on or remove and a rule",
        22,
        2,
    ),
    Command(
        "set",
        "change a number that rules go by",
        (_TRY, PRIVATE, *ALWAYS),
        (
            ("trundle set towels_a_child 2", "two towels for each child; trundle rules --settings shows the names"),
            ("trundle set towels_a_child built-in", "as it comes with the program"),
        ),
        "the setting, and a number, a grade, or built-in",
        2,
        2,
    ),
)
