"""What do I teach with? Everything of the plan, to be looked at and changed."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, NamedTuple

from textual import on
from textual.binding import BindingType
from textual.content import Content

from checklists.forms.fields import Field, field_of
from checklists.forms.places import Place, value_at
from checklists.forms.said import say_value
from checklists.plan.plan_files import PlanFiles, with_what_holds
from checklists.rules.read import builtin_supplies
from checklists.words import clean, plural, say_full_date, say_number
from tui.columns import fit
from tui.keys import PLAN_SUBJECTS, bindings_of
from tui.plan_rows import label_cells
from tui.rows import Row
from tui.screens.rows_screen import RowsScreen
from tui.widgets.line_list import LineList
from tui.widgets.question import Question


class Subject(NamedTuple):
    """One part of the plan: where it stands, what it is called, how it is opened, and what is said of it."""

    label: str
    open: Callable[[PlanSubjectsScreen, Subject], None]
    place: Place = ()
    said: Callable[[PlanFiles], str] | None = None
    """None: the value at the place in short."""
    heading: str = ""


class PlanSubjectsScreen(RowsScreen):
    """The parts of the plan, one a row, with what there is of each."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(PLAN_SUBJECTS)]
    KEYS = PLAN_SUBJECTS
    TITLE_OF_KEYS = "Set up and change"

    def on_mount(self) -> None:
        self.reread()

    @property
    def files(self) -> PlanFiles:
        """The plan files with what holds though no file says it."""
        return with_what_holds(self.book.plan_files, builtin_supplies())

    def reread(self) -> None:
        cells, files, rows = label_cells(self.app.size.width), self.files, []
        for number, each in enumerate(SUBJECTS, 1):
            if each.heading:
                rows.append(Row("heading", f"heading {each.label}", each.heading, tone="heading"))
            said = clean(each.said(files) if each.said is not None else self.say_there(files, each.place))
            digit = str(number) if number < 10 else ""
            rows.append(Row("matter", each.label, f"{fit(each.label, cells)} {said}", number=digit))
        self.list.show(rows, self.list.cursor, key=self.key_in_hand)
        title = Content.assemble(("Set up and change", "bold"), f"  {clean(files.school.name)}")
        self.query_one(Question).show(title, Content("Every change is saved at once, and u takes the newest one back."))

    def say_there(self, files: PlanFiles, place: Place) -> str:
        """What stands at a place, in short."""
        return say_value(self.book.plan, field_at(files, place), value_at(files, place)) if place else ""

    def open_subject(self, subject: Subject) -> None:
        self.go_to(subject.label)
        subject.open(self, subject)

    def action_accept(self) -> None:
        for subject in SUBJECTS:
            if subject.label == self.key_in_hand:
                self.open_subject(subject)

    def action_digit(self, digit: str) -> None:
        if 1 <= int(digit) <= len(SUBJECTS):
            self.open_subject(SUBJECTS[int(digit) - 1])

    @on(LineList.Pointed)
    def open_pointed(self, event: LineList.Pointed) -> None:
        """A second click opens it."""
        if event.again:
            self.action_accept()

    def action_undo(self) -> None:
        self.take_back()


def field_at(files: PlanFiles, place: Place) -> Field:
    """The field whose value stands at a place."""
    return field_of(type(value_at(files, place[:-1])), str(place[-1]))


def open_form(screen: PlanSubjectsScreen, subject: Subject) -> None:
    """The fields of a record."""
    from tui.screens.plan_form import PlanFormScreen

    screen.app.push_screen(PlanFormScreen(screen.date, subject.place, subject.label))


def open_list(screen: PlanSubjectsScreen, subject: Subject) -> None:
    """The entries of a list."""
    from tui.screens.plan_list import PlanListScreen

    field = field_at(screen.files, subject.place)
    screen.app.push_screen(PlanListScreen(screen.date, subject.place, subject.label, field))


def open_lessons(screen: PlanSubjectsScreen, subject: Subject) -> None:
    """The lessons; a new one begins with a usual one."""
    from tui.screens.lessons import LessonsScreen

    screen.app.push_screen(LessonsScreen(screen.date))


def open_bring_in(screen: PlanSubjectsScreen, subject: Subject) -> None:
    """What exists elsewhere: pasted, or from a file."""
    from tui.screens.bring_in import BringInScreen

    screen.app.push_screen(BringInScreen(screen.date))


def open_timetable(screen: PlanSubjectsScreen, subject: Subject) -> None:
    """Who comes when."""
    from tui.screens.timetable import TimetableScreen

    screen.app.push_screen(TimetableScreen(screen.date))


def open_teaching(screen: PlanSubjectsScreen, subject: Subject) -> None:
    """What each grade is taught, in which order."""
    from tui.screens.teaching import TeachingScreen

    screen.app.push_screen(TeachingScreen(screen.date))


def open_icon(screen: PlanSubjectsScreen, subject: Subject) -> None:
    """An icon on the desktop."""
    from tui.screens.start_icon import StartIconScreen

    screen.app.push_screen(StartIconScreen(screen.date))


def say_school(files: PlanFiles) -> str:
    school = files.school
    return f"{say_full_date(school.first_day)} to {say_full_date(school.last_day)}"


def say_timetable(files: PlanFiles) -> str:
    days = [day for day in files.classes.timetable.values() if day]
    return f"{plural(sum(map(len, days)), 'visit')} on {plural(len(days), 'day')}"


def say_cart(files: PlanFiles) -> str:
    cart = files.school.cart
    return f"{plural(cart.half_slots, 'half slot')}, at most {say_number(cart.limit_kg)} kg"


def say_teaching(files: PlanFiles) -> str:
    return plural(sum(map(bool, files.classes.teaching.values())), "grade")


SUBJECTS = (
    Subject("Classes", open_list, ("classes", "classes"), heading="Who and when"),
    Subject("Timetable", open_timetable, said=say_timetable),
    Subject("What each grade is taught", open_teaching, said=say_teaching),
    Subject("Lessons", open_lessons, ("lessons",), heading="What"),
    Subject("Supplies", open_list, ("supplies",)),
    Subject("Boxes", open_list, ("kits", "boxes")),
    Subject("Kits", open_list, ("kits", "kits")),
    Subject("School year and rotation", open_form, ("school",), say_school, heading="The school"),
    Subject("Days off", open_list, ("school", "days_off")),
    Subject("Bell schedules", open_list, ("school", "bells")),
    Subject("Rooms", open_list, ("school", "rooms")),
    Subject("Walks", open_list, ("school", "walks")),
    Subject("Other buildings", open_list, ("school", "buildings")),
    Subject("The cart", open_form, ("school", "cart"), say_cart, heading="You"),
    Subject("How you work", open_form, ("school", "habits"), lambda _: "minutes, spares, limits"),
    Subject("Bring in what exists", open_bring_in, (), lambda _: "classes, timetable, supplies, days off", "Elsewhere"),
    Subject("An icon to start it", open_icon, said=lambda _: "on your desktop: no terminal is needed then"),
)
