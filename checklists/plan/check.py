"""Whether the parts of a plan fit together: every name leads somewhere, nothing is there twice, no time runs backwards.

What each field may hold was seen to when the files were read. Here is what no single field shows.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import pairwise
from typing import Protocol

from checklists.plan.records import Bells, Item, Lesson, Plan, SchoolClass, Supply
from checklists.plan.telling import LineOf, Path, Teller, no_line
from checklists.problems import Problem
from checklists.words import join_words, minute_of, nearest, say_date, say_full_date

SCHOOL_FILE, CLASSES_FILE, SUPPLIES_FILE, KITS_FILE = "school.toml", "classes.toml", "supplies.toml", "kits.toml"
STORE = "store"
FOLDER = "folder "
BEFORE_NEXT_PART = ("firing", "keeps wet")
"""Tags that say what becomes of the pieces until the next part."""
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri")


class Words(Protocol):
    """The words that rules know: what else would follow from a tag, a need or a mark?"""

    @property
    def tags(self) -> Collection[str]: ...
    @property
    def needs(self) -> Collection[str]: ...
    @property
    def avoid(self) -> Collection[str]: ...
    @property
    def marks(self) -> Collection[str]: ...


def problems_of(plan: Plan, words: Words, line_of: LineOf = no_line) -> tuple[Problem, ...]:
    """Everything that does not fit, file by file. ``plan.supplies`` has her own first, in the order of the file."""
    check = _Check(plan, words, line_of)
    check.school()
    check.classes()
    check.timetable()
    check.teaching()
    check.supplies()
    check.kits()
    for lesson in plan.lessons:
        check.lesson(lesson)
    return tuple(check.problems)


def lesson_file(lesson: str) -> str:
    """The file of a lesson."""
    return f"lessons/{lesson}.toml"


class _Check(Teller):
    def __init__(self, plan: Plan, words: Words, line_of: LineOf) -> None:
        super().__init__(line_of)
        self.plan = plan
        self.words = words

    # ------------------------------------------------------------------------------------------------- school

    def school(self) -> None:
        school = self.plan.school
        if school.first_day > school.last_day:
            first, last = say_full_date(school.first_day), say_full_date(school.last_day)
            what = f"The last day, {last}, is before the first, {first}."
            self.tell(SCHOOL_FILE, ("last_day",), "", what, "Exchange the two, or correct the year.")
        self._days_off()
        self._rotation()
        self.once(SCHOOL_FILE, "bells", ((each.id, ("bells", i)) for i, each in enumerate(school.bells)))
        for i, bells in enumerate(school.bells):
            self._bells(bells, ("bells", i))
        self.once(SCHOOL_FILE, "room", ((each.id, ("rooms", i)) for i, each in enumerate(school.rooms)))
        self._walks()
        self._buildings()
        self._wings()
        self._route()
        for supply in school.cart.standing:
            self._supply(SCHOOL_FILE, ("cart", "standing", supply), "cart, standing", supply)
        if school.habits.filler:
            path = ("habits", "filler")
            self.known(SCHOOL_FILE, path, "habits", "lesson", school.habits.filler, self.plan.lesson_by_id)

    def _days_off(self) -> None:
        school = self.plan.school
        for i, off in enumerate(school.days_off):
            path: Path = ("days_off", i)
            entry = f"day off {say_date(off.first)}"
            last = off.last or off.first
            if last < off.first:
                self.tell(
                    SCHOOL_FILE,
                    path,
                    entry,
                    f"It ends on {say_full_date(last)}, before it begins.",
                    "Exchange the two dates.",
                )
            elif off.first > school.last_day or last < school.first_day:
                what = f"{say_full_date(off.first)} is not within the school year."
                self.tell(SCHOOL_FILE, path, entry, what, "Correct the year, or take it out.", note=True)

    def _rotation(self) -> None:
        rotation = self.plan.school.rotation
        path: Path = ("rotation", "days")
        if rotation.kind == "cycle" and not rotation.days:
            what = "It is a cycle, and its days are missing."
            self.tell(SCHOOL_FILE, ("rotation",), "rotation", what, 'Add them: days = ["A", "B", "C"]')
        if rotation.kind == "weekdays" and rotation.days:
            what = "By weekday there are no days to name."
            self.tell(SCHOOL_FILE, path, "rotation", what, 'Take days out, or write kind = "cycle".', note=True)
        for day in dict.fromkeys(each for each in rotation.days if rotation.days.count(each) > 1):
            self.tell(SCHOOL_FILE, path, "rotation", f'The day "{day}" is there twice.', "Each day has its own name.")

    def _bells(self, bells: Bells, path: Path) -> None:
        entry = f"bells {bells.id}"
        self.once(
            SCHOOL_FILE,
            f"{entry}, period",
            ((each.name, (*path, "periods", i)) for i, each in enumerate(bells.periods)),
        )
        spans = [(p.name, "period", p.start, p.end, (*path, "periods", i)) for i, p in enumerate(bells.periods)]
        spans += [(b.name, "break", b.start, b.end, (*path, "breaks", i)) for i, b in enumerate(bells.breaks)]
        right = []
        for name, noun, start, end, where in spans:
            if minute_of(end) <= minute_of(start):
                what = f"It ends at {end}, and begins at {start}."
                self.tell(SCHOOL_FILE, where, f"{entry}, {noun} {name}", what, "An afternoon time is written 13:15.")
            elif noun == "period":
                right.append((minute_of(start), minute_of(end), name, where))
        right.sort(key=lambda each: each[:2])
        for before, after in pairwise(right):
            if after[0] < before[1]:
                what = f"It begins before {before[2]} ends."
                self.tell(SCHOOL_FILE, after[3], f"{entry}, period {after[2]}", what, "Two periods cannot overlap.")
        if bells is not self.plan.school.bells[0]:
            self._periods_of_regular(bells, path)

    def _periods_of_regular(self, bells: Bells, path: Path) -> None:
        used = {period for day in self.plan.timetable.values() for period in day}
        regular = {each.name for each in self.plan.school.bells[0].periods}
        for i, each in enumerate(bells.periods):
            if each.name not in used and each.name not in regular:
                near = nearest(each.name, regular | used)
                to_do = (
                    f'Is "{near}" meant?'
                    if near
                    else "Without a period of this name in the timetable nobody comes then."
                )
                what = "The timetable has no such period."
                where = (*path, "periods", i)
                self.tell(SCHOOL_FILE, where, f"bells {bells.id}, period {each.name}", what, to_do, note=True)

    def _walks(self) -> None:
        places = [STORE, *self.plan.rooms, *self.plan.room_by_id]
        for i, walk in enumerate(self.plan.school.walks):
            for place in walk.between:
                entry = f"walk {' to '.join(walk.between)}"
                self.known(SCHOOL_FILE, ("walks", i), entry, "room", place, places)

    def _buildings(self) -> None:
        rooms = (*self.plan.rooms, *self.plan.room_by_id)
        for i, each in enumerate(self.plan.school.buildings):
            for n, room in enumerate(each.rooms):
                self.known(SCHOOL_FILE, ("buildings", i, "rooms", n), f"building {each.name}", "room", room, rooms)

    def _wings(self) -> None:
        """A way is said to be longer by the name of a room or of a wing: one must not be taken for the other."""
        taken = {STORE, *(room.id.casefold() for room in self.plan.school.rooms)}
        for i, room in enumerate(self.plan.school.rooms):
            if room.wing.strip().casefold() in taken:
                what = f'"{room.wing.strip()}" is the name of a room as well as of its wing.'
                self.tell(
                    SCHOOL_FILE,
                    ("rooms", i, "wing"),
                    f"room {room.id}",
                    what,
                    "Call the wing something else.",
                    note=True,
                )

    def _route(self) -> None:
        """What she wants of the route is about periods, containers and rooms there are."""
        pins = self.plan.school.route
        periods = {period.name for bells in self.plan.school.bells for period in bells.periods}
        grades = dict.fromkeys((*self.plan.box_by_grade, *(each.grade for each in self.plan.every_class)))
        containers = (*(f"box-{grade}" for grade in grades), *self.plan.kit_by_id)
        for field, kind, named, known in (
            ("stops", "period", pins.stops, periods),
            ("rides", "box or kit", pins.rides, containers),
            ("leave_in", "room", pins.leave_in, (*self.plan.rooms, *self.plan.room_by_id)),
        ):
            for each in named:
                self.known(SCHOOL_FILE, ("route", field, each), f"route, {field}", kind, each, known)

    # ------------------------------------------------------------------------------------------------ classes

    def classes(self) -> None:
        self.once(CLASSES_FILE, "class", ((each.id, ("classes", i)) for i, each in enumerate(self.plan.every_class)))
        for i, each in enumerate(self.plan.every_class):
            self._id(CLASSES_FILE, ("classes", i, "id"), f"class {each.id}", each.id)
        taught = {ident for day in self.plan.timetable.values() for ident in day.values()}
        for i, each in enumerate(self.plan.every_class):
            if not each.archived:
                self._class(each, ("classes", i), is_taught=each.id in taught)

    def _class(self, each: SchoolClass, path: Path, *, is_taught: bool) -> None:
        entry = f"class {each.id}"
        if self.plan.school.rooms:
            self.known(CLASSES_FILE, (*path, "room"), entry, "room", each.room, self.plan.room_by_id)
        for i, need in enumerate(each.needs):
            where = (*path, "needs", i)
            self.known(CLASSES_FILE, where, entry, "need", need.need, self.words.needs)
            if need.count > each.headcount > 0:
                what = f"{need.need} is needed by {need.count} of {each.headcount} students."
                self.tell(CLASSES_FILE, where, entry, what, "Correct one of the two numbers.", note=True)
        for i, word in enumerate(each.avoid):
            known = [*self.words.avoid, *self.words.marks, *self._own_marks(), *self.plan.supply_by_id]
            self.known(CLASSES_FILE, (*path, "avoid", i), entry, "thing to avoid", word, known)
        for i, supply in enumerate(each.has):
            self._supply(CLASSES_FILE, (*path, "has", i), entry, supply)
        if not is_taught:
            what = "It has no period in the timetable."
            self.tell(CLASSES_FILE, path, entry, what, "Add it under [timetable] when you know it.", note=True)

    def _own_marks(self) -> set[str]:
        return {mark for each in self.plan.supplies for mark in each.marks}

    def timetable(self) -> None:
        rotation = self.plan.school.rotation
        days = WEEKDAYS if rotation.kind == "weekdays" else rotation.days
        periods = [period.name for bells in self.plan.school.bells for period in bells.periods]
        for day, classes in self.plan.timetable.items():
            if days:
                self.known(CLASSES_FILE, ("timetable", day), "timetable", "timetable day", day, days)
            for period, ident in classes.items():
                path, entry = ("timetable", day, period), f"timetable {day}, {period}"
                self.known(CLASSES_FILE, path, entry, "period", period, periods)
                self.known(CLASSES_FILE, path, entry, "class", ident, self.plan.class_by_id)
        self._two_places()

    def _two_places(self) -> None:
        """A class cannot come in two periods that take place at the same time."""
        regular = {
            each.name: (minute_of(each.start), minute_of(each.end)) for each in self.plan.school.bells[0].periods
        }
        for day, classes in self.plan.timetable.items():
            timed = sorted((*regular[period], period, ident) for period, ident in classes.items() if period in regular)
            for i, (_, end, period, ident) in enumerate(timed):
                for start, _, other, same in timed[i + 1 :]:
                    if same == ident and start < end:
                        entry = f"timetable {day}, {other}"
                        what = f"Class {ident} is taught in {period} at the same time."
                        self.tell(CLASSES_FILE, ("timetable", day, other), entry, what, "Take one of the two out.")

    def teaching(self) -> None:
        grades = {each.grade for each in self.plan.every_class}
        for grade, lessons in self.plan.teaching.items():
            entry = f"teaching, grade {grade}"
            for i, ident in enumerate(lessons):
                path: Path = ("teaching", grade, i)
                self.known(CLASSES_FILE, path, entry, "lesson", ident, self.plan.lesson_by_id)
                lesson = self.plan.lesson_by_id.get(ident)
                if lesson is not None and lesson.grades and grade not in lesson.grades:
                    what = f"The lesson {ident} is for {_grades(lesson.grades)}."
                    self.tell(CLASSES_FILE, path, entry, what, "Look whether it is meant.", note=True)
            if grade not in grades:
                what = "No class has this grade."
                self.tell(CLASSES_FILE, ("teaching", grade), entry, what, "Look whether it is meant.", note=True)

    # --------------------------------------------------------------------------------------- supplies and kits

    def supplies(self) -> None:
        self.once(
            SUPPLIES_FILE, "supply", ((each.id, ("supplies", i)) for i, each in enumerate(self.plan.every_supply))
        )
        for i, each in enumerate(self.plan.every_supply):
            self._id(SUPPLIES_FILE, ("supplies", i, "id"), f"supply {each.id}", each.id, (FOLDER,))
            if each.instead is not None and not each.archived:
                self._instead(each, ("supplies", i, "instead"))

    def _instead(self, supply: Supply, path: Path) -> None:
        entry = f"supply {supply.id}"
        if supply.instead == supply.id:
            self.tell(
                SUPPLIES_FILE, path, entry, "It is to be replaced by itself.", "Name another supply under instead."
            )
        elif supply.instead:
            self._supply(SUPPLIES_FILE, path, entry, supply.instead)

    def kits(self) -> None:
        plan = self.plan
        self.once(KITS_FILE, "kit", ((each.id, ("kits", i)) for i, each in enumerate(plan.every_kit)))
        self.once(KITS_FILE, "box", ((each.grade, ("boxes", i)) for i, each in enumerate(plan.boxes)))
        grades = {each.grade for each in plan.every_class}
        for i, box in enumerate(plan.boxes):
            if box.grade not in grades:
                what = "No class has this grade."
                self.tell(KITS_FILE, ("boxes", i), f"box {box.grade}", what, "Look whether it is meant.", note=True)
            for supply in box.standing:
                self._supply(KITS_FILE, ("boxes", i, "standing", supply), f"box {box.grade}", supply)
        for i, kit in enumerate(plan.every_kit):
            for supply in () if kit.archived else kit.holds:
                self._supply(KITS_FILE, ("kits", i, "holds", supply), f"kit {kit.id}", supply)
            if kit.id in ("box", "cart", STORE):
                what = f'"{kit.id}" is the name of something else.'
                self.tell(KITS_FILE, ("kits", i), f"kit {kit.id}", what, "Give the kit another id.")
            self._id(KITS_FILE, ("kits", i, "id"), f"kit {kit.id}", kit.id, ("box-", "catch-up ", FOLDER))

    def _id(self, file: str, path: Path, entry: str, ident: str, taken: Collection[str] = ()) -> None:
        """Whether an id can be told from the names of other things: lines are kept as "container/supply"."""
        if "/" in ident:
            self.tell(file, path, entry, 'A "/" cannot stand in an id.', f'Write it as "{ident.replace("/", "-")}".')
        for beginning in taken:
            if ident.startswith(beginning):
                what = f'Ids that begin with "{beginning}" are kept for the tool\'s own containers.'
                self.tell(file, path, entry, what, "Give it another id; the name may stay.")

    def _supply(self, file: str, path: Path, entry: str, supply: str) -> None:
        self.known(file, path, entry, "supply", supply, self.plan.supply_by_id)

    # ------------------------------------------------------------------------------------------------ lessons

    def lesson(self, lesson: Lesson) -> None:
        file, entry = lesson_file(lesson.id), f"lesson {lesson.id}"
        self._id(file, ("id",), entry, lesson.id)
        for i, kit in enumerate(lesson.kits):
            self.known(file, ("kits", i), entry, "kit", kit, self.plan.kit_by_id)
        if lesson.dry_version == lesson.id:
            self.tell(
                file, ("dry_version",), entry, "It is its own dry version.", "Name another lesson, or take it out."
            )
        elif lesson.dry_version:
            self.known(file, ("dry_version",), entry, "lesson", lesson.dry_version, self.plan.lesson_by_id)
        for path, place, item in _items(lesson):
            self._supply(file, (*path, "supply"), f"{entry}, {place}", item.supply)
            if item.into:
                containers = ["box", "cart", *self.plan.kit_by_id]
                self.known(file, (*path, "into"), f"{entry}, {place}", "container", item.into, containers)
            for i, class_id in enumerate(item.not_for):
                at = (*path, "not_for", i)  # a class that is gone does no harm
                self.known(file, at, f"{entry}, {place}", "class", class_id, self.plan.class_by_id, note=True)
        for number, part in enumerate(lesson.parts):
            where: Path = ("parts", number)
            here = f"{entry}, part {number + 1}"
            for i, tag in enumerate(part.tags):
                self.known(file, (*where, "tags", i), here, "tag", tag, self.words.tags)
                if tag in BEFORE_NEXT_PART and number + 1 == len(lesson.parts):
                    what = f'The tag "{tag}" speaks of the next part, and this is the last one.'
                    to_do = "Add a part in which the pieces come back, or take the tag out."
                    self.tell(file, (*where, "tags", i), here, what, to_do, note=True)
            if part.least_minutes > part.minutes:
                what = f"It needs at least {part.least_minutes} minutes and is planned for {part.minutes}."
                self.tell(file, (*where, "minutes"), here, what, "Write the larger number under minutes.", note=True)
            wait = part.wait
            if wait is not None and wait.at_most_days is not None and wait.days > wait.at_most_days:
                what = f"The next part comes after {wait.days} days at least and {wait.at_most_days} at most."
                self.tell(file, (*where, "wait"), here, what, "Correct one of the two.")


def _items(lesson: Lesson) -> Iterator[tuple[Path, str, Item]]:
    """Every item of a lesson, with its path and its place in words."""
    for i, item in enumerate(lesson.extension):
        yield ("extension", i), f"extension, item {i + 1}", item
    for number, part in enumerate(lesson.parts):
        for i, item in enumerate(part.items):
            yield ("parts", number, "items", i), f"part {number + 1}, item {i + 1}", item
        for i, item in enumerate(part.short_version):
            yield ("parts", number, "short_version", i), f"part {number + 1}, short version, item {i + 1}", item


def _grades(grades: tuple[str, ...]) -> str:
    return f"grade{'s' if len(grades) > 1 else ''} {join_words(grades)}"
