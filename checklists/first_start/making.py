"""From what was said to a plan, and to what the daybook is told of its first day."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import datetime

from msgspec import Struct, structs

from checklists.calendar import calendar_of
from checklists.daybook.entries import AnyEntry, Began, Changed, ClassPlace
from checklists.first_start.asking_day import DaySaid, LessonChoice, LessonSaid, VisitSaid
from checklists.first_start.asking_school import SchoolSaid
from checklists.first_start.bell_times import DayShape, bells_of
from checklists.first_start.going import AllSaid
from checklists.lesson_types import lesson_type, lesson_types, start_from
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Habits, Item, Lesson, Room, Rotation, School, SchoolClass
from checklists.words import clock

FILLER = "crayon-drawing"
"""The kind of lesson for a substitute, and for a class that has no lesson left."""
ARRIVES_BEFORE = 35
"""Minutes before the first bell; common practice, no source."""


class Made(Struct, frozen=True):
    """A plan with a day more in it, and the classes that are in the middle of a lesson: class, lesson, part."""

    files: PlanFiles
    begun: tuple[tuple[str, str, int], ...] = ()

    def entries(self, at: datetime) -> tuple[AnyEntry, ...]:
        """What the day's record has to say of the classes that have begun."""
        return tuple(ClassPlace(at=at, class_id=each, lesson=lesson, part=part) for each, lesson, part in self.begun)


def choices_to_begin_with() -> tuple[LessonChoice, ...]:
    """The lessons to choose from, the usual one first."""
    kinds = sorted(lesson_types(), key=lambda each: each.id != FILLER)
    return tuple(
        LessonChoice(each.id, each.title, tuple(part.title for part in each.lesson.parts), each.grades)
        for each in kinds
    )


def made_from(said: AllSaid) -> Made:
    """The first plan: the school, the day of its timetable that was asked about, and what is known of others."""
    made = with_day(PlanFiles(school_from(said.school)), said.day, has_boxes=said.has_boxes)
    for day in said.other_days:
        more = with_day(made.files, day, has_boxes=said.has_boxes)
        made = Made(more.files, (*made.begun, *more.begun))
    return structs.replace(made, files=_with_filler(made.files, has_boxes=said.has_boxes))


def first_entries(said: AllSaid, made: Made, at: datetime) -> tuple[AnyEntry, ...]:
    """What the record of the first day begins with: which day of the cycle it is, and which classes have begun."""
    rotation = said.school.rotation
    announced = rotation.kind == "cycle" and rotation.lost_day != "fixed"
    return (Began(at=at), *((Changed(at=at, day=said.school.day_name),) if announced else ()), *made.entries(at))


# ----------------------------------------------------------------------------------------------------- the school


def school_from(said: SchoolSaid) -> School:
    """The school's file; rooms come with the classes."""
    school = School(
        format=1,
        name=said.name,
        first_day=said.first,
        last_day=said.last,
        bells=bells_of(said.shape),
        days_off=said.days_off,
        habits=Habits(arrival=_arrival(said.shape)),
    )
    return structs.replace(school, rotation=_rotation(school, said))


def _arrival(shape: DayShape) -> str:
    return clock(shape.first_bell - ARRIVES_BEFORE)


def _rotation(school: School, said: SchoolSaid) -> Rotation:
    """The rotation. Where days stay with their dates, it begins so that the day that was named falls on its date."""
    rotation = said.rotation
    if rotation.kind != "cycle" or rotation.lost_day != "fixed":
        return rotation
    days, planned = rotation.days, calendar_of(school).planned
    begin = (days.index(said.day_name) - planned.index(said.day)) % len(days)
    return structs.replace(rotation, days=(*days[begin:], *days[:begin]))


# --------------------------------------------------------------------------------------------- a day of the timetable


def with_day(files: PlanFiles, said: DaySaid, *, has_boxes: bool | None = None) -> Made:
    """The plan with what was said of a day of its timetable: who comes, new classes and rooms, lessons begun.

    ``has_boxes`` None: as with the lessons there are.
    """
    boxes = has_boxes if has_boxes is not None else _has_boxes(files)
    hers = {each.id for each in files.lessons}
    known = {each.id for each in files.classes.classes}
    fresh = tuple(_class(each) for each in said.visits if each.class_id not in known and each.room)
    timetable = dict(files.classes.timetable)
    timetable[said.name] = {**timetable.get(said.name, {}), **{each.period: each.class_id for each in said.visits}}
    files = structs.replace(
        files,
        school=_with_rooms(files.school, fresh, is_first=not files.classes.classes),
        classes=structs.replace(files.classes, classes=(*files.classes.classes, *fresh), timetable=timetable),
    )
    begun: list[tuple[str, str, int]] = []
    for lesson in said.lessons:
        if lesson.grade in files.classes.teaching:
            continue
        files, ident = _begin_lesson(files, lesson)
        come = dict.fromkeys(each.class_id for each in said.visits if each.grade == lesson.grade)
        begun += [(each, ident, lesson.part) for each in come if lesson.part > 1]
    return Made(files if boxes else without_boxes(files, but=hers), tuple(begun))


def _class(said: VisitSaid) -> SchoolClass:
    return SchoolClass(id=said.class_id, grade=said.grade, room=said.room, students=said.students)


def _with_rooms(school: School, classes: Iterable[SchoolClass], *, is_first: bool) -> School:
    """The rooms of new classes, of which no more than the name is known. A plan that has none names none."""
    if not school.rooms and not is_first:
        return school
    rooms = {each.id: each for each in school.rooms}
    rooms |= {each.room: Room(each.room) for each in classes if each.room not in rooms}
    return structs.replace(school, rooms=tuple(rooms.values()))


def _begin_lesson(files: PlanFiles, said: LessonSaid) -> tuple[PlanFiles, str]:
    """The plan with the lesson a grade is at, and the lesson's id. One that is there already for it is shared."""
    kind = lesson_type(said.choice)
    titles = (kind.title, f"{kind.title}, grade ")
    of_kind = [each for each in files.lessons if each.title == titles[0] or each.title.startswith(titles[1])]
    there = next((each for each in of_kind if said.grade in each.grades), None)
    if there is not None:
        ident = there.id
    else:
        title = f"{titles[1]}{said.grade}" if of_kind else ""
        files, ident = start_from(files, said.choice, title=title, grade=said.grade)
    before = files.classes.teaching.get(said.grade, ())
    teaching = files.classes.teaching | {said.grade: (ident, *(each for each in before if each != ident))}
    return structs.replace(files, classes=structs.replace(files.classes, teaching=teaching)), ident


def _with_filler(files: PlanFiles, *, has_boxes: bool) -> PlanFiles:
    """The plan with a lesson for a substitute and for classes that have none left."""
    title = lesson_type(FILLER).title
    ident = next((each.id for each in files.lessons if each.title == title), "")
    if not ident:
        files, ident = start_from(files, FILLER)
        files = files if has_boxes else without_boxes(files)
    habits = structs.replace(files.school.habits, filler=ident)
    return structs.replace(files, school=structs.replace(files.school, habits=habits))


# ------------------------------------------------------------------------------------------------------ the boxes


def _has_boxes(files: PlanFiles) -> bool:
    """Whether anything of the lessons goes into a box."""
    listed = [(item, lesson) for lesson in files.lessons for part in lesson.parts for item in part.items]
    return not listed or any(_goes_into_box(files, item, lesson) for item, lesson in listed)


def _goes_into_box(files: PlanFiles, item: Item, lesson: Lesson) -> bool:
    """Whether it rides in the grade's box: not what a kit of the lesson holds."""
    kits = (each for each in files.kits.kits if each.id in lesson.kits)
    return item.into == "box" or (item.into == "" and all(item.supply not in each.holds for each in kits))


def without_boxes(files: PlanFiles, but: Collection[str] = ()) -> PlanFiles:
    """The plan in which what would go into a grade's box goes onto the cart; lessons of the ids in ``but`` stay."""

    def on_cart(items: Sequence[Item], lesson: Lesson) -> tuple[Item, ...]:
        return tuple(
            structs.replace(each, into="cart") if _goes_into_box(files, each, lesson) else each for each in items
        )

    def changed(lesson: Lesson) -> Lesson:
        if lesson.id in but:
            return lesson
        parts = tuple(
            structs.replace(part, items=on_cart(part.items, lesson), short_version=on_cart(part.short_version, lesson))
            for part in lesson.parts
        )
        return structs.replace(lesson, parts=parts, extension=on_cart(lesson.extension, lesson))

    return structs.replace(files, lessons=tuple(changed(each) for each in files.lessons))
