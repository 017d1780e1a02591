"""A list of the plan: open, add, copy, move, take out. What must be said of a new one is asked, one after the other."""

from __future__ import annotations

from datetime import date
from typing import Any, ClassVar, cast

from textual import on
from textual.binding import BindingType

from checklists.forms.adding import asked_of_new, position_of_new
from checklists.forms.fields import Field, field_of, words_of_record
from checklists.forms.places import (
    Gone,
    Place,
    Step,
    kind_of,
    moved,
    own_name,
    position_of,
    put,
    put_in,
    step_to,
    value_at,
)
from checklists.forms.said import name_of, say_name
from checklists.forms.typed import CannotBe
from checklists.plan import naming
from checklists.plan.plan_files import PlanFiles, plan_of
from checklists.plan.records import Item
from checklists.rules.read import builtin_supplies
from tui.keys import PLAN_LIST, bindings_of
from tui.plan_rows import list_rows
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.plan_asking import Asked
from tui.screens.plan_new import NewEntryScreen
from tui.widgets.line_list import LineList

COUNT = field_of(Item, "count")
"""How a number of something is asked for where it has no field of its own."""


class PlanListScreen(NewEntryScreen):
    """The entries of one field: records, names of things, or things with how many of each."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(PLAN_LIST)]
    KEYS = PLAN_LIST
    TITLE_OF_KEYS = "A list"

    def __init__(self, on: date, place: Place, title: str, field: Field) -> None:
        super().__init__(on, place, title)
        self.field = field
        self.steps: dict[str, Step] = {}
        self.moving = ""
        """Key of the row that is being moved; empty while none is."""

    @property
    def of_records(self) -> bool:
        return self.field.of is not None

    @property
    def noun(self) -> str:
        """What one entry is called."""
        return words_of_record(self.field.of).title if self.field.of is not None else self.field.names or "entry"

    def show_value(self, value: Any, key: str) -> None:
        rows, self.steps = list_rows(self.book.plan, self.field, value, self.app.size.width)
        if not rows:
            rows = [Row("text", "nothing", "Nothing yet. a adds one.")]
        self.list.show(rows, self.list.cursor, key=key or self.key_in_hand)

    def about(self, value: Any) -> str:
        return self.field.help or f"{len(value)} in all. Enter opens the one in hand, a adds one."

    @property
    def step(self) -> Step | None:
        """The step to the entry in hand."""
        return self.steps.get(self.key_in_hand)

    @property
    def in_hand(self) -> Any:
        """The entry in hand: a record, a name, or how many of a thing. Raises Gone."""
        if self.step is None:
            raise Gone
        return value_at(self.value, (self.step,))

    def name_in_hand(self) -> str:
        """What it is called."""
        if self.of_records:
            return name_of(self.book.plan, self.in_hand)
        name = str(self.step) if self.field.way == "counts" else str(self.in_hand)
        return say_name(self.book.plan, self.field.names, name)

    # ---------------------------------------------------------------------------------------------------- opening

    def action_accept(self) -> None:
        """Take what was typed, put down what is moved, or open the entry in hand."""
        if self.asked is not None:
            self.take_typed()
        elif self.moving:
            self.put_down()
        elif self.step is not None:
            self.open()

    @on(LineList.Pointed)
    def open_pointed(self, event: LineList.Pointed) -> None:
        """A second click opens it."""
        if event.again:
            self.action_accept()

    def open(self) -> None:
        from tui.screens.plan_form import PlanFormScreen

        if self.of_records:
            title = f"{self.title} > {self.name_in_hand()}"
            self.app.push_screen(PlanFormScreen(self.date, (*self.place, cast(Step, self.step)), title))
        elif self.field.way == "counts":
            step, name = cast(Step, self.step), self.name_in_hand()
            self.ask(Asked(COUNT, f"{name}: how many?", lambda count: self.put_count(step, name, count), self.in_hand))
        elif self.field.names == naming.LESSON:
            place: Place = ("lessons", str(self.in_hand))
            self.app.push_screen(PlanFormScreen(self.date, place, f"Lessons > {self.name_in_hand()}"))
        else:
            self.say(f"{self.name_in_hand()}: x takes it out, m moves it.")

    def put_count(self, step: Step, name: str, count: float) -> None:
        self.change(put(self.files, (*self.place, step), count), f"{count} {name}", str(step))

    # ----------------------------------------------------------------------------------------------------- adding

    def action_add(self) -> None:
        """One more, with what must be said of it."""
        if self.asked is not None or self.moving:
            return
        self.draft = self.files
        if self.field.of is not None:
            self.ask_new(self.field.of, self.place, {}, self.add_record)
        else:
            self.ask_name(self.field, f"Which {self.noun}?", self.add_name)

    def action_add_empty(self) -> None:
        """Only a lesson is begun in two ways."""

    def add_name(self, name: str) -> None:
        """Raises CannotBe."""
        draft, value = self.draft or self.files, self.value
        if self.field.way == "counts":
            prompt = f"{say_name(self.plan_asked_of(), self.field.names, name)}: how many?"
            self.ask(Asked(COUNT, prompt, lambda count: self.add_count(name, count), 1))
            return
        if name in value:
            raise CannotBe(f"{say_name(self.book.plan, self.field.names, name)} is in the list already.")
        called = say_name(self.plan_asked_of(), self.field.names, name)
        self.change(put(draft, self.place, (*value, name)), f"{called} added", f"{len(value)} {name}")

    def add_count(self, name: str, count: float) -> None:
        called = say_name(self.plan_asked_of(), self.field.names, name)
        self.change(put(self.draft or self.files, (*self.place, name), count), f"{count} {called}", name)

    def add_record(self, files: PlanFiles, record: Any) -> None:
        """Raises CannotBe."""
        position = position_of_new(self.value, record)
        title = words_of_record(type(record)).title
        files = put_in(files, self.place, record, position)
        name = name_of(plan_of(files, builtin_supplies()), record)
        self.change(files, f"new {title} {name}", str(step_to(record, position)))

    # ------------------------------------------------------------------------------------- copying, moving, taking out

    def action_copy(self) -> None:
        """The entry in hand once more, below it."""
        if self.asked is not None or self.moving or self.step is None or not self.of_records:
            return
        from checklists.forms.copying import copied

        try:
            files, step = copied(self.files, (*self.place, self.step))
            self.change(files, f"a copy of {self.name_in_hand()}", str(step))
        except CannotBe as why:
            self.refuse(why)

    def action_move(self) -> None:
        """Take the entry in hand up, to be put down elsewhere."""
        if self.moving:
            self.put_down()
        elif self.asked is None and self.step is not None:
            if self.field.way == "counts" or self.place == ("lessons",):
                self.say("These stand in no order of yours.")
                return
            self.moving = self.key_in_hand
            self.say("Up and down move it, Enter puts it down, Esc leaves it where it was.")

    def carry(self, by: int) -> None:
        """The row that is moved changes places with its neighbour."""
        rows, at = list(self.list.rows), self.list.index_of(self.moving)
        to = -1 if at is None else at + by
        if at is not None and 0 <= to < len(rows) and rows[to].kind == "matter":
            rows[at], rows[to] = rows[to], rows[at]
            self.list.show(rows, key=self.moving)

    def put_down(self) -> None:
        key, self.moving = self.moving, ""
        self.go_to(key)
        step = self.steps[key]
        to, number = self.position_carried_to(key)
        try:
            name = self.name_in_hand()
            files = moved(self.files, (*self.place, step), to)
            at = str(step) if isinstance(step, str) else str(to) if self.of_records else f"{to} {self.in_hand}"
            self.change(files, f"{name} is number {number} now", at)
        except CannotBe as why:
            self.reread(key)
            self.refuse(why)

    def position_carried_to(self, key: str) -> tuple[int, int]:
        """Where among the others the carried one goes, whatever is archived between them; and its number here."""
        order = [self.steps[row.key] for row in self.list.rows if row.kind == "matter"]
        at, entries = order.index(self.steps[key]), self.value
        is_first = at == 0 or self.list.rows[(self.list.index_of(key) or 0) - 1].kind == "heading"
        if is_first and at + 1 == len(order):
            return position_of(entries, order[at]), at + 1
        beside = position_of(entries, order[at + 1] if is_first else order[at - 1])
        beside -= beside > position_of(entries, order[at])
        return beside + (not is_first), at + 1

    def let_go(self) -> None:
        """What is moved stays where it was."""
        self.moving = ""
        self.reread()
        self.say("It stays where it was.")

    def reread(self, key: str = "") -> None:
        """Rows as they stand now: whatever was being moved is not any more."""
        self.moving = ""
        super().reread(key)

    def may_leave_row(self) -> bool:
        return not self.moving and super().may_leave_row()

    def action_line_before(self) -> None:
        if self.moving:
            self.carry(-1)
        else:
            super().action_line_before()

    def action_line_after(self) -> None:
        if self.moving:
            self.carry(1)
        else:
            super().action_line_after()

    def action_back(self) -> None:
        if self.moving:
            self.let_go()
        else:
            super().action_back()

    def action_undo(self) -> None:
        if self.moving:
            self.let_go()
        else:
            super().action_undo()

    def action_take_out(self) -> None:
        """Out of the list: a thing with a name goes into the archive first, and from there for good."""
        if self.asked is not None or self.moving or self.step is None:
            return
        from checklists.daybook.open_about import open_about
        from checklists.forms.leaving_out import left_out

        try:
            name, record = self.name_in_hand(), self.in_hand
            kind, opening = kind_of(record), self.book.opening(self.date)
            unsettled = open_about(self.book.plan, opening, kind, str(own_name(record))) if kind is not None else ()
            files, said = left_out(self.files, self.book.own_rules, (*self.place, self.step), unsettled)
            self.change(files, f"{name} {said}", self.key_in_hand)
        except CannotBe as why:
            self.refuse(why)

    def action_bring_back(self) -> None:
        """Out of the archive again."""
        if self.asked is not None or self.moving or self.step is None:
            return
        from checklists.forms.leaving_out import brought_back

        try:
            name = self.name_in_hand()
            files, said = brought_back(self.files, (*self.place, self.step))
            self.change(files, f"{name} {said}", self.key_in_hand)
        except CannotBe as why:
            self.refuse(why)

    def action_rename(self) -> None:
        """Another name for the entry in hand, in its form."""
        from tui.screens.plan_form import PlanFormScreen

        if self.asked is None and not self.moving and self.step is not None and self.of_records:
            named = asked_of_new(cast(type, self.field.of))[0]
            title = f"{self.title} > {self.name_in_hand()}"
            form = PlanFormScreen(self.date, (*self.place, self.step), title, at=named.name)
            self.app.push_screen(form)
            self.app.call_later(form.action_accept)

    def action_uses(self) -> None:
        from tui.screens.uses import show_uses

        if self.asked is None and not self.moving and self.step is not None and self.of_records:
            show_uses(self, self.in_hand)

    def action_find(self) -> None:
        """Go to an entry by its first letters."""
        if self.asked is not None or self.moving:
            return
        rows = [row for row in self.list.rows if row.kind == "matter"]

        def offers(typed: str) -> list[Row]:
            letters = typed.casefold()
            return [
                row
                for row in rows
                if any(word.startswith(letters) for word in (row.name.casefold(), *row.name.casefold().split()))
            ]

        self.app.push_screen(ChoosingScreen(self.date, f"{self.title}: which one?", offers, self.go_to))

    def action_digit(self, digit: str) -> None:
        self.take_choice(digit)
