"""The battery falls out while an earlier day is corrected: what follows from the correction is made up for."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from pathlib import Path

from checklists.book import Book
from checklists.daybook.entries import CountedStock
from checklists.files import daybook_folder
from tests.lost.conftest import Sample


def correct_and_be_stopped(school: Path, sample: Sample) -> tuple[CountedStock, list[Path]]:
    """A count of stock comes to the last but two closed days, and nothing after it: so a kill leaves the folder."""
    days = daybook_folder.dates(school)[-3:]
    with Book.open(school, today=sample.date) as book:
        supply = next(iter(book.closing_of(days[0]).on_hand))
        corrected = CountedStock(at=datetime.combine(sample.date, time(7, 0)), supply=supply, count=4711)
        daybook_folder.append(school, days[0], corrected)
    return corrected, [school / "daybook" / f"{day}.toml" for day in days]


def test_closings_after_a_correction_follow_from_it_at_the_next_start(school: Path, sample: Sample) -> None:
    corrected, files = correct_and_be_stopped(school, sample)
    before = [path.read_bytes() for path in files]
    with Book.open(school, today=sample.date) as book:
        last = daybook_folder.dates(school)[-1]
        assert book.opening(last + timedelta(1)).on_hand[corrected.supply] > 4000
        assert not book.check_chain()
    after = [path.read_bytes() for path in files]
    assert all(now != then for now, then in zip(after, before, strict=True))
    assert not list((school / "daybook").glob("*.journal"))


def test_a_window_that_only_reads_leaves_them_alone(school: Path, sample: Sample) -> None:
    _, files = correct_and_be_stopped(school, sample)
    before = [path.read_bytes() for path in files]
    with Book.open(school, write=False, today=sample.date) as book:
        book.day(sample.date)
    assert [path.read_bytes() for path in files] == before
    assert list((school / "daybook").glob("*.journal"))
