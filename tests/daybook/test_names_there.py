"""A school that is renamed in the middle of its weeks is the school that had the new names from the start.

The weeks are random ones (``references/truth``). The reference for a rename knows nothing of records: every word in
the plan and in every entry is replaced as a word, and that school is lived from the first day on. RENAMED_SCHOOLS asks
for more schools than one.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import msgspec
import pytest
from msgspec import inspect, structs

from checklists.book import Book
from checklists.daybook import entries as said_of
from checklists.daybook.entries import AnyEntry, Changed
from checklists.daybook.names_there import NAMES
from checklists.daybook.state import DayRecord, State
from checklists.files.daybook_folder import load
from checklists.lines.records import Day
from checklists.plan.renaming import rename
from tests.days import opened
from tests.references.truth.school import draw_school, write_school
from tests.references.truth.weeks import Weeks

SCHOOLS = int(os.environ.get("RENAMED_SCHOOLS", "1"))
DAYS, RENAMED_AFTER = 7, 4
NEW_NAMES = [
    ("class", "3-B", "Otters 3"),
    ("class", "1-P", "1-P North"),
    ("class", "3-K", "3-B"),
    ("room", "12", "the barn"),
    ("room", "9", "12"),
    ("period", "P2", "2nd hour"),
    ("timetable day", "A", "Gold"),
    ("bells", "regular", "usual"),
]
WORDS = {"3-B": "Otters 3", "1-P": "1-P North", "3-K": "3-B", "P2": "2nd hour", "Room 12": "Room the barn"}
WHOLE = {"12": "the barn", "9": "12", "A": "Gold", "regular": "usual"}
Told = list[tuple[date, AnyEntry | None]]
"""What was said of which day, in order; None: the day was closed."""


def with_new_words(found: Any) -> Any:
    """The same table with the new names in place of the old ones, in keys and in texts."""
    if isinstance(found, dict):
        return {with_new_words(key): with_new_words(each) for key, each in found.items()}
    if isinstance(found, list | tuple):
        return type(found)(map(with_new_words, found))
    if not isinstance(found, str):
        return found
    words = "|".join(map(re.escape, WORDS))
    return WHOLE.get(found) or re.sub(rf"(?<![\w-])(?:{words})(?![\w-])", lambda word: WORDS[word[0]], found)


def in_new_words(told: Told) -> Told:
    builtin = ((day, None if said is None else with_new_words(msgspec.to_builtins(said))) for day, said in told)
    return [(day, None if said is None else msgspec.convert(said, AnyEntry)) for day, said in builtin]


def told_by_chance(folder: Path, seed: int, count: int = DAYS) -> Told:
    """What was said in a school's first days, with changes among it that name everything that has a name."""
    weeks = Weeks(folder, seed)
    days = weeks.truth.days[:count]
    weeks.live(count)
    told: Told = []
    for n, day in enumerate(days):
        morning = datetime.combine(day, time(6))
        if n == 1:
            told += [(day, each) for each in what_names_everything(morning)]
        told += [(day, each) for each in load(weeks.book.folder, day).record.entries]
        told += [(day, None)] if n % 4 != 3 else []
    return told


def what_names_everything(at: datetime) -> list[AnyEntry]:
    change = Changed(
        at=at,
        bells="regular",
        adults={"3-B": 2},
        rooms={"P2 3-B": "9"},
        water_off=("12", "everywhere"),
        left_ahead={"P1 1-P": True},
        stops={"P2": "never"},
        rides={"box-3": "always"},
        leave_in={"9": "never"},
        longer_ways={"9": 3},
    )
    testing = said_of.Testing(at=at, grades=("1",), first=at.date(), last=date(2026, 9, 20), periods=("P2",))
    joined, left = said_of.Joined(at=at, class_id="3-B", number=29), said_of.Left(at=at, class_id="1-P", number=4)
    away = said_of.WorkAway(at=at, class_id="3-K", count=5, until=date(2026, 9, 8))
    broken = said_of.Broken(at=at, class_id="3-B", lesson="lesson-1", part=1, numbers=(2,))
    return [
        change,
        testing,
        joined,
        left,
        away,
        broken,
        said_of.Stands(at=at, container="folder 3-B", place="12", period="P2"),
    ]


def live(book: Book, told: Told) -> None:
    for day, said in told:
        book.today = max(book.today, day)
        if said is None:
            book.close(day, datetime.combine(day, time(15)))
        else:
            book.do(day, said)


def rename_all(book: Book) -> None:
    for kind, old, new in NEW_NAMES:
        after = rename(book.plan_files, book.own_rules, kind, old, new)
        book.change_files(after.files, f"{old} is {new}", datetime(2026, 9, 7, 7), after.own_rules)


def known(book: Book, days: list[date]) -> dict[str, Any]:
    """Everything a book tells of some days."""
    assert book.check_chain() == ()
    return {
        f"{what} of {day}": found
        for day in days
        for what, found in {
            "list": book.day(day),
            "opening": book.opening(day),
            "closing": book.closing_of(day),
            "marks": book.marks(day),
        }.items()
    }


def without_sums(found: Any) -> Any:
    """A caution is known again by a sum over its words, which have the names in them."""
    if isinstance(found, State):
        return structs.replace(found, cautioned=tuple(each.rpartition("/")[0] for each in found.cautioned))
    if isinstance(found, Day):
        cautions = (structs.replace(each, key=each.key.rpartition("/")[0]) for each in found.cautions)
        return structs.replace(found, cautions=tuple(cautions))
    return found


def same(one: dict[str, Any], other: dict[str, Any]) -> bool:
    for what, found in one.items():
        assert without_sums(found) == without_sums(other[what]), what
    return True


@pytest.mark.parametrize("seed", range(1, SCHOOLS + 1))
def test_a_rename_changes_the_names_and_nothing_else_and_can_be_taken_back(tmp_path: Path, seed: int) -> None:
    told = told_by_chance(tmp_path / "weeks", seed)
    days = sorted({day for day, _ in told})
    begin, cut = days[0], next(n for n, (day, _) in enumerate(told) if day == days[RENAMED_AFTER])
    school = draw_school(seed)
    new = opened(write_school(tmp_path / "new", with_new_words(school)), begin)
    live(new, in_new_words(told[:cut]))
    book = opened(write_school(tmp_path / "renamed", school), begin)
    live(book, told[:cut])
    before = known(book, days)

    rename_all(book)
    assert same(known(book, days), known(new, days))
    book.release()
    with Book.open(tmp_path / "renamed", today=new.today) as again:
        assert same(known(again, days), known(new, days))

    for _ in NEW_NAMES:
        again = opened(tmp_path / "renamed", new.today)
        again.take_files_back()
        again.release()
    with opened(tmp_path / "renamed", new.today) as back:
        assert same(known(back, days), before)
        rename_all(back)
        live(back, in_new_words(told[cut:]))
        live(new, in_new_words(told[cut:]))
        assert same(known(back, days), known(new, days))
        for _ in NEW_NAMES:
            back.take_files_back()
        old = opened(write_school(tmp_path / "old", school), begin)
        live(old, told)
        assert same(known(back, days), known(old, days))


NO_NAMES = {
    "FoundLevel.supply", "Ordered.supply", "Delivered.supply", "Delivered.of", "CountedStock.supply",
    "FoundInContainer.supply", "TakenOut.supply", "CountedSharps.supply", "CountLater.supply", "Lent.supply",
    "GivenBack.supply", "Loan.supply", "Order.supply", "Order.came_instead", "Carried.supply", "Case.supply",
    "State.on_hand", "State.counted", "State.levels", "State.came_short",  # supplies keep their ids
    "ClassPlace.lesson",
    "Excused.lesson", "Broken.lesson", "Progress.lesson", "Unfinished.lesson", "Unsure.lesson", "Owed.lesson",
    "Away.lesson", "Progress.lessons_done",  # and so do lessons
    "GivenBack.loan", "Loan.key",  # a moment and a supply
    "Testing.grades", "TestedDays.grades", "Left.need",
    "Loan.time", "Loan.to", "Case.reported_to", "Case.reported_when", "Changed.store_opens",
    "Interruption.start", "Interruption.end",
}  # fmt: skip


def fields_with_words(kind: inspect.Type, where: str) -> Iterator[str]:
    match kind:
        case inspect.StructType():
            for field in kind.fields:
                yield from fields_with_words(field.type, f"{kind.cls.__name__}.{field.name}")
        case inspect.VarTupleType():
            yield from fields_with_words(kind.item_type, where)
        case inspect.DictType():
            yield from fields_with_words(kind.key_type, where)
            yield from fields_with_words(kind.value_type, where)
        case inspect.UnionType():
            for each in kind.types:
                yield from fields_with_words(each, where)
        case inspect.Metadata():
            yield from fields_with_words(kind.type, where)
        case inspect.StrType() if kind.max_length != 400:
            yield where


def test_every_word_of_the_daybook_is_known_as_a_name_or_as_none() -> None:
    there = set(fields_with_words(inspect.type_info(DayRecord), ""))
    assert there - set(NAMES) - NO_NAMES == set()
    assert set(NAMES) - there == set()


def test_another_class_of_the_old_name_inherits_nothing(tmp_path: Path) -> None:
    told = told_by_chance(tmp_path / "weeks", 1, 3)
    days = sorted({day for day, _ in told})
    with opened(write_school(tmp_path / "school", draw_school(1)), days[0]) as book:
        live(book, told)
        was = book.opening(book.today)
        after = rename(book.plan_files, book.own_rules, "class", "3-B", "3-W")
        old = next(each for each in book.plan.classes if each.id == "3-B")
        classes = structs.replace(after.files.classes, classes=(*after.files.classes.classes, old))
        book.change_files(structs.replace(after.files, classes=classes), "new", datetime(2026, 9, 12))
        now: State = book.opening(book.today)
        assert now.progress["3-W"] == was.progress["3-B"]
        assert "3-B" not in now.progress and "3-B" not in now.owed
        assert now.owed.get("3-W") == was.owed.get("3-B")
