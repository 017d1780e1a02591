"""Two windows on one folder: the second one reads and says so, and writes once the first is gone, however it went."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.lost.conftest import Sample
from tests.lost.reading import ON_LIST, read_disk
from tests.terminal import SCREENS, Terminal


@pytest.mark.parametrize("way_out", ["quits", "is killed"])
def test_the_second_window_reads_until_the_first_is_gone(way_out: str, school: Path, sample: Sample) -> None:
    words = (*SCREENS, "demo", "--data", str(school))
    with Terminal(*words) as first:
        first.wait_for(ON_LIST)
        with Terminal(*words) as second:
            second.wait_for(ON_LIST, "Nothing can be written: Another window")
            second.press(" ")
            second.wait_for("Not saved: Another window", "this one only reads")
            assert not read_disk(school, sample.day).said
            first.press("c ")
            first.wait_for(" Packed ")
            assert len(read_disk(school, sample.day).said) == 1
            second.press("u")
            second.wait_for("Nothing taken back")
            second.press("qq")
            assert second.wait_for_end() == 0
        if way_out == "quits":
            first.press("qq")
            assert first.wait_for_end() == 0
        else:
            first.program.kill()
            first.program.wait()
    with Terminal(*words) as third:
        third.wait_for(ON_LIST, absent="Nothing can be written")
        third.press("c ")
        third.wait_for(" Packed ")
        assert len(read_disk(school, sample.day).said) == 2
