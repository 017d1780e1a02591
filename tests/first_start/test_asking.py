"""The first start as questions and answers: how many they are, what each text means, and the plan at their end."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from checklists.calendar import calendar_of
from checklists.daybook.entries import Changed, ClassPlace
from checklists.files.plan_check import problems_in
from checklists.first_start.answers import Answers
from checklists.first_start.asking_day import DaySaid, LessonSaid, VisitSaid
from checklists.first_start.going import answered, gone_back
from checklists.first_start.making import first_entries, made_from, with_day
from checklists.first_start.question import NotTaken, Question
from checklists.words import minute_of
from tests.first_start.answering import MONDAY_AT_7_20, by_question, plan_from, run_through, said_in, way_of

ODD = "[b]x[/b] \x1b[31m \u202e \ud83d\ude00 {} %s ' \" \\ \u05d0\u05d1 \x00 \t 🎨"


def wordy(question: Question[Any]) -> str:
    """Types every answer, each in a question of its own: nothing is said beforehand, nothing is left to Enter."""
    if question.id.startswith("room of"):
        return "12 24"
    if question.id.startswith("lesson of"):
        return "9"  # three parts, so that the part is asked
    if question.id.startswith("part of"):
        return "2"
    by_id = {
        "school name": "Applewick Elementary",
        "first day": "8/24",
        "last day": "6/11",
        "days off": "9/7, 10/12, 11/26-27, 12/21-1/1, 1/18, 2/15, 4/5-9",
        "rotation": "c",
        "cycle days": "A-F",
        "first bell": "820",
        "period length": "45",
        "between": "5",
        "periods": "7",
        "lunch": "1150 30",
        "planning": "7",
        "day of 2026-11-30": "C",
        "lost day": "a",
        "boxes": "y",
    }
    classes = {"P1": "K-M", "P2": "1-P", "P3": "2-R", "P4": "3-B", "P5": "4-D", "P6": "5-H"}
    return by_id.get(question.id) or classes[question.id.partition("/")[2]]


def usual(question: Question[Any]) -> str:
    """Types what nobody can guess, in as few questions as can be, and leaves the rest to Enter."""
    classes = {"P1": "km 4", "P2": "1p 9", "P3": "2r 11", "P4": "3b 12 24", "P5": "4d 21", "P6": "5h 23"}
    by_id = {"school name": "Applewick", "rotation": "c", "day of 2026-11-30": "C", "lesson of 3": "9 2"}
    return by_id.get(question.id) or classes.get(question.id.partition("/")[2], "")


def test_six_visits_of_six_grades_take_at_most_40_questions_and_250_keys_where_every_question_is_asked_singly() -> None:
    """A new tool gets a quarter of an hour: the numbers are common practice, no source."""
    run = run_through(wordy)
    assert len(run.said.day.visits) == 6 and len(run.said.day.lessons) == 6
    assert len(run.asked) <= 40 and run.keys <= 250
    assert len(set(run.asked)) == len(run.asked)


def test_a_usual_newcomer_is_asked_less_and_types_little() -> None:
    run = run_through(usual)
    assert len(run.said.day.visits) == 6
    assert len(run.asked) <= 30 and run.keys <= 120


def test_with_nothing_but_enter_there_is_a_plan_without_visits() -> None:
    run = run_through(by_question())
    files = plan_from(run.answers, MONDAY_AT_7_20)
    assert not problems_in(files)
    assert files.classes.timetable == {"Mon": {}}
    assert [bells.id for bells in files.school.bells] == ["regular", "delayed opening", "early dismissal"]
    regular, delayed, _ = (minute_of(bells.periods[-1].end) for bells in files.school.bells)
    assert delayed <= regular
    assert (files.school.bells[0].periods[0].start, files.school.bells[0].periods[0].end) == ("8:00", "8:45")


def test_the_plan_says_what_she_said() -> None:
    run = run_through(wordy)
    files = plan_from(run.answers, MONDAY_AT_7_20)
    assert not [each for each in problems_in(files) if each.level == "grave"]
    school = files.school
    assert (school.name, school.first_day, school.last_day) == (
        "Applewick Elementary",
        date(2026, 8, 24),
        date(2027, 6, 11),
    )
    calendar = calendar_of(school)
    assert not calendar.is_school_day(date(2026, 12, 30)) and not calendar.is_school_day(date(2027, 4, 7))
    assert [(each.name, each.start, each.end) for each in school.bells[0].breaks] == [
        ("lunch", "11:50", "12:20"),
        ("planning", "14:00", "14:45"),
    ]
    classes = {each.id: each for each in files.classes.classes}
    assert (classes["3-B"].room, classes["3-B"].students) == ("12", 24)
    assert files.classes.timetable == {
        "C": {"P1": "K-M", "P2": "1-P", "P3": "2-R", "P4": "3-B", "P5": "4-D", "P6": "5-H"}
    }
    lessons = {each.id: each for each in files.lessons}
    assert all(len(lessons[files.classes.teaching[grade][0]].parts) == 3 for grade in ("K", "1", "2", "3", "4", "5"))
    assert school.habits.filler in lessons and school.habits.arrival == "7:45"


def test_the_first_days_record_says_the_day_of_the_cycle_and_which_classes_have_begun() -> None:
    said = said_in(run_through(wordy).answers, MONDAY_AT_7_20)
    entries = first_entries(said, made_from(said), MONDAY_AT_7_20)
    assert [each.day for each in entries if isinstance(each, Changed)] == ["C"]
    assert {(each.class_id, each.part) for each in entries if isinstance(each, ClassPlace)} == {
        (each, 2) for each in ("K-M", "1-P", "2-R", "3-B", "4-D", "5-H")
    }


def test_a_cycle_fixed_to_its_dates_has_the_named_day_on_its_date() -> None:
    run = run_through(by_question(rotation="c", day_of_2026_11_30="D", lost_day="f"))
    school = plan_from(run.answers, MONDAY_AT_7_20).school
    calendar = calendar_of(school)
    assert [calendar.day_name(date(2026, 11, 30)), calendar.day_name(date(2026, 12, 1))] == ["D", "E"]


@pytest.mark.parametrize(
    ("now", "asked"),
    [
        (datetime(2026, 11, 30, 7, 20), "Mon/P1"),
        (datetime(2026, 11, 30, 13, 0), "Mon/P1"),
        (datetime(2026, 11, 30, 15, 30), "Tue/P1"),
        (datetime(2026, 11, 28, 9, 0), "Mon/P1"),
        (datetime(2026, 11, 26, 7, 0), "Mon/P1"),
        (datetime(2026, 8, 3, 10, 0), "Mon/P1"),
    ],
    ids=["before school", "at noon", "after school", "a Saturday", "Thanksgiving", "in summer"],
)
def test_only_todays_periods_are_asked_or_those_of_the_next_school_day(now: datetime, asked: str) -> None:
    run = run_through(by_question(), now)
    assert next(each for each in run.asked if "/" in each) == asked
    assert {each.partition("/")[0] for each in run.asked if "/" in each} == {asked.partition("/")[0]}


@pytest.mark.parametrize(
    ("typed", "means"),
    [
        ("3-B 12 24", "3-B, room 12, 24 children"),
        ("3b 12", "3-B, room 12, about 24 children"),
        ("k-m", "K-M"),
        ("PK ash room 4, about 15 children", "PK-ash, room 4, about 15 children"),
        ("pk-ash room 4, about 15 children", "PK-ash, room 4, about 15 children"),
        ("3 B 12 ~24", "3-B, room 12, about 24 children"),
        ("3-B the big gym 24", "3-B, room big gym, 24 children"),
        ("3-B\t12\t24", "3-B, room 12, 24 children"),
        ("nobody", "nobody"),
        ("Smith 12", None),
        ("9-B", None),
        ("3-B 12 0", None),
        ("3-B store", None),
        ("3-B 1/2 24", None),
    ],
)
def test_a_class_is_typed_as_it_is_said(typed: str, means: str | None) -> None:
    question = way_of(Answers(dict(run_through(by_question()).answers.said) | {"Mon/P1": "?"})).open
    assert question is not None and question.id == "Mon/P1"
    if means is None:
        with pytest.raises(NotTaken):
            question.understood(typed)
    else:
        assert question.say(question.understood(typed)) == means


def test_a_class_that_comes_twice_is_asked_about_once_and_cannot_be_in_two_rooms() -> None:
    run = run_through(by_question(Mon_P1="3-B", room_of_3_B="12 24", Mon_P3="3b"))
    assert [each for each in run.asked if each.startswith("room")] == ["room of 3-B"]
    assert [each.class_id for each in run.said.day.visits] == ["3-B", "3-B"]
    with pytest.raises(NotTaken):
        run_through(by_question(Mon_P1="3-B 12", Mon_P3="3-B 14"))


def test_without_boxes_nothing_goes_into_one() -> None:
    run = run_through(by_question(Mon_P1="3-B 12 24", lesson_of_3="cr", boxes="n"))
    lessons = plan_from(run.answers, MONDAY_AT_7_20).lessons
    assert {item.into for lesson in lessons for item in lesson.items_from(1)} == {"cart"}


def test_what_was_said_of_monday_is_in_the_plan_when_setting_up_goes_on_on_tuesday() -> None:
    monday = run_through(by_question(Mon_P1="3-B 12 24", Mon_P2="2-R 11")).answers.said
    half = {ident: text for ident, text in monday.items() if not ident.startswith(("lesson", "boxes", "Mon/P5"))}
    tuesday = datetime(2026, 12, 1, 7, 20)
    run = run_through(by_question(Tue_P1="4-D 21"), tuesday, Answers(half))
    files = plan_from(run.answers, tuesday)
    assert files.classes.timetable == {"Tue": {"P1": "4-D"}, "Mon": {"P1": "3-B", "P2": "2-R"}}
    assert not [each for each in problems_in(files) if each.level == "grave"]
    assert {each.id for each in files.classes.classes} == {"4-D", "3-B", "2-R"}


def test_an_answer_that_does_not_fit_any_more_is_asked_again_and_says_why() -> None:
    answers = run_through(by_question(planning="P7")).answers
    way = way_of(Answers(answers.said | {"periods": "5"}))
    assert way.open is not None and way.open.id == "planning"
    assert '"P7" does not fit any more' in way.why


# ------------------------------------------------------------------------------------------------------------ laws

TEXTS = st.one_of(
    st.text(max_size=30),
    st.sampled_from(
        ["", "none", "usual", "c", "w", "y", "n", "1", "2", "6", "45", "8:20", "A-F", "3-B", "3-B 12 24", "K-M 4",
         "12 24", "9/7", "8/24", "6/11", "11:15-11:45", "9 2", "P5", "14", ODD]
    ),
)  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(["answer", "answer", "answer", "back", "stop"]), TEXTS), max_size=60))
def test_whatever_is_typed_back_and_stopped_the_answers_stay_and_the_plan_is_clean(
    steps: list[tuple[str, str]],
) -> None:
    """A text is taken or refused in words; going back and stopping drop nothing; the plan at the end has no problem."""
    answers = Answers()
    for step, typed in steps:
        way = way_of(answers)
        kept = dict(answers.said)
        if step == "back":
            answers = gone_back(answers, way) or answers
            assert answers.said == kept
        elif step == "stop":
            answers = Answers(dict(answers.said))
        elif way.open is not None:
            try:
                taken = answered(answers, way.open, typed)
            except NotTaken as problem:
                assert str(problem)
                continue
            answers = taken
            assert {each: text for each, text in answers.said.items() if each != way.open.id} == {
                each: text for each, text in kept.items() if each != way.open.id
            }
            assert way.open.say_default()
    while (way := way_of(Answers(answers.said))).open is not None:
        answers = answered(answers, way.open, "")
    files = plan_from(answers, MONDAY_AT_7_20)
    assert not [each for each in problems_in(files) if each.level == "grave"]


@settings(max_examples=60, deadline=None)
@given(TEXTS, st.integers(0, 25))
def test_every_question_takes_any_text_or_says_why_not(typed: str, skip: int) -> None:
    answers = Answers()
    for _ in range(skip):
        way = way_of(answers)
        if way.open is None:
            break
        answers = answered(answers, way.open, "3-B 12" if way.open.id == "Mon/P1" else "")
    question = way_of(answers).open
    if question is None:
        return
    try:
        assert question.say(question.understood(typed))
    except NotTaken as problem:
        assert len(str(problem)) > 5


def test_going_back_offers_the_answer_and_changing_it_keeps_the_others() -> None:
    answers = run_through(wordy).answers
    way = way_of(answers)
    for _ in range(3):
        back = gone_back(Answers(answers.said, way.open.id if way.open is not None else ""), way)
        assert back is not None
        way = way_of(back)
    assert way.open is not None and way.open.default == answers.said[way.open.id]
    changed = answered(back, way.open, "")
    assert changed.said == answers.said and way_of(changed).open is None


@settings(max_examples=40, deadline=None)
@given(data=st.data(), day=st.dates(date(2026, 7, 1), date(2027, 7, 1)))
def test_enter_alone_is_an_answer_to_every_question_whatever_was_said_before(data: st.DataObject, day: date) -> None:
    """What Enter takes is worked out from the answers before it: from any of these it must be one that can be."""
    typed = {
        "first day": [
            "2020-08-24",
            "8/24",
            "12/21",
            (day - timedelta(400)).isoformat(),
            (day - timedelta(3)).isoformat(),
        ],
        "last day": [(day + timedelta(n)).isoformat() for n in (0, 1, 9, 200)],
        "days off": ["none", "usual", "1/1"],
        "first bell": ["6:00", "12:00", "820"],
        "period length": ["20", "60", "120"],
        "between": ["0", "30"],
        "periods": ["1", "2", "12", "8"],
        "lunch": ["none", "1115"],
        "planning": ["1", "2"],
        "rotation": ["c"],
    }

    def newcomer(question: Question[Any]) -> str:
        question.say_default()
        classes = ["3-" + "Bcdefghijklmnopqrstu"[:20], "k", "nobody"] if "/" in question.id else []
        for each in data.draw(st.permutations(typed.get(question.id, classes))):
            try:
                question.understood(each)
            except NotTaken:
                continue
            return each
        return ""

    run = run_through(newcomer, datetime.combine(day, time(11, 0)))
    assert not [each for each in problems_in(made_from(run.said).files) if each.level == "grave"]


def test_a_year_that_must_be_over_is_no_answer_to_when_it_began() -> None:
    question = way_of(answered(Answers(), way_of(Answers()).open, "")).open  # type: ignore[arg-type]
    assert question is not None and question.id == "first day"
    with pytest.raises(NotTaken, match="longer ago than a school year lasts"):
        question.understood("2020-08-24")


def test_who_has_no_boxes_is_given_none_by_a_lesson_that_comes_later() -> None:
    """Also where the first lesson goes with a kit, and nothing that was changed by hand since is touched."""
    run = run_through(by_question(Mon_P1="3-B 12", lesson_of_3="clay 1", boxes="n"))
    files = made_from(run.said).files
    by_hand = structs.replace(files.lessons[0].parts[0].items[0], into="box")
    part = structs.replace(files.lessons[0].parts[0], items=(by_hand, *files.lessons[0].parts[0].items[1:]))
    told = DaySaid("Tue", (VisitSaid("P1", "4-A", "4", "9", 20),), (LessonSaid("4", "collage"),))
    new = {each.id: each for each in with_day(files, told).files.lessons}
    (later,) = new.keys() - {each.id for each in files.lessons}
    assert {item.into for each in new[later].parts for item in each.items} == {"cart"}
    changed = structs.replace(files.lessons[0], parts=(part, *files.lessons[0].parts[1:]))
    files = structs.replace(files, lessons=(changed, *files.lessons[1:]))
    assert changed in with_day(files, told, has_boxes=False).files.lessons
