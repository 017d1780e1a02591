"""A folder of plan files: read well, read badly, read again, read by the wrong version."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from msgspec import structs

from checklists.files.last_good import CACHE_FILE, keep_last_good, read_last_good
from checklists.files.plan_folder import PlanRead, read_plan, stamps_of
from tests.schools import reference_school, write_small_school, write_toml


def told(read: PlanRead) -> list[str]:
    return [str(each) for each in read.problems]


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


LONG_AGO = 1_600_000_000


def make_old(folder: Path) -> None:
    """As if the files had been written long ago, all at the same moment."""
    for path in folder.rglob("*.toml"):
        os.utime(path, (LONG_AGO, LONG_AGO))


def spoil(path: Path) -> None:
    """Make a file unreadable without a change of its size and its time; whoever reads it finds out."""
    path.write_bytes(b"?" * path.stat().st_size)
    os.utime(path, (LONG_AGO, LONG_AGO))


# ------------------------------------------------------------------------------------------------- reading well


def test_the_reference_school_reads_without_a_grave_problem(tmp_path: Path) -> None:
    read = read_plan(reference_school(tmp_path))
    assert read.plan is not None
    assert read.rules is not None
    assert not [each for each in read.problems if each.level == "grave"]
    assert read.plan.class_by_id["3-B"].headcount == 24
    assert not read.from_last_good
    assert not read.newer_format


def test_supplies_that_come_with_the_program_are_there_and_hers_win(tmp_path: Path) -> None:
    folder = write_small_school(tmp_path)
    read = read_plan(folder)
    assert read.plan is not None
    assert read.plan.supply_by_id["sponge"].name == "damp sponge"
    own = tomllib.loads((folder / "supplies.toml").read_text(encoding="utf-8"))
    own["supplies"].append({"id": "sponge", "name": "my sponge"})
    write_toml(folder / "supplies.toml", own)
    read = read_plan(folder)
    assert read.plan is not None
    assert [each.name for each in read.plan.supplies if each.id == "sponge"] == ["my sponge"]


def test_a_school_without_supplies_kits_or_rules_of_its_own_reads(tmp_path: Path) -> None:
    write_toml(
        tmp_path / "school.toml",
        {"format": 1, "name": "New", "first_day": "2026-08-31", "last_day": "2027-06-11", "bells": [{"id": "regular"}]},
    )
    write_toml(tmp_path / "classes.toml", {})
    read = read_plan(tmp_path)
    assert told(read) == []
    assert read.plan is not None


# ------------------------------------------------------------------------------------------------ reading badly


def test_an_empty_folder_says_which_files_are_not_there(tmp_path: Path) -> None:
    read = read_plan(tmp_path)
    assert read.plan is None
    assert [each.file for each in read.problems] == ["school.toml", "classes.toml"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    assert "There is no such folder." in told(read_plan(tmp_path / "nowhere"))[0]


def test_problems_of_all_files_are_told_at_once(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    change(folder / "school.toml", 'name = "', 'nam = "')
    (folder / "kits.toml").write_bytes(b"\x00")
    change(folder / "lessons" / "burlap-birds.toml", "title =", "titel =")
    (folder / "rules.toml").write_text("rules = 5a\n", encoding="utf-8")
    assert {each.file for each in read_plan(folder).problems} >= {
        "school.toml",
        "kits.toml",
        "lessons/burlap-birds.toml",
        "rules.toml",
    }


def test_lines_that_cannot_be_read_do_not_hide_wrong_fields_beside_them(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    (folder / "kits.toml").write_text(
        '[[kits]]\nid = "clay"\nname = clay\n[[kits]]\nid = "ink"\nname = "Ink"\nshelv = "B2"\n', encoding="utf-8"
    )
    assert [each for each in told(read_plan(folder)) if each.startswith("kits.toml")] == [
        'kits.toml, line 3: clay is neither a number nor text in quotes. If it is text, put quotes around it: "clay"',
        "kits.toml, line 7: kit ink: shelv is not known here. Is shelf meant?",
    ]


def test_a_lesson_whose_file_has_another_name_is_told(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    (folder / "lessons" / "burlap-birds.toml").rename(folder / "lessons" / "birds.toml")
    assert (
        'lessons/birds.toml: The lesson in it has the id "burlap-birds". '
        'Write id = "birds", or rename the file to burlap-birds.toml.'
    ) in told(read_plan(folder))


def test_a_second_version_from_a_synced_folder_is_noted_and_not_used(tmp_path: Path) -> None:
    folder = write_small_school(tmp_path)
    school = (folder / "school.toml").read_bytes()
    lesson = next((folder / "lessons").glob("*.toml"))
    (folder / "school (conflicted copy 2026-10-01).toml").write_bytes(school)
    lesson.with_name(f"{lesson.stem}.sync-conflict-20261001.toml").write_bytes(lesson.read_bytes())
    (folder / "clases.toml").write_bytes(b"")
    read = read_plan(folder)
    assert read.plan is not None
    assert sorted((each.file, each.level) for each in read.problems) == [
        ("clases.toml", "note"),
        (f"lessons/{lesson.stem}.sync-conflict-20261001.toml", "note"),
        ("school (conflicted copy 2026-10-01).toml", "note"),
    ]


def test_a_plan_of_a_newer_format_opens_for_looking_only(tmp_path: Path) -> None:
    folder = write_small_school(tmp_path)
    change(folder / "school.toml", "format = 1", 'format = 2\nmascot = "owl"')
    read = read_plan(folder)
    assert read.plan is not None
    assert read.newer_format
    assert {each.level for each in read.problems} == {"note"}
    assert "A newer version of Trundle wrote this plan. It can be looked at, not changed." in told(read)[0]


def test_a_rule_of_her_own_that_is_wrong_is_left_out_and_told_with_its_line(tmp_path: Path) -> None:
    rules = {"rules": [{"id": "r", "title": "R", "when": ["wett"], "because": "b", "cautions": [{"text": "t"}]}]}
    read = read_plan(write_small_school(tmp_path, rules=rules))
    assert read.plan is not None
    assert read.rules is not None
    assert "r" not in {each.id for each in read.rules.rules}
    [problem] = read.problems
    assert (problem.file, problem.entry) == ("rules.toml", "rule r")
    assert problem.line is not None


# ------------------------------------------------------------------------------------------------- the last good


def test_a_file_that_no_longer_reads_leaves_the_last_good_plan_in_use(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    good = read_plan(folder)
    change(folder / "classes.toml", '"3-B"', "3-B")
    read = read_plan(folder)
    assert read.from_last_good
    assert read.plan == good.plan
    assert read.rules is not None
    assert read.problems
    assert read.problems[0].file == "classes.toml"


def test_a_mended_file_is_used_again(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    read_plan(folder)
    before = (folder / "classes.toml").read_bytes()
    (folder / "classes.toml").unlink()
    assert read_plan(folder).from_last_good
    (folder / "classes.toml").write_bytes(before)
    assert not read_plan(folder).from_last_good


def test_an_unchanged_plan_is_not_parsed_again(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    make_old(folder)
    first = read_plan(folder)
    kept = read_last_good(folder)
    assert kept is not None
    renamed = structs.replace(first.plan, school=structs.replace(first.plan.school, name="Only in the cache"))
    keep_last_good(folder, stamps_of(folder), structs.replace(kept, plan=renamed))
    assert read_plan(folder).plan == renamed  # nobody read the files
    keep_last_good(folder, stamps_of(folder), kept)
    second = read_plan(folder)
    assert not second.from_last_good
    assert second.plan == first.plan
    assert second.own_rules == first.own_rules
    assert second.problems == first.problems
    assert second.rules is not None
    assert first.rules is not None
    assert second.rules.rules == first.rules.rules
    assert second.rules.clauses == first.rules.clauses


def test_a_file_that_changed_is_read_again(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    make_old(folder)
    read_plan(folder)
    spoil(folder / "kits.toml")
    assert read_plan(folder).from_last_good


def test_a_file_that_was_added_or_taken_away_is_noticed(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    make_old(folder)
    read_plan(folder)
    write_toml(folder / "lessons" / "new.toml", {"id": "new", "title": "New", "parts": [{"title": "one"}]})
    read = read_plan(folder)
    assert read.plan is not None
    assert "new" in read.plan.lesson_by_id
    (folder / "lessons" / "new.toml").unlink()
    read = read_plan(folder)
    assert read.plan is not None
    assert "new" not in read.plan.lesson_by_id


def test_a_second_version_that_turns_up_beside_an_unchanged_plan_is_noticed(tmp_path: Path) -> None:
    folder = write_small_school(tmp_path)
    make_old(folder)
    assert read_plan(folder).problems == ()
    (folder / "school (2).toml").write_bytes((folder / "school.toml").read_bytes())
    assert [each.file for each in read_plan(folder).problems] == ["school (2).toml"]


def test_a_file_changed_within_two_seconds_of_the_cache_is_read_again(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    make_old(folder)
    read_plan(folder)
    os.utime(folder / CACHE_FILE, (LONG_AGO + 1, LONG_AGO + 1))
    spoil(folder / "kits.toml")
    assert read_plan(folder).from_last_good


@pytest.mark.parametrize("content", [b"", b"\x81", b"noise" * 100])
def test_a_damaged_cache_is_as_good_as_none(tmp_path: Path, content: bytes) -> None:
    folder = reference_school(tmp_path)
    make_old(folder)
    good = read_plan(folder)
    (folder / CACHE_FILE).write_bytes(content)
    assert read_plan(folder).plan == good.plan


def test_a_cache_cut_off_anywhere_never_raises_and_never_gives_half_a_plan(tmp_path: Path) -> None:
    folder = write_small_school(tmp_path)
    make_old(folder)
    good = read_plan(folder)
    whole = (folder / CACHE_FILE).read_bytes()
    for end in range(0, len(whole), max(1, len(whole) // 25)):
        (folder / CACHE_FILE).write_bytes(whole[:end])
        assert read_plan(folder).plan == good.plan


def test_a_folder_that_cannot_be_written_is_read_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = write_small_school(tmp_path)

    def refuse(*_: object, **__: object) -> None:
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr(Path, "mkdir", refuse)
    assert read_plan(folder).plan is not None
    assert not (folder / "cache").exists()


@pytest.mark.parametrize(
    "module",
    [
        "checklists.files.plan_folder",
        "checklists.files.daybook_folder",
        "checklists.files.lock",
        "checklists.files.places",
        "checklists.files.safely",
    ],
)
def test_reading_loads_no_screen_and_nothing_only_writing_needs(module: str) -> None:
    code = f"import {module}, sys; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not {"textual", "rich", "tomli_w", "platformdirs", "asyncio"} & set(loaded)
