"""Who comes when? Every period of every timetable day, with the class that comes."""

from __future__ import annotations

from datetime import date
from typing import Any, ClassVar

from msgspec import structs
from textual import on
from textual.binding import BindingType

from checklists.forms.fields import Field, field_of
from checklists.forms.places import put, put_in
from checklists.forms.typed import CannotBe
from checklists.plan import naming
from checklists.plan.check import WEEKDAYS
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Classes, Period, SchoolClass
from checklists.words import clean, say_room
from tui.columns import fit
from tui.keys import TIMETABLE, bindings_of
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.plan_asking import Asked
from tui.screens.plan_new import NewEntryScreen, must_be_free
from tui.widgets.line_list import LineList

WHO: Field = structs.replace(field_of(Classes, "timetable"), way="one", names=naming.CLASS)


class TimetableScreen(NewEntryScreen):
    """The periods in the order of the days; Enter says who comes, x that nobody does."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(TIMETABLE)]
    KEYS = TIMETABLE
    TITLE_OF_KEYS = "Timetable"

    def __init__(self, on: date) -> None:
        super().__init__(on, ("classes", "timetable"), "Timetable")

    @property
    def days(self) -> tuple[str, ...]:
        rotation = self.book.plan.school.rotation
        return WEEKDAYS if rotation.kind == "weekdays" else rotation.days

    @property
    def periods(self) -> tuple[Period, ...]:
        """Those of the regular schedule, then what only another one has."""
        found = {each.name: each for bells in reversed(self.book.plan.school.bells) for each in bells.periods}
        regular = self.book.plan.school.bells[0].periods
        return (*regular, *(each for name, each in found.items() if name not in {period.name for period in regular}))

    def show_value(self, value: Any, key: str) -> None:
        rows = []
        for day in self.days:
            rows.append(Row("heading", f"heading {day}", self.day_said(day), tone="heading"))
            for period in self.periods:
                who = value.get(day, {}).get(period.name, "")
                class_ = self.book.plan.class_by_id.get(who)
                where = f"  {say_room(class_.room)}" if class_ is not None else ""
                said = f"{fit(f'{period.name}  {period.start}-{period.end}', 20)} {fit(who, 10)}{where}" if who else ""
                rows.append(
                    Row(
                        "matter",
                        key_of(day, period.name),
                        clean(said or fit(f"{period.name}  {period.start}-{period.end}", 20) + " –"),
                        tone="plain" if who else "quiet",
                    )
                )
        self.list.show(rows, self.list.cursor, key=key or self.key_in_hand)

    def day_said(self, day: str) -> str:
        return day if self.book.plan.school.rotation.kind == "weekdays" else f"Day {day}"

    def about(self, value: Any) -> str:
        visits = sum(len(day) for day in value.values())
        return f"{visits} visits in the whole of it. Enter says who comes, x nobody, c a day as another one is."

    @property
    def in_hand(self) -> tuple[str, str]:
        """Day and period of the row in hand."""
        day, _, period = self.key_in_hand.partition("\n")
        return day, period

    def with_visit(self, day: str, period: str, who: str, files: PlanFiles | None = None) -> PlanFiles:
        """The files with a class in a period; "" for nobody."""
        files = files or self.files
        timetable = files.classes.timetable
        periods = {name: each for name, each in timetable.get(day, {}).items() if name != period}
        if who:
            periods[period] = who
        order = [each.name for each in self.periods]
        in_order = {name: periods[name] for name in sorted(periods, key=lambda name: _place(order, name))}
        return self.with_day(day, in_order, files)

    def with_day(self, day: str, periods: dict[str, str], files: PlanFiles | None = None) -> PlanFiles:
        files = files or self.files
        timetable = {**files.classes.timetable, day: periods}
        in_order = {name: timetable[name] for name in self.days if name in timetable}
        return put(files, self.place, in_order)

    def action_accept(self) -> None:
        if self.asked is not None:
            self.take_typed()
            return
        if not self.key_in_hand:
            return
        day, period = self.in_hand
        now = self.files.classes.timetable.get(day, {}).get(period)

        def take(who: str) -> None:
            said = f"{self.day_said(day)} {period}: {who}"
            self.change(self.with_visit(day, period, who), said, self.key_after(day, period))

        def new(name: str) -> None:
            must_be_free(self.files, SchoolClass, name)
            self.draft = self.files
            self.ask_new(SchoolClass, ("classes", "classes"), {"id": name}, take_new)

        def take_new(files: PlanFiles, record: SchoolClass) -> None:
            files = put_in(files, ("classes", "classes"), record)
            said = f"new class {record.id}, {self.day_said(day)} {period}"
            self.change(self.with_visit(day, period, record.id, files), said, self.key_after(day, period))

        self.draft = None
        self.ask(Asked(WHO, f"{self.day_said(day)} {period}: who comes?", take, now, new))

    def key_after(self, day: str, period: str) -> str:
        """The period after it on the day, so that a day is filled one after the other."""
        names = [each.name for each in self.periods]
        at = names.index(period)
        return key_of(day, names[min(at + 1, len(names) - 1)])

    @on(LineList.Pointed)
    def choose_pointed(self, event: LineList.Pointed) -> None:
        """A second click asks who comes."""
        if event.again:
            self.action_accept()

    def action_nobody(self) -> None:
        if self.asked is None and self.key_in_hand:
            day, period = self.in_hand
            self.try_change(
                self.with_visit(day, period, ""), f"{self.day_said(day)} {period}: nobody", self.key_in_hand
            )

    def action_copy(self) -> None:
        """The day in hand as another one is."""
        if self.asked is not None or not self.key_in_hand:
            return
        day, _ = self.in_hand
        others = [each for each in self.days if each != day and self.files.classes.timetable.get(each)]
        rows = [Row("matter", each, self.day_said(each)) for each in others]

        def take(other: str) -> None:
            periods = self.files.classes.timetable[other]
            self.try_change(self.with_day(day, dict(periods)), f"{self.day_said(day)} as {self.day_said(other)}")

        def offers(typed: str) -> list[Row]:
            return [row for row in rows if row.key.casefold().startswith(typed.casefold())]

        self.app.push_screen(ChoosingScreen(self.date, f"{self.day_said(day)} is to be as which day?", offers, take))

    def try_change(self, files: PlanFiles, said: str, key: str = "") -> None:
        """Change it, or say why not."""
        try:
            self.change(files, said, key)
        except CannotBe as why:
            self.refuse(why)

    def action_digit(self, digit: str) -> None:
        self.take_choice(digit)


def key_of(day: str, period: str) -> str:
    """Names have no line break in them."""
    return f"{day}\n{period}"


def _place(order: list[str], name: str) -> int:
    return order.index(name) if name in order else len(order)
