"""By command: who is not done by number, another part than the planned one, and a part chosen for a visit."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.commandline import parse, run
from tests.days import opened, visit_of
from tests.schools import MONDAY, reference_school


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return reference_school(tmp_path)


def ran(capsys: pytest.CaptureFixture[str], data: Path, *typed: str) -> tuple[int, str]:
    """Status of a command on Mon 5 Oct at noon, and what it said."""
    words = [*typed, "--date", "2026-10-05", "--at", "12:00", "--data", str(data)]
    status = run(parse(words, datetime(2026, 10, 5, 12)))
    told = capsys.readouterr()
    return status, told.err or told.out


def test_who_is_not_done_is_said_by_number_by_count_or_both(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for typed, count, numbers in (
        (("--not-done-numbers", "9,12"), 2, (9, 12)),
        (("--not-done", "5", "--not-done-numbers", "9,12"), 5, (9, 12)),
        (("--not-done", "3"), 3, ()),
        (("--outcome", "done"), 0, ()),
    ):
        assert ran(capsys, data, "report", "3-B", *typed)[0] == 0
        with opened(data) as book:
            report = book.marks(MONDAY).reports["P3 3-B"]
        assert (report.not_done, report.not_done_numbers) == (count, numbers)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("--not-done-numbers", "9,40"), "There is no number 40 on the list of a class of 24."),
        (("--not-done-numbers", "9", "--missed", "9"), "No. 9 cannot be absent and not done. Say one of them."),
        (("--not-done-numbers", "9,12", "--not-done", "1"), "2 numbers cannot be 1 not done."),
        (("--not-done", "23", "--missed-count", "4"), "Only 20 of 3-B were there, so 23 cannot be not done."),
        (("--taught", "7"), "Burlap Birds has 4 parts, so there is no part 7 of it."),
        (("--outcome", "another"), "Say which part 3-B had."),
        (("--reached", "2"), "Burlap Birds has 4 parts and part 2 was planned, so 2 is not further."),
        (("--not-done-numbers", "none"), "names nobody"),
    ],
)
def test_what_cannot_be_is_said_in_words_and_nothing_noted(
    data: Path, capsys: pytest.CaptureFixture[str], typed: tuple[str, ...], told: str
) -> None:
    status, said = ran(capsys, data, "report", "3-B", *typed)
    assert status == 2
    assert told in said
    with opened(data) as book:
        assert not book.marks(MONDAY).reports


def test_another_part_is_said_with_its_number(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, said = ran(capsys, data, "report", "3-B", "--taught", "3", "--missed", "4")
    assert status == 0
    assert "part 3 instead, no. 4 absent" in said


def test_another_part_is_chosen_for_a_visit_and_what_follows_is_told(
    data: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, said = ran(capsys, data, "change", "--part", "V3=3")
    assert status == 0
    assert "V3 3-B: Burlap Birds, part 3; part 2 stays next" in " ".join(said.split())
    assert ran(capsys, data, "change", "--part", "V3=next")[0] == 0
    with opened(data) as book:
        assert visit_of(book.day(MONDAY), "3-B").steps[0].part == 2


@pytest.mark.parametrize(
    ("typed", "told"),
    [("V3=9", "which has 4 parts; there is no part 9"), ("V3", "write it like V3=3"), ("V3=0", "write it like V3=3")],
)
def test_a_part_that_there_is_not_is_refused(
    data: Path, capsys: pytest.CaptureFixture[str], typed: str, told: str
) -> None:
    status, said = ran(capsys, data, "change", "--part", typed)
    assert (status, told in said) == (2, True), said


def test_choosing_a_part_brings_the_classes_own_lesson_back(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ran(capsys, data, "change", "--lesson", "V3=leaf-rubbings")
    ran(capsys, data, "change", "--part", "V3=3")
    with opened(data) as book:
        visit = visit_of(book.day(MONDAY), "3-B")
    assert (visit.steps[0].lesson, visit.steps[0].part, visit.moves_on) == ("burlap-birds", 3, True)
