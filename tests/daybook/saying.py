"""What a teacher may say of a day, drawn at random, for laws that hold whatever she says."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path
from typing import get_args

from hypothesis import strategies as st

from checklists.daybook import entries as book
from checklists.lines.records import Day
from checklists.plan.records import Plan
from tests.schools import a_kit, a_lesson, a_part, a_supply, an_item, small_school

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri")


def busy_school(folder: Path) -> Path:
    """Two third grades every day, lessons of two parts, a kit to put right, sharps, and stock that is known."""
    parts = [
        a_part(
            "cut and glue",
            [
                an_item("white-12x18", critical=True),
                an_item("glue-stick"),
                an_item("yarn-ball", 2, per="pair"),
                an_item("scissors", per="pair", critical=True),
            ],
        ),
        a_part(
            "wind",
            [an_item("yarn-ball"), an_item("scissors", per="pair")],
            catch_up="short",
            short_version=[an_item("yarn-ball")],
        ),
    ]
    return small_school(
        folder,
        timetable={day: {"P1": "3-B", "P2": "3-K"} for day in WEEKDAYS},
        teaching={"3": [f"lesson-{n}" for n in range(8)]},
        lessons=[a_lesson(f"lesson-{n}", parts, kits=["gluing"]) for n in range(8)],
        kits=[a_kit("gluing", {"glue-stick": 30}, reset="wipe, count, refill", reset_minutes=5)],
        supplies=[
            a_supply("white-12x18", "white paper 12x18", kind="paper", shelf="P1", on_hand=900),
            a_supply("glue-stick", "glue stick", returns=True, shelf="G1", on_hand=60),
            a_supply("scissors", kind="tool", sharp=True, marks=["scissors"], on_hand=30),
            a_supply("yarn-ball", "yarn ball", shelf="Y1", on_hand=500),
        ],
    )


def moments(day: date) -> st.SearchStrategy[datetime]:
    return st.integers(7 * 60, 16 * 60).map(lambda minute: datetime.combine(day, time(minute // 60, minute % 60)))


def packings(day: Day) -> st.SearchStrategy[book.AnyEntry]:
    """Lines packed in full, in part or with more, short, or not needed."""

    def of_line(key: str, need: int) -> st.SearchStrategy[book.AnyEntry]:
        at = moments(day.date)
        return st.one_of(
            st.builds(book.Packed, at=at, line=st.just(key), count=st.integers(0, need + 5)),
            st.builds(
                book.CameUpShort,
                at=at,
                line=st.just(key),
                count=st.integers(0, max(0, need - 1)),
                remedy=st.sampled_from(["share", "fetch", "go without"]),
            ),
            st.builds(book.NotNeeded, at=at, line=st.just(key), reason=st.sampled_from(["not today", "other"])),
        )

    return st.sampled_from([(line.key, line.need) for line in day.lines]).flatmap(lambda line: of_line(*line))


OUTCOMES = get_args(book.OutcomeKind)


def reports(day: Day) -> st.SearchStrategy[book.Reported]:
    """What became of a visit, with absences by number, by count, or not known."""
    return st.builds(
        book.Reported,
        at=moments(day.date),
        visit=st.sampled_from([visit.key for visit in day.visits]),
        outcome=st.sampled_from(OUTCOMES),
        not_done=st.integers(0, 5),
        reached_part=st.one_of(st.none(), st.integers(1, 2)),
        absent=st.lists(st.integers(1, 22), max_size=3, unique=True).map(lambda numbers: tuple(sorted(numbers))),
        absent_count=st.integers(0, 3),
        absences_known=st.booleans(),
        students=st.one_of(st.none(), st.integers(0, 26)),
        half=st.lists(st.integers(1, 22), max_size=2, unique=True).map(lambda numbers: tuple(sorted(numbers))),
        not_done_numbers=st.lists(st.integers(1, 22), max_size=2, unique=True).map(lambda each: tuple(sorted(each))),
    )


def afternoons(plan: Plan, day: Day) -> st.SearchStrategy[book.AnyEntry]:
    """Counts, kits, places, and matters that were done, let go or carried over."""
    at = moments(day.date)
    visits = st.sampled_from([visit.key for visit in day.visits])
    boxes = st.sampled_from(["box-3", "gluing", "cart"])
    matters = st.sampled_from([*(each.key for each in day.matters), *(each.key for each in day.tasks), "places"])
    cases = st.sampled_from([*(case.key for case in day.open_cases), f"{day.date}/{day.visits[0].key}/scissors"])
    return st.one_of(
        st.builds(
            book.CountedSharps,
            at=at,
            visit=visits,
            supply=st.just("scissors"),
            out=st.integers(0, 14),
            back=st.integers(0, 14),
        ),
        st.builds(book.HandedOut, at=at, visit=visits, given=st.booleans()),
        st.builds(book.PutRight, at=at, container=st.just("gluing"), done=st.booleans()),
        st.builds(book.Stands, at=at, container=boxes, place=st.sampled_from(["store", "12", "14"])),
        st.builds(book.Ticked, at=at, matter=matters),
        st.builds(book.LetGo, at=at, matter=matters, reason=st.just("enough")),
        st.builds(book.CarriedOver, at=at, matter=matters, to=st.one_of(st.none(), st.just(day.date))),
        st.builds(book.ReportedMissing, at=at, case=cases, to_whom=st.just("office")),
        st.builds(book.ClosedCase, at=at, case=cases, found=st.booleans()),
        st.builds(book.ClosedCase, at=at, case=cases, found=st.just(True), count=st.integers(0, 3)),
        st.builds(book.CountLater, at=at, visit=visits, supply=st.just("scissors")),
        st.builds(book.LeftStore, at=at),
    )


def glances(day: Day) -> st.SearchStrategy[book.AnyEntry]:
    """What she saw, counted, ordered or was sent of a supply."""
    at = moments(day.date)
    supplies = st.sampled_from(["white-12x18", "glue-stick", "yarn-ball"])
    return st.one_of(
        st.builds(book.FoundLevel, at=at, supply=supplies, level=st.sampled_from(["plenty", "low", "out"])),
        st.builds(book.CountedStock, at=at, supply=supplies, count=st.integers(0, 600)),
        st.builds(book.Ordered, at=at, supply=supplies, packs=st.integers(0, 20)),
        st.builds(book.Delivered, at=at, supply=supplies, packs=st.integers(0, 20)),
        st.builds(
            book.FoundInContainer,
            at=at,
            container=st.sampled_from(["box-3", "gluing"]),
            supply=supplies,
            count=st.integers(0, 80),
        ),
    )


def of_children(plan: Plan, day: Day) -> st.SearchStrategy[book.AnyEntry]:
    """Single children who join, leave or are excused, pieces that broke or hang on a wall."""
    at, classes = moments(day.date), st.sampled_from([visit.class_id for visit in day.visits])
    lessons, numbers = st.sampled_from([lesson.id for lesson in plan.lessons[:2]]), st.integers(1, 24)
    some = st.lists(numbers, max_size=2, unique=True).map(lambda each: tuple(sorted(each)))
    hows = st.sampled_from(["excused", "short version", "at home"])
    count, until = st.integers(0, 3), st.sampled_from([None, day.date])
    return st.one_of(
        st.builds(book.Joined, at=at, class_id=classes, number=st.integers(23, 26)),
        st.builds(book.Left, at=at, class_id=classes, number=numbers),
        st.builds(book.Excused, at=at, class_id=classes, number=numbers, lesson=lessons, how=hows),
        st.builds(
            book.Broken, at=at, class_id=classes, lesson=lessons, part=st.integers(1, 2), numbers=some, count=count
        ),
        st.builds(book.WorkAway, at=at, class_id=classes, count=count, until=until),
    )


def lendings(day: Day) -> st.SearchStrategy[book.AnyEntry]:
    """Something is lent, and what was lent before, or never, comes back."""
    at, containers = moments(day.date), st.sampled_from(["cart", "gluing", ""])
    supplies, loans = st.sampled_from(["scissors", "glue-stick"]), [each.key for each in day.lent]
    count, places = st.integers(0, 12), st.sampled_from(["", "12", "14"])
    return st.one_of(
        st.builds(book.Lent, at=at, supply=supplies, count=count, to=st.just("Al"), place=places, container=containers),
        st.builds(
            book.GivenBack,
            at=at,
            loan=st.sampled_from(loans or ["loan/of nobody"]),
            supply=st.just("scissors"),
            count=count,
            container=containers,
        ),
    )


def anything(plan: Plan, day: Day) -> st.SearchStrategy[book.AnyEntry]:
    """Any entry but a change of the day itself, or of a class."""
    return st.one_of(packings(day), reports(day), afternoons(plan, day), glances(day), lendings(day))


def changes(day: Day) -> st.SearchStrategy[book.Changed]:
    """The day is not as planned."""
    return st.builds(
        book.Changed,
        at=moments(day.date),
        no_school=st.sampled_from([None, None, True, False]),
        substitute=st.sampled_from([None, True, False]),
        away=st.sampled_from([None, (), ("3-B",), ("3-B", "3-K")]),
    )
