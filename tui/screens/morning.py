"""What do I pack? Each key says one thing about the line in hand, and the list goes on to the next open one."""

from __future__ import annotations

from typing import ClassVar, Literal, get_args

from textual import on
from textual.binding import BindingType

from checklists.daybook.marks import goes_without_a_look, has_now, packed_in_full
from checklists.daybook.records import (
    AnyEntry,
    CameUpShort,
    FoundLevel,
    LetGo,
    NotNeeded,
    Packed,
    Reason,
    Remedy,
    Reported,
    Ticked,
)
from checklists.daybook.said import say_entry
from checklists.lines.records import Line
from checklists.words import plural
from tui.keys import MORNING, bindings_of
from tui.notices import notices_of
from tui.rows import FOLD
from tui.screens.list_screen import ListScreen
from tui.sections import ORDERS
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.wording import sentence

REMEDIES: tuple[Remedy, ...] = get_args(Remedy)
REASONS: tuple[Reason, ...] = get_args(Reason)
LONGEST_NUMBER = 6
NOTHING_OPEN = "Everything is packed. g: before you go."


class MorningScreen(ListScreen):
    """Packing. Nothing here asks back: every step can be taken back with one key."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(MORNING)]
    KEYS = MORNING
    TITLE_OF_KEYS = "Packing"

    step: Literal["", "short", "not needed"] = ""
    """The step that waits for its digit."""

    # ------------------------------------------------------------------------------------------------- one line

    def action_pack(self) -> None:
        row = self.list.row
        if row is None or self.step:
            return
        line = self.line
        if row.key == FOLD:
            self.action_unfold()
        elif line is not None:
            self.pack(line)
        elif row.kind == "todo":
            if row.key in self.tally.settled:
                self.go_on("")
            else:
                self.take_step(Ticked(at=self.trundle.now(), matter=row.key))

    @on(LineList.Pointed)
    def pack_pointed(self, event: LineList.Pointed) -> None:
        """A second click packs."""
        if event.again and event.row.key != FOLD:
            self.action_pack()

    def pack(self, line: Line) -> None:
        """Packed in full, or as many as were typed. A line that is packed already only lets the cursor go on."""
        if line.forbidden:
            instead = f" Use {line.instead}." if line.instead else ""
            self.say(f"Not packed: {line.forbidden}.{instead} n takes it off the list.", alarm=True)
        elif self.typed:
            self.take_step(Packed(at=self.trundle.now(), line=line.key, count=int(self.typed)))
        elif self.tally.states[line.key] == "packed":
            self.go_on("")
        else:
            self.take_step(packed_in_full(line, self.marks, self.trundle.now()))

    def action_say_short(self) -> None:
        line = self.line
        if line is None or self.step:
            return
        if self.count_said(line) >= line.need:
            self.say(
                f"{self.count_said(line)} of {line.need} is enough: Enter. If there are fewer, type how many before s."
            )
            return
        self.step = "short"
        self.ask()

    def count_said(self, line: Line) -> int:
        """How many of a line there are: what was typed, else what is in the container."""
        return int(self.typed) if self.typed else has_now(line, self.marks)

    def action_say_not_needed(self) -> None:
        row = self.list.row
        if row is None or row.kind not in ("line", "todo") or self.step:
            return
        self.typed = ""
        self.step = "not needed"
        self.ask()

    def action_low(self) -> None:
        line = self.line
        if line is None or self.step or line.supply not in self.trundle.recorder.book.plan.supply_by_id:
            return
        if self.marks.levels.get(line.supply) == "low":
            self.say(f"{line.name}: noted as low already.")
            return
        entry = FoundLevel(at=self.trundle.now(), supply=line.supply, level="low")
        problem = self.record(entry)
        self.show_changed([line.key])
        self.say(problem or f"{line.name}: running low, noted.", alarm=bool(problem))

    def action_pack_section(self) -> None:
        """The section as listed, except what is critical, counted, short or in part: on these it stops."""
        if self.section is None or self.step:
            return
        lines = [line for line in self.section.lines if goes_without_a_look(line, self.marks)]
        if lines:
            entries = [packed_in_full(line, self.marks, self.trundle.now()) for line in lines]
            problem = self.record(*entries)
            self.show_changed(line.key for line in lines)
            done = f"{self.section.name}: {plural(len(lines), 'line')} as listed."
            self.go_on(problem or done, alarm=bool(problem))
        else:
            self.go_on(f"{self.section.name}: nothing left that goes without a look.")

    def take_step(self, entry: AnyEntry) -> None:
        """Save what she said of the line in hand, show it, and go on to the next open line."""
        row = self.list.row
        problem = self.record(entry)
        self.typed = ""
        self.step = ""
        self.show_changed([row.key] if row is not None else [])
        self.go_on(problem or sentence(say_entry(entry, self.day)), alarm=bool(problem))

    def go_on(self, message: str, *, alarm: bool = False) -> None:
        found = self.go_to_next_open()
        self.say(message if found else f"{message} {NOTHING_OPEN}".strip(), alarm=alarm)

    # ------------------------------------------------------------------------------------------ digits and steps

    def action_digit(self, digit: str) -> None:
        if self.step:
            self.choose(int(digit) - 1)
        elif self.line is not None or self.typed:
            self.typed = (self.typed + digit)[-LONGEST_NUMBER:].lstrip("0") or "0"
            self.ask()

    def choose(self, index: int) -> None:
        """The digit after "short" or "not needed"."""
        row, line, now = self.list.row, self.line, self.trundle.now()
        if row is None or not 0 <= index < len(REMEDIES if self.step == "short" else REASONS):
            return
        if self.step == "short" and line is not None:
            count = self.count_said(line)
            self.take_step(CameUpShort(at=now, line=line.key, count=count, remedy=REMEDIES[index]))
        elif line is not None:
            self.take_step(NotNeeded(at=now, line=line.key, reason=REASONS[index]))
        else:
            self.take_step(LetGo(at=now, matter=row.key, reason=REASONS[index]))

    def ask(self) -> None:
        """Say what is half done and which keys finish it."""
        message, line = self.query_one(MessageLine), self.line
        if self.step == "short" and line is not None:
            count = self.count_said(line)
            message.ask(f"Short, {count} of {line.need}:", REMEDIES)
        elif self.step:
            message.ask("Not needed:", REASONS)
        elif self.typed and line is not None:
            said = f"{self.typed}_  Enter: {self.typed} of {line.need} in it"
            message.say(f"{said}   s: short   j: jump to line {self.typed}")
        else:
            message.say("")

    def action_erase(self) -> None:
        if self.typed and not self.step:
            self.typed = self.typed[:-1]
            self.ask()

    def action_back(self) -> None:
        self.typed = ""
        self.step = ""
        self.say("")

    def action_jump(self) -> None:
        number = int(self.typed) if self.typed and not self.step else None
        self.typed = ""
        for index, section in enumerate(self.sections):
            numbers = {line.number: line.key for line in section.lines} | {t.number: t.key for t in section.todos}
            if number is not None and number in numbers:
                self.take_in_hand(index, numbers[number])
                self.say("")
                return
        if number is not None:
            self.say(f"No line {number} today.")

    def action_section_before(self) -> None:
        """``b`` goes back: out of a half-done step first, else to the container before."""
        if self.step:
            self.action_back()
        else:
            super().action_section_before()

    # ------------------------------------------------------------------------------------------------- the day

    def action_undo(self) -> None:
        """Take back the newest step, and show the line it was about, in whichever container it is."""
        before = dict(self.marks.lines)
        if not self.take_back():
            return
        after = self.marks.lines
        changed = [key for key in {*before, *after} if before.get(key) != after.get(key) and key in self.line_by_key]
        if changed:
            self.show_line(min(changed, key=lambda each: self.line_by_key[each].number))

    def action_order(self) -> None:
        key = self.list.row.key if self.list.row is not None else ""
        self.order = ORDERS[(ORDERS.index(self.order) + 1) % len(ORDERS)]
        self.take_day()
        if not self.show_line(key):
            self.open_first()
        self.say(f"By {self.order}." + (" In time order." if self.order == "class" else ""))

    def action_other_day(self) -> None:
        """The next school day, and back to the day she opened on."""
        first = self.trundle.opening_date
        other = self.trundle.recorder.day(first).next_school_day
        target = other if self.date == first else first
        if target is None:
            self.say("No further school day in the plan.")
            return
        self.trundle.fold_now()
        self.date, self.in_hand = target, 0
        self.take_day()
        self.open_first()
        self.say("")

    def action_answer_done(self) -> None:
        self.answer("done")

    def action_answer_missed(self) -> None:
        self.answer("not taught")

    def answer(self, outcome: Literal["done", "not taught"]) -> None:
        """Answer the question on top, in the daybook of the day it is about."""
        if not self.day.questions or self.step:
            return
        question = self.day.questions[0]
        problem = self.record(Reported(at=self.trundle.now(), visit=question.visit, outcome=outcome), on=question.date)
        self.reread()
        self.say(problem or f"{question.text} {outcome}.", alarm=bool(problem))

    def action_why(self) -> None:
        if self.line is not None:
            from tui.screens.why import WhyScreen

            self.app.push_screen(WhyScreen(self.day, self.line))

    def action_notices(self) -> None:
        from tui.screens.why import NoticesScreen

        notices = notices_of(self.trundle.recorder.book, self.day, self.marks)
        self.app.push_screen(NoticesScreen(self.day, notices))

    def action_go(self) -> None:
        from tui.screens.leaving import LeavingScreen

        self.trundle.fold_now()
        self.app.push_screen(LeavingScreen(self.date))

    def action_day_end(self) -> None:
        from tui.screens.day_end import DayEndScreen

        self.trundle.fold_now()
        self.app.push_screen(DayEndScreen(self.date))

    def action_quit(self) -> None:
        """Quit. What is critical and open is shown once; then the same key quits."""
        if self.tally.critical_lines and self.marks.left is None and not self.trundle.has_shown_open:
            self.trundle.has_shown_open = True
            self.action_go()
        else:
            self.trundle.leave()
