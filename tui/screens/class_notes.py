"""What is to be noted of this class? What it avoids and needs, how many it is, what it has."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from checklists.book import NotSaved
from checklists.daybook.class_list import joining, leaving
from checklists.daybook.class_place import placing
from checklists.daybook.entries import AnyEntry, Changed
from checklists.daybook.said import say_entry
from checklists.lines.records import Day
from checklists.pages.what_follows import what_follows
from checklists.plan import class_notes
from checklists.plan.class_notes import CannotNote, Known, narrowed, size_typed
from checklists.plan.records import Classes
from checklists.words import plural, say_date
from tui.class_rows import AVOIDED, NEEDED, TOPICS, need_text, rows_of_known
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.class_screen import NEED_COUNT, ClassScreen
from tui.widgets.follows import Follows
from tui.wording import sentence

Change = Callable[[Classes], Classes]
NO_NEED = " "
"""Chosen where no need goes with a child who left."""


class ClassNotesScreen(ClassScreen):
    """The notes of one class. What is noted is written at once, ticks stay, and what follows is told below."""

    def choose(self, topic: str) -> None:
        """The list of known things, narrowed by first letters."""
        plan, words, class_ = self.book.plan, self.book.rules.vocabulary, self.class_
        known: tuple[Known, ...]
        if topic == "avoid":
            known = class_notes.things_to_avoid(plan, words.avoid, words.marks)
            noted, state, title = class_.avoid, "avoided", f"What must not come near {self.class_id}?"
        elif topic == "need":
            known = class_notes.things_to_need(plan, words.needs)
            noted = tuple(each.need for each in class_.needs)
            state, title = "noted", f"What does a child of {self.class_id} need?"
        else:
            known = class_notes.things_to_have(plan)
            noted, state = class_.has, "has it"
            title = f"What do {self.class_id} or their room have of their own? Once more: not any more."
        names = {each.word: each.name for each in known}

        def offers(typed: str) -> list[Row]:
            return rows_of_known(narrowed(known, typed), noted, state)

        self.app.push_screen(ChoosingScreen(self.date, title, offers, lambda word: self.take(topic, word, names[word])))

    def take(self, topic: str, word: str, name: str) -> None:
        """A thing was chosen from the list."""
        if topic == "need":
            noted = any(each.need == word for each in self.class_.needs)
            self.list.cursor = self.list.index_of(f"{NEEDED}{word}" if noted else "need") or 0
            self.begin_typing(NEED_COUNT + word)
        elif topic == "avoid" and word in self.class_.avoid:
            self.say(f"{self.class_id} avoids {name} already. x on it: not any more.")
        elif topic == "avoid":
            change = partial(class_notes.avoid, class_id=self.class_id, word=word)
            self.note(change, f"{self.class_id} avoids {name}", f"{AVOIDED}{word}", private=True)
        elif word in self.class_.has:
            change = partial(class_notes.have_no_more, class_id=self.class_id, supply=word)
            self.note(change, f"{self.class_id} has no {name} of its own any more")
        else:
            change = partial(class_notes.have, class_id=self.class_id, supply=word)
            self.note(change, f"{self.class_id} has {name} of its own")

    def action_remove(self) -> None:
        """Take off what is avoided or needed."""
        kind, _, word = self.key_in_hand.partition(" ")
        if self.typing is not None or self.key_in_hand in TOPICS:
            return
        if f"{kind} " == AVOIDED:
            change = partial(class_notes.avoid_no_more, class_id=self.class_id, word=word)
            said = f"{self.class_id} need not avoid {word.replace('-', ' ')} any more"
            self.note(change, said, "avoid", private=True)
        elif f"{kind} " == NEEDED:
            change = partial(class_notes.need, class_id=self.class_id, word=word, count=0)
            said = f"nobody in {self.class_id} has the need {word.replace('-', ' ')} any more"
            self.note(change, said, "need", private=True)

    def take_typed(self) -> None:
        """What was typed becomes a note, or it is said why it cannot."""
        typed, what = (self.typing or "").strip(), self.typing_for
        try:
            self.note_typed(what, typed)
        except CannotNote as problem:
            self.typing = None
            self.say(str(problem), alarm=True)

    def note_typed(self, what: str, typed: str) -> None:
        """Raises CannotNote."""
        ident = self.class_id
        if what.startswith(NEED_COUNT):
            word, count = what.removeprefix(NEED_COUNT), whole(typed or "1")
            many = plural(count, "child") if count else "nobody"
            change: Change = partial(class_notes.need, class_id=ident, word=word, count=count)
            said = f"{ident}: {many} with the need {word.replace('-', ' ')}"
            self.note(change, said, f"{NEEDED}{word}", private=True)
        elif not typed:
            self.stop_typing()
            self.say("Nothing was typed, nothing is noted.")
        elif what == "size":
            size = size_typed(typed)
            self.note(partial(class_notes.size, class_id=ident, students=size), f"{ident}: {size} children")
        elif what == "left":
            number = whole(typed)
            if number in self.class_.left:
                change = partial(class_notes.come_back, class_id=ident, number=number)
                self.note(change, f"number {number} of {ident} is there again")
            else:
                self.let_leave(number)
        elif what == "adults":
            count = whole(typed)
            said = f"{plural(count, 'adult')} in the room with {ident}"
            self.note(partial(class_notes.adults, class_id=ident, count=count), said)
        elif what == "place":
            entry = placing(self.book.plan, self.place, ident, whole(typed), self.trundle.now())
            self.enter(entry, f"{sentence(say_entry(entry, self.day, self.book.plan))} u takes it back.", "place")
        else:
            self.note_today(what, whole(typed))

    # ------------------------------------------------------------------------------------------------------ noting

    def note(self, change: Change, said: str, key: str = "", *, private: bool = False) -> None:
        """Write one change of the class, tell what follows on the day's list, and put the cursor on ``key``.

        ``private``: it is said here only, and taken back elsewhere without a word of what it was. Raises CannotNote
        where it cannot be so.
        """
        book, before_class = self.book, self.class_
        classes = change(class_notes.classes_of(book.plan))
        if classes == class_notes.classes_of(book.plan):
            self.stop_typing()
            self.say("That is noted already.")
            return

        def take_back() -> None:
            try:
                book.change_classes(class_notes.put_back(class_notes.classes_of(book.plan), before_class))
            except CannotNote as problem:
                raise NotSaved(str(problem)) from None

        before = self.day
        self.typing = None
        openly = f"a private note about {self.class_id}" if private else said
        problem = self.trundle.recorder.change_plan(lambda: book.change_classes(classes), take_back, openly)
        self.tell(problem, f"{said[:1].upper()}{said[1:]}. u takes it back.", before, key)

    def note_today(self, what: str, count: int) -> None:
        """An entry of the day: the plan stays as it is."""
        if what == "adults today":
            class_notes.adults(class_notes.classes_of(self.book.plan), self.class_id, count)
            entry = Changed(at=self.trundle.now(), adults={self.class_id: count})
            said = f"{plural(count, 'adult')} with {self.class_id} on {say_date(self.date)} only."
        else:
            size_typed(str(count))
            entry = Changed(at=self.trundle.now(), students={self.class_id: count})
            said = f"{plural(count, 'child')} of {self.class_id} on {say_date(self.date)} only."
        self.enter(entry, said, what)

    def enter(self, entry: AnyEntry, said: str, key: str) -> None:
        """Save an entry of the day, and tell what follows."""
        before = self.day
        self.typing = None
        self.tell(self.record(entry), said, before, key)

    def action_join(self) -> None:
        """A new child, with the next number of the list."""
        if self.typing is not None:
            return
        try:
            entry = joining(self.class_, self.trundle.now())
        except CannotNote as problem:
            self.say(str(problem), alarm=True)
            return
        self.enter(entry, sentence(say_entry(entry, self.day)), "join")

    def let_leave(self, number: int) -> None:
        """A child left. Where the class has needs, one of them may go with it. Raises CannotNote."""
        class_ = self.class_
        leaving(class_, number, "", self.trundle.now())
        if not class_.needs:
            self.enter_leaving(number, "")
            return
        self.stop_typing()
        rows = [Row("matter", NO_NEED, "no, the needs stay as they are")]
        rows += [Row("matter", need.need, need_text(need)) for need in class_.needs]

        def offers(typed: str) -> list[Row]:
            return [row for row in rows if row.name.startswith(typed.casefold())]

        title = f"Does one of the needs of {class_.id} go with number {number}?"
        self.app.push_screen(
            ChoosingScreen(self.date, title, offers, lambda need: self.enter_leaving(number, need.strip(NO_NEED)))
        )

    def enter_leaving(self, number: int, need: str) -> None:
        entry = leaving(self.class_, number, need, self.trundle.now())
        self.enter(entry, sentence(say_entry(entry, self.day)), "left")

    def tell(self, problem: str, said: str, before: Day, key: str) -> None:
        """Show the class as it is now, what was said, and what follows on the list."""
        self.reread(key)
        if self.is_gone:
            return
        self.say(problem or said, alarm=bool(problem))
        recorder = self.trundle.recorder
        follows = what_follows(recorder.book.plan, before, self.day, recorder.marks(self.date), private=True)
        where = f"On the list of {say_date(self.date)}"
        if not problem:
            self.query_one(Follows).tell(where, follows or ("Nothing is different.",))

    def action_undo(self) -> None:
        if self.typing is None:
            self.query_one(Follows).tell("", ())
            self.take_back()


def whole(typed: str) -> int:
    """A whole number of at most three digits, or CannotNote."""
    if not (typed.isascii() and typed.isdigit() and len(typed) <= 3):
        raise CannotNote(f'"{typed}" is not a number.')
    return int(typed)
