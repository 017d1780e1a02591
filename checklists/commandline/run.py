"""Do what a request asks, and end every way it can go wrong in words and an exit status."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from importlib import import_module

from checklists.commandline.output import complain, say, say_json
from checklists.commandline.request import NotUnderstood, Request

WRONG = 2
STOPPED = 130
"""What shells give for a program that was stopped from the keyboard."""


def run(request: Request) -> int:
    """The exit status: 0 fine, 1 something critical is open, 2 a file or what was typed is not right."""
    try:
        return _run(request)
    except BrokenPipeError:
        # The reader has what it wanted. Python would complain once more when it empties the stream at the end.
        with suppress(OSError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        complain("\n")
        return STOPPED


def run_alone(request: Request) -> int:
    """``run`` where the process ends with it: nothing is collected on the way, nor once more at the end."""
    gc.disable()
    try:
        return run(request)
    finally:
        gc.freeze()


def _run(request: Request) -> int:
    if request.command == "help":
        say(request.message)
        return 0
    if request.command == "version":
        from checklists import VERSION

        say(f"trundle {VERSION}\n")
        return 0
    if request.command == "not understood":
        complain(f"{request.message}\n")
        return WRONG
    return _run_on_book(request)


def _run_on_book(request: Request) -> int:
    from checklists.book import CannotOpen, NotSaved

    try:
        return _action(request)(request)
    except NotUnderstood as problem:
        return _fail(request, str(problem))
    except NotSaved as problem:
        return _fail(request, str(problem))
    except CannotOpen as problem:
        if not request.json and (message := _say_no_school(request)) is not None:
            return _fail(request, message)
        from checklists.pages.as_json import failure_as_json
        from checklists.pages.problems import problems_page

        if request.json:
            say_json(failure_as_json("There is no plan that can be used.", problem.problems))
        else:
            complain(problems_page(problem.problems))
            complain("Nothing of the daybook was touched. trundle demo shows a demo school.\n")
        return WRONG


def _say_no_school(request: Request) -> str | None:
    """What to do where no school was set up yet; None where a plan is there that does not read."""
    from checklists.commandline.folder import folder_of
    from checklists.files.set_up_file import what_is_in

    folder = folder_of(request)
    holds = what_is_in(folder)
    if holds == "a plan":
        return None
    begun = "is not set up to the end" if holds == "half a set-up" else "was set up yet"
    no = "The school" if holds == "half a set-up" else "No school"
    return f"{no} in {folder} {begun}: trundle alone does that on screen, trundle demo shows a demo school."


def _fail(request: Request, message: str) -> int:
    if request.json:
        from checklists.pages.as_json import failure_as_json

        say_json(failure_as_json(message))
    else:
        complain(f"{message}\n")
    return WRONG


_ACTIONS = {
    "today": ("looking", "show_morning"),
    "morning": ("looking", "show_morning"),
    "leaving": ("looking", "show_leaving"),
    "why": ("looking", "show_why"),
    "changeover": ("looking", "show_changeover"),
    "check": ("looking", "check_everything"),
    "rules": ("rules_shown", "show_rules"),
    "rule": ("rules_changed", "change_rule"),
    "set": ("rules_changed", "set_number"),
    "tick": ("packing", "tick"),
    "undo": ("packing", "undo"),
    "low": ("packing", "say_level"),
    "count": ("counting", "count_supply"),
    "order": ("ordering", "order"),
    "delivered": ("ordering", "take_delivery"),
    "orders": ("ordering", "show_orders"),
    "change": ("changing", "change_day"),
    "testing": ("testing", "announce_testing"),
    "joined": ("children", "take_in"),
    "left": ("children", "let_leave"),
    "excuse": ("children", "excuse"),
    "broken": ("children", "say_broken"),
    "hanging": ("children", "say_hanging_work"),
    "class": ("classes", "show_or_change_class"),
    "substitute": ("substitute", "show_substitute_sheet"),
    "sheet": ("sheet", "show_sheet"),
    "route": ("route", "show_route"),
    "pin": ("pins", "show_or_say_pin"),
    "walk": ("walks", "show_or_say_walk"),
    "change-line": ("line_changes", "show_or_change_line"),
    "rooms": ("rooms", "show_or_say_rooms"),
    "report": ("reporting", "report"),
    "answer": ("answering", "answer"),
    "case": ("cases", "show_or_answer_case"),
    "lend": ("lending", "lend_or_take_back"),
    "where": ("whereabouts", "show_or_say_where"),
    "close": ("closing", "close"),
    "look-back": ("look_back", "show_how_it_stands"),
    "new-year": ("new_year", "begin_new_year"),
    "lesson-types": ("lesson_types", "show_or_start_lesson_type"),
    "backup": ("backup", "back_up"),
    "restore": ("backup", "restore"),
    "rename": ("naming", "rename_thing"),
    "uses": ("naming", "show_uses"),
    "guide": ("guide", "show_guide"),
    "icon": ("icon", "make_icon"),
    "bring-in": ("bringing_in", "bring_in_or_take_back"),
    "versions": ("versions", "show_or_merge_versions"),
    "demo": ("demo", "show_demo"),
}
"""Command -> module of this package and function in it."""


def _action(request: Request) -> Callable[[Request], int]:
    """The function of the command; imported only now, so that each command starts with no more than it needs."""
    module, name = _ACTIONS[request.command]
    action: Callable[[Request], int] = getattr(import_module(f"checklists.commandline.{module}"), name)
    return action
