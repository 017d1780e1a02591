"""What may be wrong with the supply itself: its shelf, how many there are, how much of it is to spare."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime

from msgspec import structs

from checklists.daybook.entries import CountedStock
from checklists.line_changes.records import LineChange, Offer
from checklists.plan.class_notes import CannotNote
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Spare, Supply
from checklists.words import plural, say_number

LONGEST_SHELF = 60
MOST = 100_000
_SPARE = re.compile(r"^(?:(?P<count>\d{1,5})(?![\d.]*%))?(?: ?(?:and|,)? ?(?P<percent>\d{1,3}(?:\.\d{1,2})?) ?%)?$")


def supply_offers(supply: Supply, at: datetime) -> Iterator[Offer]:
    """Its shelf, what is there now, and the spare; a supply that came with the program becomes hers by it."""
    name, counts = supply.name, f"{supply.name}, everywhere"

    def put_on_shelf(files: PlanFiles, typed: str, reason: str) -> LineChange:
        if not typed:
            raise CannotNote("Type where it stands, as B2.")
        if len(typed) > LONGEST_SHELF:
            raise CannotNote(f"A shelf is at most {LONGEST_SHELF} signs.")
        if typed == supply.shelf:
            raise CannotNote("That is so already.")
        changed = with_supply(files, structs.replace(supply, shelf=typed))
        return LineChange(f"{name}: shelf {typed}", files=changed)

    def count_now(files: PlanFiles, typed: str, reason: str) -> LineChange:
        if not (typed.isascii() and typed.isdigit() and int(typed) <= MOST):
            raise CannotNote(f"A whole number, 0 to {MOST}.")
        entry = CountedStock(at=at, supply=supply.id, count=int(typed))
        return LineChange(f"{name}: {typed} counted", entries=(entry,))

    def spare_for_it(files: PlanFiles, typed: str, reason: str) -> LineChange:
        spare = spare_typed(typed)
        changed = with_supply(files, structs.replace(supply, spare=spare))
        return LineChange(f"{name}: {say_spare(spare)} to spare", files=changed)

    shelf = f"on shelf {supply.shelf}" if supply.shelf else "no shelf said"
    yield Offer("shelf", f"{shelf}: another shelf", counts, "typed", put_on_shelf, hint="Where does it stand? As B2.")
    hint = "How many are there in all, in containers as well?"
    yield Offer("counted", "how many there are: counted now", counts, "typed", count_now, hint=hint)
    spare = say_spare(supply.spare) if supply.spare is not None else "as usual"
    hint = "So many more: 3, or 10%, or 3 10% for the larger of both."
    yield Offer("spare", f"to spare {spare}: otherwise", counts, "typed", spare_for_it, hint=hint)


def with_supply(files: PlanFiles, supply: Supply) -> PlanFiles:
    """The plan with a supply as it is given: in its place among hers, or as one more of hers."""
    if any(each.id == supply.id for each in files.supplies):
        supplies = tuple(supply if each.id == supply.id else each for each in files.supplies)
    else:
        supplies = (*files.supplies, supply)
    return structs.replace(files, supplies=supplies)


def spare_typed(typed: str) -> Spare:
    """ "3" is three, "10%" a tenth, "3 10%" the larger of both. Raises CannotNote."""
    typed = " ".join(typed.split())
    found = _SPARE.match(typed)
    if not typed or found is None or (found["percent"] and float(found["percent"]) > 200):
        raise CannotNote("So many to spare is a number, 3, or a percentage up to 200%, 10%, or both: 3 10%.")
    return Spare(int(found["count"] or 0), float(found["percent"] or 0))


def say_spare(spare: Spare) -> str:
    """ "3", "10 %", "the larger of 3 and 10 %"."""
    if spare.at_least and spare.percent:
        return f"the larger of {spare.at_least} and {say_number(spare.percent)} %"
    return f"{say_number(spare.percent)} %" if spare.percent else plural(spare.at_least, "piece")
