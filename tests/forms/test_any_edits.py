"""Any edits in any order, taken back and opened again: the plan reads as it was left, and nothing else changes."""

from __future__ import annotations

import shutil
import tempfile
from datetime import datetime
from pathlib import Path
from typing import Any

from hypothesis import Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule
from msgspec import Struct, structs

from checklists.book import Book, NotSaved
from checklists.files.plan_check import parts_by_file, problems_in
from checklists.forms.adding import asked_of_new, new_record, suggested
from checklists.forms.changing import changed
from checklists.forms.choices import choices_of
from checklists.forms.copying import copied
from checklists.forms.fields import Field, fields_of_form
from checklists.forms.leaving_out import brought_back, left_out
from checklists.forms.places import Place, kind_of, moved, own_name, put_in, step_to, value_at
from checklists.forms.typed import CannotBe, value_typed
from checklists.plan.plan_files import PlanFiles
from checklists.plan.renaming import CannotRename, rename
from tests.days import opened
from tests.schools import reference_school

AT = datetime(2026, 10, 5, 7, 41)
ODD = [
    "[bold]red[/]",
    '"quoted" \\ back',
    "\x1b[31mred\x07",
    "\u202eright to left",
    "ملعقة",
    "🎨🖌️",
    "a\tb\nc",
    "3-B",
    "12",
    "0",
]
ROOTS: tuple[Place, ...] = (("school",), ("school", "cart"), ("school", "habits"), ("school", "rotation"))
LISTS: tuple[Place, ...] = (
    ("school", "days_off"),
    ("school", "bells"),
    ("school", "rooms"),
    ("school", "walks"),
    ("classes", "classes"),
    ("supplies",),
    ("kits", "boxes"),
    ("kits", "kits"),
    ("lessons",),
)
PHASES = (Phase.explicit, Phase.reuse, Phase.generate)
"""A sequence that fails is told as it was found: each shorter one takes seconds."""
_MADE = tempfile.TemporaryDirectory()
_SCHOOL = reference_school(Path(_MADE.name) / "school")
Book.open(_SCHOOL).release()  # the plan made ready once, for all of them


def records_in(files: PlanFiles) -> list[Place]:
    """Every record there is a form for."""
    found = list(ROOTS)
    todo: list[Place] = list(LISTS)
    while todo:
        place = todo.pop()
        for position, each in enumerate(value_at(files, place)):
            here = (*place, step_to(each, position))
            found.append(here)
            lists = [field.name for field in fields_of_form(type(each)) if field.way == "list"]
            todo += [(*here, name) for name in lists]
    return found


def in_order(files: PlanFiles) -> PlanFiles:
    """Lessons stand in the order of their files, wherever one was put in."""
    return structs.replace(files, lessons=tuple(sorted(files.lessons, key=lambda each: f"{each.id}.toml")))


class Edits(RuleBasedStateMachine):
    """A school in a folder, edited; beside it the plan as it should be."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        shutil.copytree(_SCHOOL, self.folder, dirs_exist_ok=True)
        self.book = opened(self.folder)
        self.files = self.book.plan_files
        self.before: list[PlanFiles] = []

    def teardown(self) -> None:
        self.book.release()
        shutil.rmtree(self.folder)

    def contents(self) -> dict[str, bytes]:
        found = [*self.folder.glob("*.toml"), *self.folder.glob("lessons/*.toml")]
        return {str(path.relative_to(self.folder)): path.read_bytes() for path in found}

    def change(self, files: PlanFiles, rules: Any = None) -> None:
        """What is refused leaves every byte; what is done, every file it is not about."""
        was, grave = (
            self.contents(),
            [each for each in problems_in(files, rules or self.book.own_rules) if each.level == "grave"],
        )
        try:
            self.book.change_files(files, "an edit", AT, rules)
        except NotSaved as why:
            assert grave, f"refused without a problem: {why}"
            assert self.contents() == was
            return
        assert not grave
        parts, now = parts_by_file(self.files), self.contents()
        for name, part in parts_by_file(files).items():
            if parts.get(name) == part and name in was:
                assert now[name] == was[name], f"{name} was not changed"
        if in_order(files) != self.files:
            self.before.append(self.files)
            self.files = in_order(files)

    def value(self, field: Field, data: st.DataObject) -> Any:
        """Something for a field, as the screens would take it. Raises CannotBe."""
        if field.choices:
            return data.draw(st.sampled_from(field.choices)).value
        names = [each.word for each in choices_of(self.book.plan, field.names)][:12]
        if field.way in ("one", "grade"):
            if not names:
                raise CannotBe
            return data.draw(st.sampled_from(names))
        if field.way == "several" and names:
            return tuple(data.draw(st.lists(st.sampled_from(names), unique=True, max_size=3)))
        if field.way == "counts" and names:
            return data.draw(st.dictionaries(st.sampled_from(names), st.integers(0, 40), max_size=3))
        usual = st.sampled_from(["1", "2", "24", "about 20", "9:15", "13:40", "10/6", "3 4", "A B C", "plenty", "clay"])
        text = data.draw(st.one_of(usual, st.sampled_from(ODD), st.text(max_size=20)))
        return value_typed(field, text, self.files.school)

    @rule(data=st.data())
    def say_a_field_otherwise(self, data: st.DataObject) -> None:
        place = data.draw(st.sampled_from(records_in(self.files)))
        record = value_at(self.files, place)
        field = data.draw(st.sampled_from(fields_of_form(type(record))))
        if field.way in ("list", "record"):
            return
        try:
            value = self.value(field, data)
            if field.is_own_name and own_name(record) is not None:
                done = rename(self.files, self.book.own_rules, str(kind_of(record)), str(own_name(record)), str(value))
                self.change(done.files, done.own_rules)
            else:
                self.change(changed(self.files, (*place, field.name), value))
        except (CannotBe, CannotRename):
            return

    @rule(data=st.data())
    def add_one(self, data: st.DataObject) -> None:
        place = data.draw(st.sampled_from(LISTS))
        example: Struct = value_at(self.files, place)[0] if value_at(self.files, place) else None
        if example is None:
            return
        said: dict[str, Any] = {}
        try:
            for field in asked_of_new(type(example)):
                usual = suggested(self.files, place, field, said)
                said[field.name] = usual if usual is not None and data.draw(st.booleans()) else self.value(field, data)
            self.change(put_in(self.files, place, new_record(self.files, type(example), said)))
        except CannotBe:
            return

    @rule(data=st.data(), what=st.sampled_from(["copy", "move", "take out", "bring back"]))
    def copy_move_or_take_out(self, data: st.DataObject, what: str) -> None:
        places = [each for each in records_in(self.files) if each not in ROOTS]
        place = data.draw(st.sampled_from(places))
        entries = value_at(self.files, place[:-1])
        try:
            if what == "copy":
                self.change(copied(self.files, place)[0])
            elif what == "move" and place[:-1] != ("lessons",):
                self.change(moved(self.files, place, data.draw(st.integers(0, len(entries) - 1))))
            elif what == "take out":
                self.change(left_out(self.files, self.book.own_rules, place)[0])
            elif what == "bring back":
                self.change(brought_back(self.files, place)[0])
        except CannotBe:
            return

    @rule()
    def take_back(self) -> None:
        if self.before:
            assert self.book.take_files_back() == "an edit"
            self.files = self.before.pop()

    @rule()
    def open_again(self) -> None:
        self.book.release()
        self.book = opened(self.folder)

    @invariant()
    def the_plan_is_as_it_was_left(self) -> None:
        assert self.book.plan_files == self.files
        assert not [each for each in self.book.problems if each.level == "grave"]


Edits.TestCase.settings = settings(max_examples=12, stateful_step_count=12, deadline=None, phases=PHASES)
TestAnyEdits = Edits.TestCase
