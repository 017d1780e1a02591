"""Two versions of one day as one: laws that hold for any two, and what is said of them. (The rule is the design's own:
union of ticks, newest number, nothing picked silently.)"""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from checklists.daybook.entries import AnyEntry, Changed, Delivered, FoundLevel, Packed, Reported, Ticked
from checklists.daybook.marks import marks_of
from checklists.daybook.state import DayRecord
from checklists.daybook.two_versions import compare, merge_entries, merge_records, new_entries
from tests.days import at, day_of, line_of, packed
from tests.schools import MONDAY, small_school

BEGUN = datetime(2026, 10, 5, 7, 0)
LINES, MATTERS, SUPPLIES = ("box-3/paper", "box-3/glue", "cart/scissors"), ("prep/1", "check/2"), ("paper", "glue")
moments = st.integers(0, 40).map(lambda minutes: BEGUN + timedelta(minutes=minutes))
entries = st.one_of(
    st.builds(Packed, at=moments, line=st.sampled_from(LINES), count=st.integers(0, 5)),
    st.builds(Ticked, at=moments, matter=st.sampled_from(MATTERS)),
    st.builds(FoundLevel, at=moments, supply=st.sampled_from(SUPPLIES), level=st.sampled_from(("low", "out"))),
    st.builds(Delivered, at=moments, supply=st.sampled_from(SUPPLIES), packs=st.integers(1, 3)),
)
days = st.lists(entries, max_size=8).map(lambda said: tuple(sorted(said, key=lambda each: each.at)))


def counted(said: tuple[AnyEntry, ...]) -> Counter[str]:
    return Counter(map(repr, said))


@given(days, days)
def test_merging_is_the_same_either_way_but_for_equal_moments(here: tuple[AnyEntry, ...], there: tuple[AnyEntry, ...]):
    one, other = merge_entries(here, there), merge_entries(there, here)
    assert counted(one) == counted(other)
    assert [each.at for each in one] == [each.at for each in other] == sorted(each.at for each in one)


@given(days, days)
def test_every_entry_of_both_is_there_once(here: tuple[AnyEntry, ...], there: tuple[AnyEntry, ...]) -> None:
    assert counted(merge_entries(here, there)) == counted(here) | counted(there)
    assert {*marks_of(here).seen_to, *marks_of(there).seen_to} == {*marks_of(merge_entries(here, there)).seen_to}


@given(days, days)
def test_merging_once_more_brings_nothing(here: tuple[AnyEntry, ...], there: tuple[AnyEntry, ...]) -> None:
    both = merge_entries(here, there)
    assert merge_entries(here, here) == here
    assert merge_entries(both, there) == merge_entries(both, here) == both
    assert new_entries(both, there) == ()


@given(days, days)
def test_the_newest_number_stands(here: tuple[AnyEntry, ...], there: tuple[AnyEntry, ...]) -> None:
    lines = marks_of(merge_entries(here, there)).lines
    for line in {*marks_of(here).lines, *marks_of(there).lines}:
        said = [each for each in (*here, *there) if isinstance(each, Packed) and each.line == line]
        newest = max(each.at for each in said)
        assert lines[line].count in {each.count for each in said if each.at == newest}


def test_an_order_of_words_that_a_clock_set_back_left_is_kept() -> None:
    said = (packed_at("7:50", 3), packed_at("7:40", 5))
    assert merge_entries(said, said) == said
    assert merge_entries(said, (Ticked(at=at("7:45"), matter="prep/1"),))[-2:] == said


def packed_at(clock: str, count: int) -> Packed:
    return Packed(at=at(clock), line="box-3/paper", count=count)


def of_monday(*said: AnyEntry, **more: object) -> DayRecord:
    return DayRecord(format=1, date=MONDAY, entries=said, **more)  # type: ignore[arg-type]


def test_what_each_has_is_said_line_by_line_and_matter_by_matter(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path))
    paper, glue, scissors = (line_of(day, each) for each in ("white-12x18", "glue-stick", "scissors"))
    visit = day.visits[0]
    both = packed(scissors, clock="7:30")
    here = of_monday(both, packed(paper, 40, "7:41"), packed(glue, clock="7:42"))
    there = of_monday(both, packed(paper, clock="7:50"), Reported(at=at("9:00"), visit=visit.key, outcome="not taught"))
    found = compare(here, there, day, day)
    assert found.same == 1
    assert [(each.where, each.here, each.there, each.newer) for each in found.differences] == [
        (
            "different",
            "7:41 packed 40 of 51 white paper 12x18, Box 3",
            "7:50 packed 51 white paper 12x18, Box 3",
            "there",
        ),
        ("only there", "", "9:00 V1 3-B: not taught", "there"),
        ("only here", "7:42 packed 27 glue stick, Box 3", "", "here"),
    ]


def test_the_same_thing_said_later_is_no_difference(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path))
    glue = line_of(day, "glue-stick")
    found = compare(of_monday(packed(glue, clock="7:41")), of_monday(packed(glue, clock="7:55")), day, day)
    assert (found.differences, found.same) == ((), 1)


def test_each_thing_that_is_different_about_a_day_is_told_by_itself(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path))
    here = of_monday(Changed(at=at("7:00"), away=("3-B",), substitute=True))
    there = of_monday(Changed(at=at("7:10"), away=(), students={"3-K": 20}))
    said = [(each.here, each.there) for each in compare(here, there, day, day).differences]
    assert said == [
        ("7:00 the day changed: 3-B away", "7:10 the day changed: no class away"),
        ("", "7:10 the day changed: 20 come from 3-K"),
        ("7:00 the day changed: a substitute", ""),
    ]


def test_a_delivery_said_in_both_counts_twice_and_is_told(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path))
    here = of_monday(Delivered(at=at("8:00"), supply="white-12x18", packs=8))
    there = of_monday(Delivered(at=at("8:20"), supply="white-12x18", packs=8))
    assert compare(here, there, day, day).said_twice == ("8:00 white paper 12x18: 8 packs came",)
    assert len(merge_entries(here.entries, there.entries)) == 2


def test_a_day_is_closed_where_either_version_was(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path))
    glue = line_of(day, "glue-stick")
    here = of_monday(packed(glue, clock="7:41"))
    there = of_monday(packed(glue, clock="7:41"), closed_at=at("15:10"))
    assert merge_records(here, there).closed_at == merge_records(there, here).closed_at == at("15:10")
