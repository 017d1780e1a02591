"""Two versions of one day, as a synced folder leaves them: what each has that the other has not, and both as one.

Nothing is picked silently. Merged, a day has every entry of both in order of their moments, the same entry once; of two
words on one thing the newer stands, as it always does. Whatever one version took back and the other still has, stays.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from typing import Any, Literal

from msgspec import Struct, structs

from checklists.daybook import entries as book
from checklists.daybook.said import say_entry
from checklists.daybook.state import DayRecord
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.words import clock, minute_of_day, say_date

Subject = tuple[Any, ...]
"""What an entry is a word on; of two words on one subject the newer stands."""
Where = Literal["only here", "only there", "different"]
_ADDS_UP = (book.Ordered, book.Delivered, book.TakenOut, book.Lent, book.GivenBack, book.Broken, book.Joined)
"""What counts as often as it is said: the same thing said in both versions counts twice."""


class Difference(Struct, frozen=True):
    """One thing on which two versions do not say the same. ``newer`` is the version whose word stands once merged."""

    where: Where
    here: str
    there: str
    newer: Literal["here", "there"]


class Comparison(Struct, frozen=True):
    """What two versions of a day have and have not, in words."""

    differences: tuple[Difference, ...]
    same: int
    """Things on which both say the same."""
    said_twice: tuple[str, ...] = ()
    """What adds up and was said in both, each at its own moment: it may be one thing, and counts twice once merged."""

    def which(self, where: Where) -> tuple[Difference, ...]:
        return tuple(each for each in self.differences if each.where == where)


# ------------------------------------------------------------------------------------------------------ merging


def merge_records(here: DayRecord, there: DayRecord) -> DayRecord:
    """Both as one. Closed if either was; opening and closing are still to be worked out again from what it says now."""
    closed = [each for each in (here.closed_at, there.closed_at) if each is not None]
    is_closed = bool(closed) or here.closing is not None or there.closing is not None
    return structs.replace(
        here,
        entries=merge_entries(here.entries, there.entries),
        closed_at=max(closed, default=None),
        timetable=here.timetable if here.timetable is not None else there.timetable,
        opening=here.opening if here.opening is not None else there.opening,
        closing=(here.closing if here.closing is not None else there.closing) if is_closed else None,
        folded=None,
    )


def merge_entries(here: Iterable[book.AnyEntry], there: Iterable[book.AnyEntry]) -> tuple[book.AnyEntry, ...]:
    """The union in order of moments, each version in its own order; at one moment what is here comes first.

    An entry that both have counts once; as often as it is in the version that has it more often.
    """
    mine = tuple(here)
    known = Counter(map(_as_key, mine))
    theirs: list[tuple[datetime, book.AnyEntry]] = []
    for moment, entry in _in_time(there):
        if known[_as_key(entry)]:
            known[_as_key(entry)] -= 1
        else:
            theirs.append((moment, entry))
    return tuple(entry for _, entry in sorted([*_in_time(mine), *theirs], key=lambda each: each[0]))


def new_entries(here: Iterable[book.AnyEntry], there: Iterable[book.AnyEntry]) -> tuple[book.AnyEntry, ...]:
    """Entries there that are not here."""
    known = Counter(map(_as_key, here))
    found = []
    for entry in there:
        if known[_as_key(entry)]:
            known[_as_key(entry)] -= 1
        else:
            found.append(entry)
    return tuple(found)


def _in_time(entries: Iterable[book.AnyEntry]) -> Iterator[tuple[datetime, book.AnyEntry]]:
    """Each entry with its moment, or that of an earlier one where a clock was set back: their order is kept."""
    latest = datetime.min
    for entry in entries:
        latest = max(latest, entry.at)
        yield latest, entry


def _as_key(entry: book.AnyEntry) -> str:
    return repr(entry)


# ---------------------------------------------------------------------------------------------------- comparing


def compare(here: DayRecord, there: DayRecord, day_here: Day, day_there: Day, plan: Plan | None = None) -> Comparison:
    """What is only in one of them or different, in words; names come from each version's own list of the day."""
    mine, theirs = _newest(here), _newest(there)
    differences: list[Difference] = []
    same = 0
    for subject in dict.fromkeys((*mine, *theirs)):
        one, other = mine.get(subject), theirs.get(subject)
        if one is not None and other is not None:
            if _means(one) == _means(other):
                same += 1
                continue
            newer: Literal["here", "there"] = "there" if other.at > one.at else "here"
            said = _say(one, day_here, plan), _say(other, day_there, plan)
            differences.append(Difference("different", *said, newer))
        elif one is not None:
            differences.append(Difference("only here", _say(one, day_here, plan), "", "here"))
        elif other is not None:
            differences.append(Difference("only there", "", _say(other, day_there, plan), "there"))
    differences += _closed(here, there)
    order = ("different", "only there", "only here")
    differences.sort(key=lambda each: order.index(each.where))
    return Comparison(
        tuple(differences), same, tuple(_said_twice(here, there, lambda each: _say(each, day_here, plan)))
    )


def _newest(record: DayRecord) -> dict[Subject, book.AnyEntry]:
    """The newest word on each subject, in the order in which subjects were first spoken of."""
    found: dict[Subject, book.AnyEntry] = {}
    for entry in record.entries:
        for subject, word in _words_of(entry):
            found[subject] = word
    return found


def _words_of(entry: book.AnyEntry) -> Iterator[tuple[Subject, book.AnyEntry]]:
    """The subjects that an entry is a word on. A change of the day is one for each thing that is different about it."""
    if not isinstance(entry, book.Changed):
        yield _subject(entry), entry
        return
    for name, value in structs.asdict(entry).items():
        if name == "at" or value is None:
            continue
        if isinstance(value, dict):
            for key, one in value.items():
                yield ("changed", name, key), _only(entry, name, {key: one})
        else:
            yield ("changed", name), _only(entry, name, value)


def _only(change: book.Changed, name: str, value: Any) -> book.Changed:
    """A change of one thing alone."""
    return structs.replace(book.Changed(at=change.at), **{name: value})


def _subject(entry: book.AnyEntry) -> Subject:
    match entry:
        case book.Packed() | book.CameUpShort() | book.NotNeeded():
            return "line", entry.line
        case book.Ticked() | book.LetGo() | book.CarriedOver():
            return "matter", entry.matter
        case book.FoundLevel() | book.CountedStock():
            return type(entry).__name__, entry.supply
        case book.FoundInContainer():
            return "contents", entry.container, entry.supply
        case book.Reported():
            return "visit", entry.visit
        case book.CountedSharps(on=on):
            return "count", on, entry.visit, entry.supply
        case book.CountLater():
            return "count", None, entry.visit, entry.supply
        case book.HandedOut():
            return "handed out", entry.visit
        case book.PutRight():
            return "put right", entry.container
        case book.Stands():
            return "place", entry.container
        case book.ReportedMissing():
            return "reported", entry.case
        case book.ClosedCase(count=None):
            return "case", entry.case
        case book.Sized() | book.WorkAway() | book.ClassPlace():
            return type(entry).__name__, entry.class_id
        case book.Excused():
            return "excused", entry.class_id, entry.number, entry.lesson
        case book.LeftStore():
            return ("left",)
    return "by itself", _as_key(entry)


def _means(entry: book.AnyEntry) -> str:
    """What an entry says, whenever it was said."""
    return repr(structs.replace(entry, at=datetime.min))


def _say(entry: book.AnyEntry, day: Day, plan: Plan | None) -> str:
    """The entry in words, with its time, and its date where it was made on another one."""
    when = clock(minute_of_day(entry.at))
    if entry.at.date() != day.date:
        when = f"{say_date(entry.at.date())} {when}"
    return f"{when} {say_entry(entry, day, plan)}"


def _closed(here: DayRecord, there: DayRecord) -> Iterator[Difference]:
    if (here.closing is None) == (there.closing is None):
        return
    if here.closing is not None:
        yield Difference("only here", _say_closed(here), "", "here")
    else:
        yield Difference("only there", "", _say_closed(there), "there")


def _say_closed(record: DayRecord) -> str:
    at = f" at {clock(minute_of_day(record.closed_at))}" if record.closed_at is not None else ""
    return f"the day is closed{at}"


def _said_twice(here: DayRecord, there: DayRecord, say: Callable[[book.AnyEntry], str]) -> Iterator[str]:
    """What adds up and is in both with the same meaning, but not as one and the same entry."""
    mine = [each for each in new_entries(there.entries, here.entries) if isinstance(each, _ADDS_UP)]
    theirs = Counter(_means(each) for each in new_entries(here.entries, there.entries) if isinstance(each, _ADDS_UP))
    for entry in mine:
        if theirs[_means(entry)]:
            theirs[_means(entry)] -= 1
            yield say(entry)
