"""The demo school from the command line."""

from __future__ import annotations

from pathlib import Path

from tests.commandline.running import trundle
from tests.schools import small_school


def test_the_sample_school_has_a_day_to_look_at(tmp_path: Path) -> None:
    found = trundle("demo", "--json", "--at", "7:30", data=tmp_path / "sample").fields
    assert found["page"] == "morning"
    assert found["visits"]
    assert found["minutes_to_leave"] is not None
    ran = trundle("demo", "--text", "--at", "7:30", data=tmp_path / "sample")
    assert ran.status == 1
    assert ran.err == ""
    assert max(map(len, ran.out.splitlines())) <= 80


def test_what_was_ticked_in_the_sample_stays_until_it_is_begun_anew(tmp_path: Path) -> None:
    sample = tmp_path / "sample"
    before = trundle("demo", "--json", data=sample).fields
    number = next(str(line["number"]) for line in before["lines"] if line["state"] == "open")
    assert trundle("tick", number, "--date", before["date"], "--at", "7:30", data=sample).status == 0
    assert trundle("demo", "--json", data=sample).fields["open"] == before["open"] - 1
    assert trundle("demo", "--json", "--reset", data=sample).fields["open"] == before["open"]


def test_a_folder_of_her_own_is_never_taken_for_the_sample(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = trundle("demo", "--text", "--reset", data=data)
    assert ran.status == 2
    assert "holds something else" in ran.err
    assert (data / "classes.toml").exists()
