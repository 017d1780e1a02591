"""The end of the first start: the plan and what is told of its first day, on disk."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from checklists.daybook.state import DayRecord
from checklists.files.daybook_folder import write_record
from checklists.files.new_plan import must_be_without_plan, write_new_plan
from checklists.files.safely import NotSaved
from checklists.files.set_up_file import forget_set_up
from checklists.first_start.going import AllSaid
from checklists.first_start.making import Made, first_entries


def start_with(folder: Path, said: AllSaid, made: Made, at: datetime) -> None:
    """Write the first plan. Raises NotSaved, and then the answers are kept and it can be done again.

    The day's record comes first: wherever this is cut off, there is either no plan yet, or all of it.
    """
    must_be_without_plan(folder)  # another window may have come to the end first: its day stays as it is
    write_record(folder, DayRecord(format=1, date=said.school.day, entries=first_entries(said, made, at)))
    write_new_plan(folder, made.files, at)
    try:
        forget_set_up(folder)
    except NotSaved:
        return  # it does no harm beside a plan
