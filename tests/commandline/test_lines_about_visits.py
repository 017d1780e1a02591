"""By command: lines about visits as on the screen, noted all together or not at all."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

import pytest

from checklists.commandline import parse, run
from tests.days import opened
from tests.schools import MONDAY, reference_school


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return reference_school(tmp_path)


def ran(capsys: pytest.CaptureFixture[str], data: Path, *typed: str) -> tuple[int, str]:
    """Status of a command on Mon 5 Oct at noon, and what it said."""
    words = ["report", *typed, "--date", "2026-10-05", "--at", "12:00", "--data", str(data)]
    status = run(parse(words, datetime(2026, 10, 5, 12)))
    told = capsys.readouterr()
    return status, told.err or told.out


def test_several_lines_are_noted_as_one_step(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, said = ran(capsys, data, "--line", "v3 a4,11 t13,26 3f", "--line", "V4 =", "--line", "v1")
    assert status == 0
    assert "V3 3-B: done except 3, no. 4 and 11 absent" in said
    with opened(data) as book:
        marks = book.marks(MONDAY)
        assert list(marks.reports) == ["P3 3-B", "P4 3-K", "P1 K-M"]
        assert {key: count.back for key, count in marks.sharps.items()} == {
            ("P3 3-B", "scissors"): 13,
            ("P3 3-B", "blunt-needle"): 26,
            ("P4 3-K", "scissors"): 14,
            ("P4 3-K", "blunt-needle"): 27,
        }
        book.undo(MONDAY)
        assert not book.marks(MONDAY).reports
        assert not book.marks(MONDAY).sharps


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("--line", "v3 =", "--line", "v4 a99"), "--line v4 a99: There is no number 99"),
        (("--line", "v3 =", "--line", "v3 h"), "V3 has a line already"),
        (("--line", "v3 =", "--line", "a4"), "Say which visit, like v3."),
        (("--line", "v3 =", "--line", "v9"), "There is no visit V9"),
        (("--line", "v3 zzz"), "zzz is not understood."),
        (("V3", "--line", "v3 ="), "leave the rest away"),
        (("--line", "v3 =", "--not-done", "2"), "leave the rest away"),
        ((), "Say which visit: trundle report V3 --as-planned"),
    ],
)
def test_one_wrong_line_and_nothing_is_noted(
    data: Path, capsys: pytest.CaptureFixture[str], typed: tuple[str, ...], told: str
) -> None:
    status, said = ran(capsys, data, *typed)
    assert (status, told in said) == (2, True), said
    with opened(data) as book:
        assert not book.marks(MONDAY).reports


def test_scripts_read_what_was_noted(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, said = ran(capsys, data, "--line", "v3 n", "--json")
    assert status in (0, 1)
    assert json.loads(said)["did"] == ["V3 3-B: not taught"]
