"""What she says of one line, or of a whole container: each key says one thing, and the list goes on where hands are
needed."""

from __future__ import annotations

from typing import Literal, get_args

from rich.cells import cell_len
from textual import events, on
from textual.content import Content

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
    Ticked,
)
from checklists.daybook.said import say_entry
from checklists.lines.records import Line
from checklists.words import plural
from tui.columns import fit
from tui.reasons import forbidden_text
from tui.rows import FOLD
from tui.screens.walking import WalkingScreen
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine, choice_rows
from tui.wording import sentence

REMEDIES: tuple[Remedy, ...] = get_args(Remedy)
REASONS: tuple[Reason, ...] = get_args(Reason)
LONGEST_NUMBER = 6


class PackingScreen(WalkingScreen):
    """Packing. Nothing here asks back: every step can be taken back with one key."""

    typed = ""
    """The half-typed number, of the row ``begun_on``."""
    step: Literal["", "short", "not needed"] = ""
    """The step that waits for its digit, of the same row."""
    begun_on = ""

    # ------------------------------------------------------------------------------------------ half-done steps

    def row_key(self) -> str:
        """Key of the row in hand. What was half done on another row is let go of here."""
        row = self.list.row
        key = row.key if row is not None else ""
        if (self.typed or self.step) and key != self.begun_on:
            self.let_go_of_step()
        return key

    def begin(self, *, typed: str = "", step: Literal["", "short", "not needed"] = "") -> None:
        self.begun_on = self.row_key()
        self.typed, self.step = typed, step
        self.ask()

    def let_go_of_step(self) -> None:
        """Nothing is half done any more."""
        if self.typed or self.step:
            self.typed, self.step = "", ""
            self.ask()

    @on(LineList.Moved)
    def let_go_of_other_row(self) -> None:
        self.row_key()

    def on_resize(self, event: events.Resize) -> None:
        if self.typed or self.step:
            self.ask()

    def ask(self) -> None:
        """Say what is half done and which keys finish it; choices that need a second row take that of the keys."""
        message, keys, line = self.query_one(MessageLine), self.query_one(KeyBar), self.line
        rows = [Content("")]
        if self.step == "short" and line is not None:
            rows = self.ways_out(line)
        elif self.step:
            rows = choice_rows("Off:", REASONS, self.size.width - 2)
        elif self.typed:
            rows = [Content(self.echo(line))]
        message.put(rows[0], alone=bool(self.typed or self.step))
        keys.show_instead(Content(" ") + rows[1] if len(rows) > 1 else None)

    def ways_out(self, line: Line) -> list[Content]:
        """What can be done about a short line and what it comes to; only the remedies where that takes a third row."""
        from checklists.daybook.remedies import remedies_for  # only here: a start does not work out what may be short
        from checklists.daybook.stock_now import stock_now

        there, width = self.count_said(line), self.size.width - 2
        question = f"Short, {there} of {line.need}:"
        book = self.trundle.recorder.book
        stock = stock_now(book.plan, self.day, self.marks, book.opening(self.day.date))
        ways = remedies_for(book.plan, self.day, line, self.marks, stock, there)
        rows = choice_rows(question, [way.short_label for way in ways], width)
        return rows if len(rows) <= 2 else choice_rows(question, REMEDIES, width)

    def echo(self, line: Line | None) -> str:
        """What is typed, for which line, and which keys finish it; a long name is cut, never the keys."""
        if line is None:
            return f"{self.typed}_  j: jump to line {self.typed}"
        keys = f" Enter: {self.typed} of {line.need} in it  s: short  j: line {self.typed}"
        room = self.size.width - 2 - len(f"{self.typed}_ ") - len(keys)
        name = fit(line.name, max(8, min(cell_len(line.name), room)))
        return f"{self.typed}_ {name}{keys}"

    def action_digit(self, digit: str) -> None:
        key = self.row_key()
        if self.step:
            self.choose(int(digit) - 1)
        elif key in self.line_by_key or key in self.todo_by_key:
            self.begin(typed=(self.typed + digit)[-LONGEST_NUMBER:].lstrip("0") or "0")

    def action_erase(self) -> None:
        self.row_key()
        if self.typed and not self.step:
            self.typed = self.typed[:-1]
            self.ask()

    def action_back(self) -> None:
        self.let_go_of_step()
        self.say("")

    def action_jump(self) -> None:
        self.row_key()
        number = int(self.typed) if self.typed and not self.step else None
        if number is None:
            return
        self.let_go_of_step()
        for index, section in enumerate(self.sections):
            numbers = {line.number: line.key for line in section.lines} | {t.number: t.key for t in section.todos}
            if number in numbers and number:
                self.take_in_hand(index, numbers[number])
                return
        self.say(f"No line {number} today.")

    # ------------------------------------------------------------------------------------------------- one line

    def action_pack(self) -> None:
        key, line, todo = self.row_key(), self.line, self.todo
        if self.step:
            return
        if key == FOLD:
            self.action_unfold()
        elif line is not None:
            self.pack(line)
        elif todo is not None and self.typed:
            self.let_go_of_step()
            self.say("Nothing is counted here. Enter alone: seen to.")
        elif todo is not None and key not in self.tally.settled:
            self.take_step(Ticked(at=self.trundle.now(), matter=key))
        elif todo is not None:
            self.go_on("")

    @on(LineList.Pointed)
    def pack_pointed(self, event: LineList.Pointed) -> None:
        """A second click packs."""
        if event.again and event.row.key != FOLD:
            self.action_pack()

    def pack(self, line: Line) -> None:
        """Packed in full, or as many as were typed. A line that is packed already only lets the cursor go on."""
        if line.forbidden:
            self.let_go_of_step()
            self.say(f"Not packed: {forbidden_text(line, private=False)} n takes it off the list.", alarm=True)
        elif self.typed:
            self.take_step(Packed(at=self.trundle.now(), line=line.key, count=int(self.typed)))
        elif self.tally.states[line.key] == "packed":
            self.go_on("")
        else:
            self.take_step(packed_in_full(line, self.marks, self.trundle.now()))

    def action_say_short(self) -> None:
        self.row_key()
        line = self.line
        if line is None or self.step:
            return
        count = self.count_said(line)
        if count >= line.need:
            self.let_go_of_step()
            self.say(f"{count} of {line.need} is enough: Enter. If there are fewer, type how many before s.")
        else:
            self.begin(typed=self.typed, step="short")

    def count_said(self, line: Line) -> int:
        """How many of a line there are: what was typed, else what is in the container."""
        return int(self.typed) if self.typed else has_now(line, self.marks)

    def action_say_not_needed(self) -> None:
        self.row_key()
        if not self.step and (self.line is not None or self.todo is not None):
            self.begin(step="not needed")

    def choose(self, index: int) -> None:
        """The digit after "short" or "off"."""
        key, line, now = self.row_key(), self.line, self.trundle.now()
        if not 0 <= index < len(REMEDIES if self.step == "short" else REASONS):
            return
        if self.step == "short" and line is not None:
            self.take_step(CameUpShort(at=now, line=key, count=self.count_said(line), remedy=REMEDIES[index]))
        elif line is not None:
            self.take_step(NotNeeded(at=now, line=key, reason=REASONS[index]))
        else:
            self.take_step(LetGo(at=now, matter=key, reason=REASONS[index]))

    def action_low(self) -> None:
        """Running low; the same key once more: plenty after all."""
        self.row_key()
        line = self.line
        if line is None or self.step or line.supply not in self.trundle.recorder.book.plan.supply_by_id:
            return
        self.let_go_of_step()
        level: Literal["plenty", "low"] = "plenty" if self.marks.levels.get(line.supply) == "low" else "low"
        problem = self.record(FoundLevel(at=self.trundle.now(), supply=line.supply, level=level))
        self.show_changed([each.key for each in self.day.lines if each.supply == line.supply])
        said = "running low, noted" if level == "low" else "plenty again"
        self.say(problem or f"{line.name}: {said}.", alarm=bool(problem))

    # ------------------------------------------------------------------------------------------------ container

    def action_pack_section(self) -> None:
        """The section as listed. What is critical, counted, forbidden or in part stays open, its first in hand."""
        self.row_key()
        section = self.section
        if section is None or self.step:
            return
        self.let_go_of_step()
        lines = [line for line in section.lines if goes_without_a_look(line, self.marks)]
        problem = ""
        if lines:
            problem = self.record(*(packed_in_full(line, self.marks, self.trundle.now()) for line in lines))
            self.show_changed(line.key for line in lines)
        if problem:
            self.say(problem, alarm=True)
            return
        done = f"{plural(len(lines), 'line')} as listed" if lines else ""
        left = [line.name for line in section.lines if self.tally.is_open(line)]
        left += [todo.what for todo in section.todos if todo.key not in self.tally.settled]
        if left and self.go_to_first_open():
            more = f"{len(left)} {'more ' if lines else ''}to look at: {', '.join(left)}"
            self.say(f"{done}. {more}" if done else sentence(more))
        else:
            self.go_on(f"{section.name}: {done or 'nothing open'}.")

    # --------------------------------------------------------------------------------------------------- saying

    def take_step(self, entry: AnyEntry) -> None:
        """Save what she said of the row in hand and show it. Only a settled line lets the cursor go on."""
        key = self.row_key()
        said = self.said_of(entry)
        problem = self.record(entry)
        self.let_go_of_step()
        self.show_changed([key])
        line = self.line_by_key.get(key)
        if problem:
            self.say(problem, alarm=True)
        elif line is not None and self.tally.is_open(line):
            has = has_now(line, self.marks)
            self.say(f"{has} of {line.need} in it, {line.need - has} still to come. s: short")
        else:
            self.go_on(said)

    def said_of(self, entry: AnyEntry) -> str:
        """What a step said; of a private matter only that it was said."""
        todo = self.todo
        if todo is not None and todo.is_hidden:
            return "Private matter: seen to." if isinstance(entry, Ticked) else "Private matter: let go."
        return sentence(say_entry(entry, self.day))

    def go_on(self, message: str) -> None:
        """On to the next open row, or say that there is none."""
        is_further = self.go_to_next_open()
        self.say(message if is_further else f"{message} {self.nothing_open()}".strip())

    def nothing_open(self) -> str:
        short = sum(state == "short" for state in self.tally.states.values())
        return (
            f"Nothing is open, {short} short. g: before you go." if short else "Everything is packed. g: before you go."
        )
