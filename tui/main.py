"""The ``trundle`` command: hands everything that is no screen to the command line, and opens the screen otherwise.

Importing this module imports no Textual, so that printing a page or a question of a script starts at once.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from checklists.commandline import Request

BAD_USAGE = 2
NO_TERMINAL = "trundle: no terminal, so no screen can open. `trundle morning` prints the list.\n"


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command. 0 fine, 1 something critical is open or an error, 2 bad usage or bad files."""
    from checklists.commandline import parse, run_alone

    request = parse(list(sys.argv[1:] if argv is None else argv))
    if not request.wants_screen:
        return run_alone(request)
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        sys.stderr.write(NO_TERMINAL)
        return BAD_USAGE
    return open_screen(request)


def open_screen(request: Request, *, greeting: str = "") -> int:
    """Open the day's list on screen; the exit status once it is left. ``greeting`` is what it says at first."""
    import gc

    gc.disable()  # nothing made before the first paint is garbage; the application turns it on again
    from checklists.book import Book, CannotOpen, NotSaved
    from checklists.commandline import folder_of

    on = request.date
    folder = folder_of(request)
    if request.command == "demo":
        from checklists.demo import DEMO_TIME, open_demo

        try:
            on = open_demo(folder, reset=request.reset)
        except NotSaved as problem:
            sys.stderr.write(f"trundle: {problem}\n")
            return BAD_USAGE
    try:
        book = Book.open(folder, today=on if request.command == "demo" else request.now.date())
    except CannotOpen as problem:
        if request.command != "demo" and is_without_plan(folder):
            return begin(request, folder)
        for each in problem.problems:
            sys.stderr.write(f"trundle: {each}\n")
        sys.stderr.write("trundle demo opens a demo school; its files are the pattern for your own.\n")
        return BAD_USAGE
    if request.tomorrow:
        on = book.day(book.list_date(request.now.date())).next_school_day
    from tui.app import TrundleApp

    started = datetime.now()
    offset = request.now - started
    if on is not None and request.command == "demo":
        offset = datetime.combine(on, request.now.time() if request.clock_set else DEMO_TIME) - started
    app = TrundleApp(book, lambda: datetime.now() + offset, on=on)
    app.greeting = greeting
    try:
        app.run()
    finally:
        book.release()
    if app.wants_own_school:
        return open_own_school(request)
    return app.return_code or 0


def is_without_plan(folder: Path) -> bool:
    """Whether setting up a school is what a folder needs."""
    from checklists.files.set_up_file import what_is_in

    return what_is_in(folder) != "a plan"


def begin(request: Request, folder: Path, *, straight: bool = False) -> int:
    """Where there is no plan: the demo school, or her own, set up or from a backup, whose list then opens."""
    from msgspec import structs

    from tui.first_app import GREETING, GREETING_OF_WHAT_WAS_PUT_BACK, begin_in

    chosen, status = begin_in(folder, request, straight=straight)
    if chosen == "demo":
        return open_screen(structs.replace(request, command="demo", folder=None, date=None, tomorrow=False))
    if chosen in ("list", "put back"):
        greeting = GREETING if chosen == "list" else GREETING_OF_WHAT_WAS_PUT_BACK
        return open_screen(structs.replace(request, folder=folder, date=None, tomorrow=False), greeting=greeting)
    return status


def open_own_school(request: Request) -> int:
    """From the demo school to her own: its list, or setting it up."""
    from msgspec import structs

    from checklists.files.places import data_folder

    folder = data_folder()
    own = structs.replace(request, command="today", folder=folder, date=None, tomorrow=False, reset=False)
    return begin(own, folder, straight=True) if is_without_plan(folder) else open_screen(own)


if __name__ == "__main__":
    sys.exit(main())
