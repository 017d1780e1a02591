"""The ``trundle`` command: hands everything that is no screen to the command line, and opens the screen otherwise.

Importing this module imports no Textual, so that printing a page or a question of a script starts at once.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
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


def open_screen(request: Request) -> int:
    """Open the day's list on screen; the exit status once it is left."""
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
    try:
        app.run()
    finally:
        book.release()
    return app.return_code or 0


if __name__ == "__main__":
    sys.exit(main())
