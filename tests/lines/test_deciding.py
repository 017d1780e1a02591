"""What cannot be taught as planned is stopped and decided, or put off for the filler; guests; boxes others share."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from checklists.daybook.entries import Changed, Guests, Reported
from checklists.daybook.state import Owed, Progress
from checklists.lines.records import Day
from tests.days import NEXT_DAY_A, NEXT_THURSDAY, TUESDAY, at, day_of, line_of, lines_of, opened, visit_of
from tests.schools import (
    FRIDAY_BEFORE,
    MONDAY,
    a_class,
    a_kit,
    a_lesson,
    a_part,
    a_supply,
    an_item,
    reference_school,
    small_school,
    write_toml,
)

RUBBINGS = a_lesson("rubbings", [a_part("rub", [an_item("white-9x12"), an_item("crayon-set", per="pair")])])


def glue_school(tmp_path: Path, adults: int = 2, **changes: Any) -> Path:
    """5-S, nine children with two adults, glues with a hot tool; the lesson has a dry version."""
    hot = a_part("glue", [an_item("glue-gun", per="class"), an_item("block")], tags=["hot tool", "two adults"])
    plan: dict[str, Any] = {
        "classes": [a_class("5-S", room="12", students=9, tables=3, adults=adults)],
        "timetable": {"Mon": {"P1": "5-S"}},
        "teaching": {"5": ["towers"]},
        "supplies": [
            a_supply("glue-gun", kind="tool", own=True),
            a_supply("block"),
            a_supply("white-9x12", kind="paper"),
            a_supply("crayon-set", returns=True),
        ],
        "lessons": [a_lesson("towers", [hot], dry_version="rubbings"), RUBBINGS],
        "boxes": [],
        **changes,
    }
    return small_school(tmp_path, **plan)


def supplies_of(day: Day) -> set[str]:
    return {line.supply for line in day.lines}


def test_with_two_adults_the_part_is_packed_and_nothing_is_to_be_decided(tmp_path: Path) -> None:
    day = day_of(glue_school(tmp_path))
    assert day.decisions == ()
    assert {"glue-gun", "block"} <= supplies_of(day)


def test_with_one_adult_nothing_is_packed_and_what_to_teach_instead_is_offered(tmp_path: Path) -> None:
    day = day_of(glue_school(tmp_path), change=Changed(at=at("7:40"), adults={"5-S": 1}))
    (decision,) = day.decisions
    assert supplies_of(day).isdisjoint({"glue-gun", "block"})
    assert "two adults" in decision.text
    assert [offer.label for offer in decision.offers] == [
        "teach Rubbings",
        "a second adult is there",
        "5-S is not visited",
    ]


def test_each_offer_makes_of_the_day_what_it_says(tmp_path: Path) -> None:
    folder = glue_school(tmp_path, adults=1)
    dry, second, away = day_of(folder).decisions[0].offers
    taught = day_of(folder, change=dry.change)
    assert (taught.decisions, supplies_of(taught) >= {"white-9x12", "crayon-set"}) == ((), True)
    assert "glue-gun" not in supplies_of(taught)
    assert "glue-gun" in supplies_of(day_of(folder, change=second.change))
    assert day_of(folder, change=away.change).visits == ()
    trip = Changed(at=at("7:30"), away=("3-B",))
    assert day_of(folder, change=trip).decisions[0].offers[-1].change.away == ("3-B", "5-S")


def test_a_lesson_taught_instead_leaves_the_class_where_it_is(tmp_path: Path) -> None:
    book = opened(glue_school(tmp_path, adults=1))
    (decision,) = book.day(MONDAY).decisions
    book.do(MONDAY, decision.offers[0].change)
    visit = visit_of(book.day(MONDAY), "5-S")
    book.do(MONDAY, Reported(at=at("9:00"), visit=visit.key, outcome="done", absent=(4,), absences_known=True))
    after = book.closing_of(MONDAY)
    assert after.progress.get("5-S", Progress("towers", 1)).part == 1
    assert after.progress.get("5-S", Progress("towers", 1)).lesson == "towers"
    assert after.owed == {}


# -------------------------------------------------------------------------------- too early: the filler instead


def kiln_school(tmp_path: Path) -> Path:
    folder = reference_school(tmp_path, school={"habits": {"filler": "sketching"}})
    write_toml(folder / "lessons" / "sketching.toml", a_lesson("sketching", [a_part("draw", [an_item("white-9x12")])]))
    return folder


def test_glaze_before_the_kiln_is_said_the_day_the_clay_is_worked(tmp_path: Path) -> None:
    day = day_of(kiln_school(tmp_path), progress={"4-D": Progress("pinch-owls", 1)})
    said = [each.what for each in day.cautions if "next-too-early" in each.key]
    # Dry for seven days to Mon 12 Oct, a holiday; loaded Tue 13, out Thu 15. The next day A is Wed 14.
    assert said == ["4-D comes again on Wed 14 Oct, the next part not before Thu 15 Oct: plan a filler lesson."]


def test_on_the_day_itself_the_filler_is_on_the_list_and_no_glaze(tmp_path: Path) -> None:
    day = day_of(kiln_school(tmp_path), on=NEXT_DAY_A, progress={"4-D": Progress("pinch-owls", 2, taught_on=MONDAY)})
    visit = visit_of(day, "4-D")
    assert (visit.instead, [step.lesson for step in visit.steps]) == ("too early", ["sketching"])
    assert [line.need for line in lines_of(day, "white-9x12") if line.container == "box-4"] == [26 + 3]
    assert [each.critical for each in day.cautions if each.key.split("/")[3] == "too-early"] == [True]


def test_when_the_cycle_slides_by_a_day_the_glaze_may_be_used(tmp_path: Path) -> None:
    places = {"4-D": Progress("pinch-owls", 2, taught_on=MONDAY)}
    day = day_of(kiln_school(tmp_path), on=NEXT_THURSDAY, progress=places, lost_days=(TUESDAY,))
    visit = visit_of(day, "4-D")
    assert (visit.instead, [(step.lesson, step.part) for step in visit.steps]) == ("", [("pinch-owls", 2)])


def test_she_may_insist_on_the_part_all_the_same(tmp_path: Path) -> None:
    places = {"4-D": Progress("pinch-owls", 2, taught_on=MONDAY)}
    change = Changed(at=at("7:30", NEXT_DAY_A), lessons={"P6 4-D": ""})
    day = day_of(kiln_school(tmp_path), on=NEXT_DAY_A, change=change, progress=places)
    assert visit_of(day, "4-D").steps[0].lesson == "pinch-owls"


def test_a_second_visit_of_the_day_waits_as_well(tmp_path: Path) -> None:
    pots = [a_part("build", [an_item("block")], wait={"days": 5}), a_part("paint", [an_item("block")])]
    folder = glue_school(
        tmp_path,
        timetable={"Mon": {"P1": "5-S", "P2": "5-S"}},
        lessons=[a_lesson("towers", pots), RUBBINGS],
    )
    school = (folder / "school.toml").read_text()
    (folder / "school.toml").write_text(school + '\n[habits]\nfiller = "rubbings"\n')
    first, second = day_of(folder).visits
    assert (first.steps[0].lesson, second.steps[0].lesson, second.instead) == ("towers", "rubbings", "too early")
    friday = {"5-S": Progress("towers", 2, taught_on=FRIDAY_BEFORE)}
    both = day_of(folder, progress=friday).visits
    assert [(visit.steps[0].lesson, visit.instead) for visit in both] == [("rubbings", "too early")] * 2


# ----------------------------------------------------------------------------------------------------- guests


def test_two_children_of_a_class_on_a_trip_join_another_one(tmp_path: Path) -> None:
    """Field trip: V3 falls out, two of 3-B join the 25 of 3-K."""
    change = Changed(at=at("7:30"), away=("3-B",), guests=(Guests(of="3-B", join="3-K", count=2),))
    places = {each: Progress("burlap-birds", 2) for each in ("3-B", "3-K")}
    day = day_of(reference_school(tmp_path), change=change, progress=places)
    assert [visit.class_id for visit in day.visits if visit.grade == "3"] == ["3-K"]
    assert visit_of(day, "3-K").students == 27
    needs = {supply: line_of(day, supply).need for supply in ("yarn-ball", "blunt-needle")}
    assert needs == {"yarn-ball": 27 + 3, "blunt-needle": 27 + 2}
    (scissors,) = [use.amount for use in line_of(day, "scissors").uses if use.visit == "P4 3-K"]
    assert scissors == 14 + 1
    folder = line_of(day, "folder 3-B")
    assert folder.critical
    assert folder.because[0].text == "2 children of 3-B with 3-K: take their work out of it"


def test_guests_of_a_class_that_is_elsewhere_in_its_lessons_bring_no_folder(tmp_path: Path) -> None:
    change = Changed(at=at("7:30"), away=("3-B",), guests=(Guests(of="3-B", join="5-H", count=2),))
    places = {"3-B": Progress("burlap-birds", 2), "5-H": Progress("paper-masks", 2)}
    day = day_of(reference_school(tmp_path), change=change, progress=places)
    assert visit_of(day, "5-H").students == 29
    assert lines_of(day, "folder 3-B") == []


def test_how_many_come_today_is_for_today(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path), change=Changed(at=at("7:30"), students={"3-B": 20}))
    assert line_of(day, "white-12x18").need == 20 + 22 + 5
    assert not visit_of(day, "3-B").about


# ------------------------------------------------------------------------------------------ boxes others share


def bands(tmp_path: Path, **more: Any) -> Path:
    """3-B avoids latex and shares Box 3 with 3-K; the lesson ties with rubber bands."""
    return small_school(
        tmp_path,
        classes=[a_class("3-B", room="12", students=24, avoid=["latex"]), a_class("3-K", room="14", students=22)],
        supplies=[
            a_supply("band", "rubber bands", marks=["latex"], instead="tie"),
            a_supply("tie", "cotton ties"),
            *more.pop("supplies", []),
        ],
        lessons=[a_lesson("bundles", [a_part("tie", [an_item("band")])]), *more.pop("lessons", [])],
        teaching={"3": ["bundles"]},
        **more,
    )


def test_what_one_class_avoids_the_other_classes_of_its_box_do_without_as_well(tmp_path: Path) -> None:
    day = day_of(bands(tmp_path))
    band, ties = line_of(day, "band"), line_of(day, "tie")
    assert band.forbidden
    assert band.visits == ("P1 3-B",)
    assert (ties.need, ties.visits) == (24 + 22 + 5, ("P1 3-B", "P2 3-K"))
    assert "in place of rubber bands, which must not be in a box that others share" in [b.text for b in ties.because]


def test_what_stands_in_the_box_unasked_must_come_out_too(tmp_path: Path) -> None:
    folder = bands(tmp_path, supplies=[a_supply("glove", "latex gloves", marks=["latex"])])
    day = day_of(folder, contents={"box-3": {"glove": 10}})
    gloves = line_of(day, "glove")
    assert (gloves.need, gloves.in_it, bool(gloves.forbidden)) == (0, 10, True)


def test_in_a_box_that_the_class_does_not_meet_it_may_stay(tmp_path: Path) -> None:
    folder = bands(
        tmp_path,
        supplies=[a_supply("glove", "latex gloves", marks=["latex"])],
        kits=[a_kit("washing", {"glove": 10})],
    )
    assert lines_of(day_of(folder, contents={"washing": {"glove": 10}}), "glove") == []


def two_who_share(tmp_path: Path, lists: str, **foil: Any) -> Path:
    """3-B avoids latex, 3-K nuts, and they share Box 3. With ``lists`` "3-K" only that class comes to the balloons."""
    plain = a_lesson("plain", [a_part("draw", [an_item("sheet")])])
    balloons = a_lesson("balloons", [a_part("blow", [an_item("balloon")])])
    avoid = {"3-B": ["latex"], "3-K": ["nut"]}
    rooms = {"3-B": ("12", 24), "3-K": ("14", 22)}
    return small_school(
        tmp_path,
        classes=[a_class(each, room=room, students=n, avoid=avoid[each]) for each, (room, n) in rooms.items()],
        supplies=[
            a_supply("sheet"),
            a_supply("balloon", marks=["latex"], instead="foil"),
            a_supply("foil", **foil),
            a_supply("paper-ball"),
        ],
        lessons=[plain, balloons],
        teaching={"3": ["plain", "balloons"] if lists == "3-K" else ["balloons", "plain"]},
    )


GONE_ON = Progress("balloons", 1, lessons_done=("plain",))


def test_what_only_the_other_class_needs_stays_out_of_the_box_as_well(tmp_path: Path) -> None:
    folder = two_who_share(tmp_path, "3-K")
    day = day_of(folder, progress={"3-K": GONE_ON})
    assert lines_of(day, "balloon") == []
    assert (line_of(day, "foil").need, line_of(day, "foil").visits) == (22 + 3, ("P2 3-K",))
    held = day_of(folder, progress={"3-K": GONE_ON}, contents={"box-3": {"balloon": 24}})
    assert (line_of(held, "balloon").need, bool(line_of(held, "balloon").forbidden)) == (0, True)
    assert line_of(held, "foil").need == 22 + 3


def test_what_comes_in_its_place_must_suit_all_who_share(tmp_path: Path) -> None:
    day = day_of(two_who_share(tmp_path, "both", marks=["nut"], instead="paper-ball"))
    assert lines_of(day, "foil") == []
    assert line_of(day, "paper-ball").need == 24 + 22 + 5


def test_what_stops_a_part_for_a_childs_sake_is_not_told_in_public(tmp_path: Path) -> None:
    rule = {
        "id": "quiet",
        "title": "Hers",
        "when": ["drawing"],
        "because": "a child of the class cannot",
        "private": True,
        "cautions": [{"text": "SECRET", "stops": True, "critical": True}],
        "tasks": [{"what": "SECRET as well", "days_before": 0}],
    }
    lessons = [a_lesson("work", [a_part("work", [an_item("white-12x18")], tags=["drawing"])])]
    folder = small_school(tmp_path, lessons=lessons, teaching={"3": ["work"]}, rules={"rules": [rule]})
    day = day_of(folder)
    assert {each.text for each in day.decisions} == {
        "3-B: the part cannot be taught as things are.",
        "3-K: the part cannot be taught as things are.",
    }
    assert all(why.private for task in day.tasks if "SECRET" in task.what for why in task.because)


# ------------------------------------------------------------------------------- sizes that are about, own sets


def test_a_class_of_about_24_has_four_to_spare_until_it_is_confirmed(tmp_path: Path) -> None:
    lessons = [a_lesson("draw", [a_part("draw", [an_item("white-12x18")])])]
    classes = [a_class("3-B", room="12", students="about 24"), a_class("3-K", room="14", students=0)]
    plan: dict[str, Any] = {"lessons": lessons, "teaching": {"3": ["draw"]}}
    about = line_of(day_of(small_school(tmp_path / "about", classes=classes, **plan)), "white-12x18")
    assert (about.need, about.about) == (24 + 4, True)
    classes = [a_class("3-B", room="12", students=24), a_class("3-K", room="14", students=0)]
    assert line_of(day_of(small_school(tmp_path / "sure", classes=classes, **plan)), "white-12x18").need == 24 + 3


def test_what_children_share_has_spare_for_four_children_of_a_class_of_about_20(tmp_path: Path) -> None:
    """Four to spare is four children (practice.md, situation of the first weeks): not four pints, nor four boxes."""
    items = [an_item("glue-stick", 0.02), an_item("scissors", per="pair"), an_item("white-12x18", 2)]
    lessons = [a_lesson("draw", [a_part("draw", items)])]
    classes = [a_class("3-B", room="12", students="about 20"), a_class("3-K", room="14", students=0)]
    folder = small_school(tmp_path, classes=classes, lessons=lessons, teaching={"3": ["draw"]})
    day = day_of(folder)
    assert line_of(day, "glue-stick").need == 1 + 2, "the usual 2: 4 children more take a little"
    assert line_of(day, "scissors").need == 10 + 2, "4 children more are 2 pairs"
    assert line_of(day, "white-12x18").need == 40 + 4


def test_a_demonstration_made_afresh_takes_one_set_more_for_each_class_without_spare(tmp_path: Path) -> None:
    def paper(name: str, *tags: str) -> int:
        lessons = [a_lesson("fold", [a_part("fold", [an_item("white-12x18", 2)], tags=list(tags))])]
        return line_of(
            day_of(small_school(tmp_path / name, lessons=lessons, teaching={"3": ["fold"]})), "white-12x18"
        ).need

    assert paper("plain", "drawing") == 2 * 46 + 10
    assert paper("fresh", "drawing", "fresh demo") == 2 * 46 + 10 + 2 * 2


def test_adapted_tools_for_every_child_leave_the_spare_of_ordinary_ones(tmp_path: Path) -> None:
    folder = small_school(
        tmp_path,
        classes=[
            a_class("3-B", room="12", students=2, needs=[{"need": "left-handed", "count": 2}]),
            a_class("3-K", room="14", students=0),
        ],
        lessons=[a_lesson("cut", [a_part("cut", [an_item("scissors", into="cart")])])],
        teaching={"3": ["cut"]},
    )
    day = day_of(folder)
    assert (line_of(day, "scissors").need, line_of(day, "scissors-left").need) == (1, 2)


# ------------------------------------------------------------------------------------------ classes that drift


def test_classes_two_parts_apart_are_told_of_with_ways_to_meet(tmp_path: Path) -> None:
    parts = [a_part(f"part {n}", [an_item("yarn-ball")], optional=n == 3) for n in range(1, 6)]
    sketching = a_lesson("sketch", [a_part("draw", [an_item("yarn-ball")])], title="Sketching")
    folder = small_school(tmp_path, lessons=[a_lesson("birds", parts), sketching], teaching={"3": ["birds"]})
    (folder / "school.toml").write_text((folder / "school.toml").read_text() + '\n[habits]\nfiller = "sketch"\n')

    def apart(slow: int, fast: int) -> list[str]:
        day = day_of(folder, progress={"3-B": Progress("birds", slow), "3-K": Progress("birds", fast)})
        return [each.what for each in day.cautions if "/apart/" in each.key]

    assert apart(2, 4) == [
        "3-B is at part 2, 3-K at part 4: Box 3 serves both."
        " 3-B can leave out part 3; 3-K can have Sketching meanwhile."
    ]
    assert apart(3, 4) == []


def test_catch_up_of_a_class_rides_with_the_filler_as_well(tmp_path: Path) -> None:
    folder = kiln_school(tmp_path)
    places = {"4-D": Progress("pinch-owls", 2, taught_on=MONDAY)}
    owed = {"4-D": (Owed("leaf-rubbings", 1, MONDAY, numbers=(3,)),)}
    day = day_of(folder, on=NEXT_DAY_A, progress=places, owed=owed)
    assert {line.supply for line in day.lines if line.catch_up_for == "4-D"} == {"white-9x12", "crayon-set"}
