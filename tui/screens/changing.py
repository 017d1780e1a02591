"""The base of the screens on which she says what is different: topics with a letter each, and what is typed for one."""

from __future__ import annotations

from datetime import date

from textual import events, on
from textual.content import Content

from checklists.daybook.changing import Topic
from checklists.daybook.changing_typed import entries_typed
from checklists.daybook.entries import AnyEntry
from checklists.daybook.marks import Marks
from checklists.lines.records import Day, Visit
from tui.keys import Key
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.rows_screen import RowsScreen
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine

LONGEST_TYPED = 40


class ChangingScreen(RowsScreen):
    """Topics: one key says the other of two ways, a list opens where there are more, some are typed."""

    def __init__(self, on: date) -> None:
        super().__init__(on)
        self.typing: str | None = None
        """What is being typed; None while nothing is."""
        self.typing_for = ""

    def on_mount(self) -> None:
        self.reread()

    @property
    def day(self) -> Day:
        return self.trundle.recorder.day(self.date)

    @property
    def marks(self) -> Marks:
        """What was said of the day so far."""
        return self.trundle.recorder.marks(self.date)

    @property
    def topics(self) -> tuple[Topic, ...]:
        raise NotImplementedError

    @property
    def visit(self) -> Visit | None:
        """The visit it is about; None where it is the day."""
        return None

    def take(self, *entries: AnyEntry) -> None:
        """She has said what is different."""
        raise NotImplementedError

    def topic_of(self, key: str) -> Topic | None:
        return next((each for each in self.topics if each.key == key), None)

    def may_leave_row(self) -> bool:
        return self.typing is None

    # ---------------------------------------------------------------------------------------------------- choosing

    def action_topic(self, key: str) -> None:
        """Say the other way of a topic, choose from its ways, or begin to type."""
        topic = self.topic_of(key)
        if topic is None:
            return
        self.list.cursor = self.list.index_of(key) or self.list.cursor
        if topic.other is not None:
            self.take(*topic.other.entries)
        elif topic.typed:
            self.begin_typing(topic)
        elif topic.ways:
            self.choose(topic)

    def choose(self, topic: Topic) -> None:
        """A list of the ways, narrowed by first letters."""
        ways = {way.label: way for way in topic.ways if not way.is_so}

        def offers(typed: str) -> list[Row]:
            return [Row("matter", label, label) for label in ways if _has_word(label, typed)]

        title = f"{topic.name}: {topic.value}. What instead?" if topic.value else f"{topic.name}: what instead?"
        self.app.push_screen(ChoosingScreen(self.date, title, offers, lambda label: self.take(*ways[label].entries)))

    @on(LineList.Pointed)
    def take_pointed(self, event: LineList.Pointed) -> None:
        """A second click chooses."""
        if event.again:
            self.action_accept()

    def action_accept(self) -> None:
        raise NotImplementedError

    # ------------------------------------------------------------------------------------------------------ typing

    def begin_typing(self, topic: Topic) -> None:
        self.typing, self.typing_for = "", topic.key
        self.echo()

    def stop_typing(self) -> None:
        self.typing = None
        self.query_one(MessageLine).put(Content(""))

    def echo(self) -> None:
        topic = self.topic_of(self.typing_for)
        if topic is not None:
            said = Content.assemble((f"{self.typing}_", "bold $ask"), f"  {topic.name}: {topic.hint}")
            self.query_one(MessageLine).put(said, alone=True)

    def take_typed(self) -> None:
        """What was typed becomes a change, or it is said why it cannot."""
        topic, typed = self.topic_of(self.typing_for), (self.typing or "").strip()
        self.stop_typing()
        if topic is None or (not typed and not topic.ways):
            self.say("Nothing was typed, nothing is different.")
        elif not typed:
            self.take(*topic.ways[0].entries)
        else:
            found = entries_typed(topic, typed, self.book.plan, self.day, self.marks, self.trundle.now(), self.visit)
            if isinstance(found, str):
                self.say(found, alarm=True)
            else:
                self.take(*found)

    def on_key(self, event: events.Key) -> None:
        """While something is typed, a sign is only a sign."""
        if self.typing is None:
            letters = {key.keys[0]: key.action for key in self.KEYS if key.action.startswith("topic(")}
            topic = self.topic_of(letters.get(event.key, "")[7:-2])
            if topic is not None and topic.typed and topic.other is None:
                event.stop()  # what is typed ahead belongs to it
                self.action_topic(topic.key)
            return
        if event.is_printable and event.character is not None:
            event.stop()
            self.typing = (self.typing + event.character)[:LONGEST_TYPED].lstrip()
            self.echo()

    def action_erase(self) -> None:
        if self.typing is not None:
            self.typing = self.typing[:-1]
            self.echo()

    def action_back(self) -> None:
        if self.typing is not None:
            self.stop_typing()
        else:
            super().action_back()

    def action_undo(self) -> None:
        if self.typing is None:
            self.take_back()


def _has_word(label: str, typed: str) -> bool:
    """Whether one of its words begins with what was typed: "11" fits Room 11, "k" with K-ash in V1."""
    return f" {typed}".casefold() in f" {label}".casefold()


def letters_of(keys: tuple[Key, ...]) -> dict[str, str]:
    """Topic -> its letter."""
    return {key.action[7:-2]: key.keys[0] for key in keys if key.action.startswith("topic(")}
