"""Ids for everything new: readable, nobody else's, and fit to be the name of a file anywhere."""

from __future__ import annotations

import re
from pathlib import PureWindowsPath

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from checklists.files.plan_folder import _is_copy
from checklists.plan.new_ids import free_name, new_id

# Source: Microsoft, "Naming Files, Paths, and Namespaces": these names are a device's, with any ending.
DEVICES = ["CON", "PRN", "AUX", "NUL", "COM1", "COM9", "LPT1", "LPT9"]


@pytest.mark.parametrize(
    ("name", "ident"),
    [
        ("Tide Pools", "tide-pools"),
        ("  White paper, 12×18\" ", "white-paper-12x18"),
        ("Café \u00c9clair: ma\u00f1ana", "cafe-eclair-manana"),
        ("Stra\u00dfe", "strasse"),
        ("S\u00f8ren's \u0141\u00f3d\u017a", "sorens-lodz"),
        ("Clay \U0001f3fa!", "clay"),
        ("CON", "lesson-con"),
        ("Box 3", "lesson-box-3"),
        ("cart", "lesson-cart"),
        ("\u0633\u0645\u0643", "lesson"),
        ("\U0001f41f\U0001f41f", "lesson"),
        ("...", "lesson"),
        ("../../etc", "etc"),
    ],
)  # fmt: skip
def test_an_id_is_made_from_the_name(name: str, ident: str) -> None:
    assert new_id(name, (), "lesson") == ident


def test_an_id_that_somebody_has_gets_a_number_whatever_its_capitals() -> None:
    assert new_id("Tide Pools", {"Tide-Pools"}) == "tide-pools-2"
    assert new_id("Tide Pools", {"tide-pools", "tide-pools-2"}) == "tide-pools-3"
    assert new_id("\u9b5a", {"lesson"}, "lesson") == "lesson-2"


def test_a_copy_is_not_taken_for_what_a_sync_program_made() -> None:
    assert new_id("Tide Pools copy", {"tide-pools"}) == "tide-pools-2"
    assert new_id("Tide Pools (conflicted copy)", {"tide-pools"}) == "tide-pools-2"
    assert not _is_copy("tide-pools-2", {"tide-pools", "tide-pools-2"})
    assert new_id("Copy", ()) == "thing"


@given(st.text(max_size=90), st.sets(st.sampled_from(["a", "con", "tide-pools", "thing", "0", "A-2"])))
@example("Aux", set())
@example("x" * 200, set())
@example("word " * 40, set())
def test_whatever_a_thing_is_called_its_id_can_be_a_file_and_is_nobody_elses(name: str, taken: set[str]) -> None:
    ident = new_id(name, taken)
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", ident)
    assert len(ident) <= 60
    assert ident not in {each.casefold() for each in taken}
    assert not PureWindowsPath(f"{ident}.toml").is_reserved()
    assert ident.upper() not in DEVICES


@given(st.text(min_size=1, max_size=60), st.integers(1, 6))
def test_names_found_one_after_another_are_all_different(name: str, copies: int) -> None:
    taken: list[str] = []
    for _ in range(copies):
        taken.append(free_name(name, taken))
    assert len({each.casefold() for each in taken}) == copies
    assert all(len(each) <= 60 for each in taken)


def test_a_copy_of_a_class_has_the_next_number() -> None:
    assert free_name("3-B", ["3-b"]) == "3-B 2"
    assert free_name("3-B 2", ["3-B", "3-B 2"]) == "3-B 3"
    assert free_name("Room 12", ["12"]) == "Room 12"
