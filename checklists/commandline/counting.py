"""The command that says how many there are of a supply."""

from __future__ import annotations

from checklists.commandline.finding import find_container, find_supply
from checklists.commandline.opening import day_to_pack, moment_on, open_book
from checklists.commandline.packing import record
from checklists.commandline.request import NotUnderstood, Request
from checklists.commandline.values import read_number
from checklists.daybook.entries import AnyEntry, CountedStock, FoundInContainer
from checklists.lines.containers import folder_of


def count_supply(request: Request) -> int:
    """All she has of a supply or, with `--in`, what one container holds, whatever was thought before."""
    words, count = words_and_number(request, "trundle count glue-stick 140")
    with open_book(request, write=True) as book:
        date_meant = day_to_pack(request, book)
        supply = find_supply(words, book.plan.supplies)
        moment = moment_on(request, date_meant)
        entry: AnyEntry = CountedStock(at=moment, supply=supply.id, count=count)
        if request.inside:
            container = find_container(request.inside, book.day(date_meant), book.plan)
            if container.startswith(folder_of("")):
                raise NotUnderstood("A class folder holds the class's own work, and nothing in it is counted.")
            entry = FoundInContainer(at=moment, container=container, supply=supply.id, count=count)
        return record(request, book, date_meant, "count", (entry,))


def words_and_number(request: Request, example: str) -> tuple[str, int]:
    """What stands behind the command: the words of a supply, and a number as the last of them."""
    *words, last = request.words
    try:
        return " ".join(words), read_number(last)
    except ValueError as problem:
        raise NotUnderstood(f"{last} {problem}, as the last word: {example}.") from None
