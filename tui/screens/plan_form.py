"""Change one thing of the plan, field by field: each row says what is so, and Enter says it otherwise."""

from __future__ import annotations

from datetime import date
from typing import Any, ClassVar

from textual import on
from textual.binding import BindingType
from textual.content import Content

from checklists.forms.changing import changed
from checklists.forms.fields import Field, fields_of_form
from checklists.forms.places import Place, kind_of, own_name, put
from checklists.forms.said import name_of, say_value
from checklists.forms.typed import CannotBe
from checklists.plan import naming
from checklists.plan.plan_files import PlanFiles
from checklists.words import clean
from tui.keys import FORM, bindings_of
from tui.plan_rows import form_rows
from tui.screens.plan_asking import NUMBERS, Asked
from tui.screens.plan_new import NewEntryScreen
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine

OPENED = ("list", "several", "counts", "record")
"""Ways of fields that have a screen of their own."""


class PlanFormScreen(NewEntryScreen):
    """The fields of one record."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(FORM)]
    KEYS = FORM
    TITLE_OF_KEYS = "Changing a thing"

    def __init__(self, on: date, place: Place, title: str, *, at: str = "") -> None:
        """``at`` is the field the cursor begins on."""
        super().__init__(on, place, title)
        self.at = at
        self.told_of = ""
        """The field whose help was shown last: what is said of a change stays while the cursor does."""

    @property
    def field(self) -> Field | None:
        """The field in hand."""
        return next((each for each in fields_of_form(type(self.value)) if each.name == self.key_in_hand), None)

    def show_value(self, value: Any, key: str) -> None:
        key, self.at = key or self.at or self.key_in_hand, ""
        self.told_of = key or self.told_of
        self.list.show(form_rows(self.book.plan, value, self.app.size.width), self.list.cursor, key=key)

    def about(self, value: Any) -> str:
        from checklists.plan.uses import say_uses, uses_of

        kind, name = kind_of(value), own_name(value)
        if kind is None or name is None:
            return "Enter changes the row in hand."
        uses = uses_of(self.files, self.book.own_rules, kind, name)
        if kind == naming.BELLS and not uses:  # a day goes by one without naming it
            return "Enter changes the row in hand."
        return f"Used: {say_uses(uses, 2)}" if uses else "Nothing uses it."

    @on(LineList.Moved)
    def tell_of_field(self) -> None:
        """What the field in hand is for."""
        field = None if self.is_gone or self.asked is not None else self.field
        if field is not None and field.name != self.told_of:
            self.told_of = field.name
            self.query_one(MessageLine).put(Content.assemble((clean(field.help), "$quiet")))

    @on(LineList.Pointed)
    def change_pointed(self, event: LineList.Pointed) -> None:
        """A second click changes it."""
        if event.again:
            self.action_accept()

    # ------------------------------------------------------------------------------------------------------ changing

    def action_accept(self) -> None:
        """Take what was typed, or ask for the field in hand."""
        if self.asked is not None:
            self.take_typed()
        elif self.field is not None:
            self.begin(self.field)

    def begin(self, field: Field, typed: str = "") -> None:
        """Ask for a field, or open what stands in it."""
        value = getattr(self.value, field.name)
        if field.way in OPENED:
            self.open(field, value)
            return
        self.draft = None
        if field.way == "one":
            self.ask_name(field, f"{field.label}?", lambda name: self.put(field, name, self.draft), value)
            return
        stood = str(value) if field.way == "text" and not typed else ""
        suggested = value if field.way in ("grade", "choice", *NUMBERS) else "" if not field.required else None
        self.ask(
            Asked(field, f"{field.label}?", lambda said: self.put(field, said), suggested),
            typed or stood,
            stood=bool(stood),
        )

    def open(self, field: Field, value: Any) -> None:
        """A list or a record has a screen of its own; one that is not said yet begins as usual."""
        from tui.screens.plan_list import PlanListScreen

        place, title = (*self.place, field.name), f"{self.title} > {field.label}"
        if field.way != "record":
            self.app.push_screen(PlanListScreen(self.date, place, title, field))
            return
        if value is None and field.of is not None:
            try:
                self.change(
                    put(self.files, place, field.of()), f"{self.name_here()}: {field.label.lower()}", field.name
                )
            except CannotBe as why:
                self.refuse(why)
                return
        self.app.push_screen(PlanFormScreen(self.date, place, title))

    def name_here(self) -> str:
        """What the thing is called in words of a change."""
        return name_of(self.book.plan, self.value)

    def put(self, field: Field, value: Any, files: PlanFiles | None = None) -> None:
        """Another value in a field, as a step; ``files`` have what was made on the way to it. Raises CannotBe."""
        if field.is_own_name and own_name(self.value) is not None:
            self.rename(str(value))
            return
        said = f"{self.name_here()}: {field.label.lower()} {say_value(self.book.plan, field, value)}"
        self.change(changed(files or self.files, (*self.place, field.name), value), said, field.name)

    def rename(self, new: str) -> None:
        """Another name, and all that names it follows. Raises CannotBe."""
        from checklists.plan.renaming import CannotRename, rename, say_renamed

        old, kind = str(own_name(self.value)), str(kind_of(self.value))
        if new == old:
            self.stop_asking("That is its name already.")
            return
        try:
            renamed = rename(self.files, self.book.own_rules, kind, old, new)
        except CannotRename as why:
            raise CannotBe(str(why)) from None
        said = say_renamed(kind, old, new)
        self.change(renamed.files, said, rules=renamed.own_rules, called_now=" ".join(new.split()))

    def action_clear(self) -> None:
        """Back to what holds where nothing is said."""
        field = self.field
        if self.asked is not None or field is None:
            return
        if field.required or field.is_own_name:
            self.say(f"{field.label}: that must be said.")
            return
        try:
            self.put(field, field.default)
        except CannotBe as why:
            self.refuse(why)

    def action_uses(self) -> None:
        """What uses the thing, all of it."""
        from tui.screens.uses import show_uses

        if self.asked is None:
            show_uses(self, self.value)

    def action_digit(self, digit: str) -> None:
        """One of the choices asked, or the beginning of a number."""
        field = self.field
        if not self.take_choice(digit) and self.asked is None and field is not None and field.way in NUMBERS:
            self.begin(field, digit)
