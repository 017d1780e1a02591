"""How much a usual morning asks of her. The bound is common practice, no source: beyond it she stops reading."""

from __future__ import annotations

from pathlib import Path

from checklists.daybook.entries import Reported
from checklists.daybook.line_states import is_critical, is_open
from checklists.lines.day import MOST_CRITICAL
from tests.days import NEXT_DAY_A, at, opened
from tests.schools import MONDAY, reference_school

FRIDAYS_CONTENTS = {
    "cart": {"scissors": 30},
    "box-K": {"backing-12x18": 3, "newsprint": 50, "sponge": 7, "towel": 200, "table-cover": 6, "wipes": 80},
    "watercolour": {"fish-brush": 18, "fish-pans": 12, "fish-cup": 9},
    "box-1": {"base-12x18": 26, "green-6x9": 40, "name-label": 60, "scissors-blunt": 24, "glue-stick": 22},
    "box-2": {
        "white-9x12": 30,
        "name-label": 60,
        "newsprint": 50,
        "foam-plate": 10,
        "dirty-water-bucket": 1,
        "sponge": 7,
        "drying-clip": 60,
        "masking-tape": 1,
        "towel": 200,
        "smock": 28,
        "table-cover": 6,
        "wipes": 80,
    },
    "printing": {"brayer": 6, "inking-plate": 6, "block-ink-tube": 2},
    "box-3": {"yarn-ball": 38, "magnet-wand": 1, "needle-card": 1},
    "stitching": {"blunt-needle": 24},
    "box-4": {
        "name-label": 60,
        "piece-bag": 100,
        "carry-board": 4,
        "clay-tag": 60,
        "sponge": 7,
        "towel": 200,
        "table-cover": 6,
        "needle-tool": 1,
    },
    "clay": {"clay-mat": 30},
    "box-5": {"base-12x18": 30, "strip-1x12": 40, "glue-stick": 30},
}
"""What containers hold after some weeks of lessons: tools stay in them, and of what is used up there are packs."""


def test_a_usual_day_asks_for_at_most_thirty_lines(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path, contents=FRIDAYS_CONTENTS))
    day, marks = book.day(MONDAY), book.marks(MONDAY)
    open_now = [line for line in day.lines if is_open(line, marks)]
    assert len(day.visits) == 7
    assert len(day.lines) > 50
    assert len(open_now) <= 30, [line.key for line in open_now]
    assert sum(line.add > 0 for line in open_now) <= 20


def test_more_than_five_criticals_in_a_visit_name_the_rules_they_come_from(tmp_path: Path) -> None:
    day = opened(reference_school(tmp_path, contents=FRIDAYS_CONTENTS)).day(MONDAY)
    for visit in day.visits:
        critical = [line for line in day.lines if visit.key in line.visits and is_critical(line)]
        told = [note for note in day.notes if note.startswith(f"{visit.class_id} has ") and "critical" in note]
        assert bool(told) == (len(critical) > MOST_CRITICAL)
        assert all("Most come from: " in note for note in told)


def test_a_caution_is_new_once_for_a_class_and_lesson(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path, contents=FRIDAYS_CONTENTS))
    shown = {each.key for each in book.day(MONDAY).cautions if not each.critical}
    assert shown
    for visit in book.day(MONDAY).visits:
        book.do(MONDAY, Reported(at=at("15:00"), visit=visit.key, outcome="not taught"))
    book.close(MONDAY, at("15:10"))
    book.today = NEXT_DAY_A
    again = [each for each in book.day(NEXT_DAY_A).cautions if each.key in shown]
    assert again
    assert not any(each.is_new for each in again)
