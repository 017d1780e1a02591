"""Classes from a table: what each row says of its class, and the file of classes as it would be.

A class that is there already keeps what no column speaks of: its needs, what it avoids, its timetable.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import structs

from checklists.bringing_in.cells import is_number, name_room, read_count, read_students
from checklists.bringing_in.columns import Columns, filled, find_columns, say_children, say_columns, share_of
from checklists.bringing_in.known_words import folded, known_words
from checklists.bringing_in.table import Table, TableRow
from checklists.bringing_in.understood import MOST_NAMED, NotReadable, Rows, Understood
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Room, SchoolClass
from checklists.plan.renaming import NO_ROOMS
from checklists.plan.usual_sizes import usual_size
from checklists.typed.class_names import ClassesKnown, name_class, read_grade
from checklists.words import say_room

NAMES = {
    "class": "the class",
    "teacher": "the teacher",
    "grade": "the grade",
    "room": "the room",
    "students": "how many children",
    "tables": "how many tables",
    "adults": "adults in the room",
}


def bring_in_classes(table: Table, files: PlanFiles, rows: Rows) -> Understood:
    """What the table says of classes. Nothing is removed; of two rows about one class the first counts."""
    rooms_listed = [each.id for each in files.school.rooms] or [each.room for each in files.classes.classes]
    known_rooms = {folded(each): each for each in rooms_listed}
    columns = find_columns(table, "classes", lambda body: _guess(body, known_rooms, files))
    reading = _Reading(files, columns, rows, dict(known_rooms))
    if "class" in columns.at or "teacher" in columns.at:
        for row in columns.rows:
            reading.read(row)
        notes = (say_columns(columns, NAMES), *say_children(columns), *reading.notes())
    else:
        notes = (_no_class_column(columns), *say_children(columns))
    return Understood("classes", reading.files(), tuple(rows.read), notes)


def _no_class_column(columns: Columns) -> str:
    if columns.of_children:
        return "This is a list of children. Bring in one row for each class: the class, how many children, its room."
    return "No column says the class. Write one row for each class, such as 3-B, its number of children and its room."


def _guess(rows: tuple[TableRow, ...], rooms: Mapping[str, str], files: PlanFiles) -> dict[str, int]:
    """The columns where no headings are: a class says its grade; of the numbers a room is one that is known.

    Read once more when its own rooms and classes are known, the same table gives the same columns.
    """
    width = max((len(row.cells) for row in rows), default=0)
    cells = {column: filled(rows, column) for column in range(width)}
    known = ClassesKnown(files.classes.classes)
    named = [n for n in range(width) if share_of(cells[n], lambda each: _is_class(each, known)) >= 0.5]
    texts = [n for n in range(width) if cells[n] and share_of(cells[n], is_number) < 0.5]
    graded = [n for n in range(width) if share_of(cells[n], _says_grade) >= 0.5]  # whatever classes there are by now
    first = next(iter((*graded, *named, *(n for n in texts if share_of(cells[n], read_grade) < 0.9))), None)
    if first is None:
        return {}
    at = {"class": first}
    rest = [column for column in range(width) if column != first and cells[column]]
    grades = next((n for n in rest if _are_grades_of(rows, first, n)), None)
    if grades is not None:
        at["grade"] = grades
    elif not named:
        return {}
    rest = [column for column in rest if column != grades]
    shares = {n: share_of(cells[n], lambda each: _is_room(each, rooms)) for n in rest}
    best = max(rest, key=lambda n: (shares[n], n), default=0)
    if shares.get(best, 0) >= 0.6:
        at["room"] = best
    for column in rest:
        if column not in at.values() and share_of(cells[column], is_number) >= 0.6:
            field = next((each for each in ("students", "room", "tables") if each not in at), "")
            if field:
                at[field] = column
    return at


def _are_grades_of(rows: tuple[TableRow, ...], classes: int, column: int) -> bool:
    """Whether a column has the grades of the classes in another: as these say them, where they do."""
    pairs = [(row.cell(classes), row.cell(column)) for row in rows[:200] if row.cell(column)]
    graded = [(name_class(name).grade, read_grade(said)) for name, said in pairs]
    fits = [bool(grade) and of_class in ("", grade) for of_class, grade in graded]
    return bool(fits) and sum(fits) >= 0.9 * len(fits)


def _is_class(text: str, known: ClassesKnown) -> bool:
    return known.find(text) is not None or _says_grade(text)


def _says_grade(text: str) -> bool:
    """Whether it is the name of a class that tells its grade, and more than a number or a grade alone."""
    return bool(name_class(text).grade) and not is_number(text) and not read_grade(text)


def _is_room(text: str, rooms: Mapping[str, str]) -> bool:
    whole = folded(text)
    says_so = whole.startswith(("room ", "rm ")) or whole in known_words()["rooms"]["words"]
    return says_so or folded(name_room(text)) in rooms


class _Reading:
    """The rows read so far."""

    def __init__(self, files: PlanFiles, columns: Columns, rows: Rows, rooms: dict[str, str]) -> None:
        self.before, self.columns, self.rows = files, columns, rows
        self.known = ClassesKnown(files.classes.classes)
        self.rooms, self.new_rooms = rooms, dict[str, None]()
        self.listed = {each.id for each in files.school.rooms}
        self.said_in: dict[str, int] = {}
        self.without_room = 0
        self.changed: dict[str, SchoolClass] = {}
        self.no_class = frozenset(known_words()["classes"]["no_class"])

    def read(self, row: TableRow) -> None:
        cell, shown = self.columns.cell, self.columns.shown(row)
        name = cell(row, "class") or cell(row, "teacher").split(",")[0]
        if self.rows.is_left(row.number, shown):
            return
        if not name or folded(name) in self.no_class:
            self.rows.refuse(row.number, shown, "No class stands there.", "Write the class, such as 3-B.")
            return
        try:
            self.take(row, shown, name)
        except NotReadable as wrong:
            self.rows.refuse(row.number, shown, str(wrong), wrong.to_do)

    def take(self, row: TableRow, shown: str, name: str) -> None:
        said_grade = self.columns.cell(row, "grade")
        grade = read_grade(said_grade) if said_grade else ""
        if said_grade and not grade:
            raise NotReadable(f'"{said_grade}" is no grade.', "Write PK, K or a grade from 1 to 8.")
        class_ = self.known.find(name, grade)
        named = name_class(self._full_name(row, name, grade), grade)
        if class_ is None and not named.grade:
            raise NotReadable(f'The grade of "{name}" is not known.', "Write it with its grade, such as 3-B or K-Hale.")
        ident = class_.id if class_ is not None else named.id
        fields = self._fields(row)
        if grade and class_ is not None:
            fields["grade"] = grade
        before = self.said_in.get(ident)
        if before is not None:
            self._say_twice(row, shown, ident, fields, before)
            return
        self.said_in[ident] = row.number
        if class_ is None:
            self._add(row, shown, ident, named.grade, fields)
        else:
            self._change(row, shown, class_, fields)

    def _full_name(self, row: TableRow, name: str, grade: str) -> str:
        """A grade alone, or nothing but a letter, is made a name by who teaches it."""
        teacher = self.columns.cell(row, "teacher").split(",")[0].strip()
        return f"{grade or read_grade(name)} {teacher}" if teacher and read_grade(name) else name

    def _fields(self, row: TableRow) -> dict[str, Any]:
        cell = self.columns.cell
        fields: dict[str, Any] = {}
        if said := cell(row, "students"):
            fields["students"] = read_students(said)
        if said := cell(row, "room"):
            fields["room"] = name_room(said, self.rooms)
            if fields["room"].casefold() in NO_ROOMS:
                raise NotReadable(f'"{said}" is the name of something else.', "Call the room otherwise.")
        if said := cell(row, "tables"):
            fields["tables"] = read_count(said, "tables", 1, 60)[0]
        if said := cell(row, "adults"):
            fields["adults"] = read_count(said, "adults", 1, 6)[0]
        return fields

    def _say_twice(self, row: TableRow, shown: str, ident: str, fields: dict[str, Any], before: int) -> None:
        now = self.known.by_id[ident]
        other = any(getattr(now, field) != value for field, value in fields.items())
        if other:
            why = f"{ident} stands in row {before} already, with something else."
            self.rows.refuse(row.number, shown, why, "Keep one of the two rows.")
        else:
            self.rows.add(row.number, shown, "there already", f"{ident}: the same as row {before}")

    def _add(self, row: TableRow, shown: str, ident: str, grade: str, fields: dict[str, Any]) -> None:
        self.without_room += "room" not in fields
        values = {"room": ident, "students": usual_size(grade), **fields}
        class_ = SchoolClass(id=ident, grade=grade, **values)
        self._keep(class_)
        where = say_room(class_.room) if "room" in fields else "in its own room"
        said = f"{ident}: grade {grade}, {class_.students} children, {where}"
        self.rows.add(row.number, shown, "adds", said, entry=f"class {ident}")

    def _change(self, row: TableRow, shown: str, class_: SchoolClass, fields: dict[str, Any]) -> None:
        other = {field: value for field, value in fields.items() if getattr(class_, field) != value}
        entry = f"class {class_.id}"
        if not other:
            self.rows.add(row.number, shown, "there already", class_.id, entry=entry)
            return
        self._keep(structs.replace(class_, **other))
        said = "; ".join(_say_change(class_, field, value) for field, value in other.items())
        self.rows.add(row.number, shown, "changes", f"{class_.id}: {said}", entry=entry)

    def _keep(self, class_: SchoolClass) -> None:
        self.known.add(class_)
        self.changed[class_.id] = class_
        self.rooms.setdefault(folded(class_.room), class_.room)
        if self.listed and class_.room not in self.listed:
            self.new_rooms[class_.room] = None

    def notes(self) -> list[str]:
        notes = []
        if self.new_rooms:
            more = len(self.new_rooms) - MOST_NAMED
            named = ", ".join([*list(self.new_rooms)[:MOST_NAMED], *([f"{more} more"] if more > 0 else [])])
            notes.append(f"New among the rooms, with nothing known of them yet: {named}.")
        if self.without_room:
            notes.append("Where no room is named, a class is in its own room, called like the class.")
        return notes

    def files(self) -> PlanFiles:
        before = self.before
        if not self.changed:
            return before
        kept = tuple(self.changed.pop(each.id, each) for each in before.classes.classes)
        rooms = (*before.school.rooms, *(Room(each) for each in self.new_rooms))
        return structs.replace(
            before,
            school=structs.replace(before.school, rooms=rooms) if self.new_rooms else before.school,
            classes=structs.replace(before.classes, classes=(*kept, *self.changed.values())),
        )


def _say_change(class_: SchoolClass, field: str, value: Any) -> str:
    was = getattr(class_, field)
    if field == "room":
        return f"{say_room(value)} instead of {say_room(was)}"
    if field == "grade":
        return f"grade {value} instead of {was}"
    return f"{value} {'children' if field == 'students' else field} instead of {was}"
