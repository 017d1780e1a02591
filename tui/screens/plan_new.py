"""Asks for what must be said of something new in the plan, one after the other."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec import structs

from checklists.forms.adding import asked_of_new, new_record, suggested
from checklists.forms.fields import Field, field_of, words_of_record
from checklists.forms.places import Place, kind_of_type
from checklists.forms.said import say_name
from checklists.forms.typed import CannotBe
from checklists.plan import naming
from checklists.plan.plan_files import PlanFiles, plan_of
from checklists.plan.records import Period, Plan, Room, Supply
from checklists.plan.renaming import RENAMED, known_names, why_no_name
from checklists.rules.read import builtin_supplies
from tui.screens.plan_asking import Asked
from tui.screens.plan_screen import PlanScreen

Done = Callable[[PlanFiles, Any], None]
"""Takes the plan with what was made on the way, and the new record. Raises CannotBe."""


class NewEntryScreen(PlanScreen):
    """Makes new records; what becomes of them is for others."""

    draft: PlanFiles | None = None
    """The plan with what was made on the way to a new entry."""

    def plan_asked_of(self) -> Plan:
        return plan_of(self.draft, builtin_supplies()) if self.draft is not None else self.book.plan

    def ask_new(self, record_type: type, place: Place, said: dict[str, Any], done: Done) -> None:
        """The next field that must be said of one for the list at ``place``; with all said it is made."""
        draft = self.draft or self.files
        field = next((each for each in asked_of_new(record_type) if each.name not in said), None)
        if field is None:
            done(draft, new_record(draft, record_type, said))
            return

        def take(value: Any) -> None:
            if field.is_own_name:
                must_be_free(draft, record_type, str(value))
            self.ask_new(record_type, place, {**said, field.name: value}, done)

        noun = words_of_record(record_type).title
        prompt = f"New {noun}: {field.label[:1].lower()}{field.label[1:]}?"
        if field.way == "several":
            self.ask_pair(field, prompt, take)
        elif field.way == "one":
            self.ask_name(field, prompt, take)
        else:
            self.ask(Asked(field, prompt, take, suggested(draft, place, field, said)))

    def ask_name(self, field: Field, prompt: str, take: Callable[[Any], None], preset: Any = None) -> None:
        """One of the things there are, or a new supply or room."""
        one = structs.replace(field, way="one")
        ways = {naming.SUPPLY: self.make_supply, naming.ROOM: self.make_room}
        make = ways.get(field.names)
        self.ask(Asked(one, prompt, take, preset, None if make is None else lambda name: make(name, take)))

    def make_room(self, name: str, take: Callable[[Any], None]) -> None:
        """A room that is not in the plan yet, with nothing known of it. Raises CannotBe."""
        draft = self.draft or self.files
        must_be_free(draft, Room, name)
        if draft.school.rooms:  # else rooms have no entries of their own
            school = structs.replace(draft.school, rooms=(*draft.school.rooms, Room(name)))
            self.draft = structs.replace(draft, school=school)
        take(name)

    def make_supply(self, name: str, take: Callable[[Any], None]) -> None:
        """A supply that is not in the catalogue yet: its kind is asked, then it is taken."""
        kind = field_of(Supply, "kind")

        def made(value: Any) -> None:
            draft = self.draft or self.files
            supply = new_record(draft, Supply, {"name": name, "kind": value, "on_hand": "plenty"})
            self.draft = structs.replace(draft, supplies=(*draft.supplies, supply))
            take(supply.id)

        self.ask(Asked(kind, f"{name}: what kind of thing?", made, kind.default))

    def ask_pair(self, field: Field, prompt: str, take: Callable[[Any], None]) -> None:
        """Two things, one after the other: the places of a walk."""

        def second(first: Any) -> None:
            self.ask_name(
                field,
                f"{prompt} {say_name(self.book.plan, field.names, first)} and?",
                lambda other: take((first, other)),
            )

        self.ask_name(field, prompt, second)


def must_be_free(files: PlanFiles, record_type: type, name: str) -> None:
    """Raises CannotBe where a new thing cannot be called so.

    A period has its name in every schedule it is in, and a room may be named before it has an entry.
    """
    kind = kind_of_type(record_type)
    if kind not in RENAMED:
        return
    known = known_names(files.school, files.classes, kind)
    if record_type is Room:  # a class is in it, which does not tell what there is in the room
        known = tuple(each for each in known if each not in {room.id for room in files.school.rooms})
    if record_type in (Period, Room) and name in known:
        return
    why = why_no_name(files, kind, name)
    if why:
        raise CannotBe(why)
