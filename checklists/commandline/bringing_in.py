"""The command that brings in what exists: it tells what it understood, and with `--yes` does it."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import get_args

from checklists.bringing_in.bring_in import bring_in
from checklists.bringing_in.understood import Kind, Understood
from checklists.commandline.opening import open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.commandline.run import WRONG
from checklists.files.found_tables import MOST_BYTES, CannotRead, read_file
from checklists.pages.bringing_in import say_problems, understood_as_json, understood_page
from checklists.words import clean, join_words, nearest

KINDS: tuple[Kind, ...] = get_args(Kind)
EXAMPLE = "trundle bring-in classes classes.csv"
ONE_OF = {"classes": "class", "timetable": "timetables", "supplies": "supply", "days-off": "day-off"}
EVERY_ROW = frozenset(range(1, 100_001))


def bring_in_or_take_back(request: Request) -> int:
    """Tell what was understood of a file; with `--yes` put it into the plan. 2 where nothing was understood."""
    if request.take_back:
        return _take_back(request)
    if len(request.words) < 2:
        raise NotUnderstood(f"Say what, and from which file: {EXAMPLE}. What can be brought in: {join_words(KINDS)}.")
    kind, name = _kind(request.words[0]), request.words[1]
    content = _content(name)
    source = "STANDARD INPUT" if name == "-" else clean(Path(name).name)
    with open_book(request, write=request.yes) as book:
        understood = bring_in(
            kind,
            content,
            book.plan_files,
            request.now.date(),
            take=EVERY_ROW if request.whole else frozenset(request.take),
            leave=frozenset(request.leave),
            own_rules=book.own_rules,
        )
        if request.yes and understood.problems:
            raise NotUnderstood(f"It cannot be brought in so; nothing is changed. {next(say_problems(understood))}")
        done: tuple[str, ...] = ()
        if request.yes and understood.changes_anything:
            book.change_files(understood.files, understood.said, request.now)
            done = (f"Done: {understood.said}.", "trundle bring-in --undo takes it back, and so does u on the screen.")
        _tell(request, understood, source, done)
        return 0 if understood.is_anything else WRONG


def _take_back(request: Request) -> int:
    with open_book(request, write=True) as book:
        if book.newest_files_step() is None:
            raise NotUnderstood("There is nothing to take back.")
        said = f"Taken back: {book.take_files_back()}."
        if request.json:
            say_json({"format": 1, "page": "bring-in", "done": False, "did": [said]})
        else:
            say(f"{said}\n")
        return 0


def _tell(request: Request, understood: Understood, source: str, done: tuple[str, ...]) -> None:
    if request.json:
        say_json(understood_as_json(understood, source, done))
    else:
        say(understood_page(understood, source, done))


def _kind(word: str) -> Kind:
    plain = word.casefold().replace(" ", "-").replace("_", "-")
    for kind in KINDS:
        if plain in (kind, ONE_OF[kind]):
            return kind
    near = nearest(plain, KINDS)
    meant = f" Is {near} meant?" if near else ""
    raise NotUnderstood(f"{word} cannot be brought in: {join_words(KINDS, 'or')}.{meant}")


def _content(name: str) -> bytes:
    if name == "-":
        return sys.stdin.buffer.read(MOST_BYTES + 1)
    try:
        return read_file(Path(name).expanduser())
    except CannotRead as problem:
        raise NotUnderstood(clean(str(problem))) from None
