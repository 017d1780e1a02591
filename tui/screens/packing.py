"""What she says of one line, or of a whole container: each key says one thing, and the list goes on where hands are
needed."""

from __future__ import annotations

from typing import Literal

from msgspec import structs
from textual import on

from checklists.daybook.entries import AnyEntry, CameUpShort, Changed, FoundLevel, LetGo, Packed, Reason, Stands, Ticked
from checklists.daybook.fetching import say_elsewhere
from checklists.daybook.line_states import goes_without_a_look, has_now, left_to_take, packed_in_full
from checklists.daybook.marks import FETCH, LEAVE_AHEAD
from checklists.daybook.said import say_entry
from checklists.daybook.taking_out import not_along, taken_out
from checklists.lines.records import Decision, Line, TakeOut
from checklists.walks import STORE
from checklists.words import join_words, plural
from tui.reasons import forbidden_text
from tui.rows import FOLD
from tui.screens.half_done import REASONS, REMEDIES, HalfDoneScreen
from tui.sections import decision_text
from tui.widgets.line_list import LineList
from tui.wording import sentence

LONGEST_NUMBER = 6


class PackingScreen(HalfDoneScreen):
    """Packing. Nothing here asks back: every step can be taken back with one key."""

    def action_digit(self, digit: str) -> None:
        key = self.row_key()
        if self.step:
            self.choose(int(digit) - 1)
        elif self.decision is not None:
            self.decide(self.decision, int(digit) - 1)
        elif key in self.line_by_key or key in self.todo_by_key:
            self.begin(typed=(self.typed + digit)[-LONGEST_NUMBER:].lstrip("0") or "0")

    def action_jump(self) -> None:
        self.row_key()
        number = int(self.typed) if self.typed and not self.step else None
        if number is None:
            if self.day.decisions and not self.step:
                self.show_line(self.day.decisions[0].key)
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
        elif key in self.take_out_by_key:
            self.take_out(self.take_out_by_key[key])
        elif self.decision is not None:
            self.ask()
        elif todo is not None and self.typed:
            self.let_go_of_step()
            self.say("Nothing is counted here. Enter alone: seen to.")
        elif todo is not None and key.startswith(FETCH) and key not in self.tally.settled:
            self.take_step(Stands(at=self.trundle.now(), container=key.removeprefix(FETCH), place=STORE))
        elif todo is not None and key.startswith(LEAVE_AHEAD) and key not in self.tally.settled:
            from checklists.pages.why_leave_ahead import say_open_in_it
            from checklists.route.departure import entries_to_leave

            trip = next(each for each in self.departure.to_leave if each.key == key)
            still = say_open_in_it(self.day, self.marks, trip)
            self.take_step(*entries_to_leave(trip, self.trundle.now()))
            if still:
                self.say(f"It stands there, but {still} u takes it back.", alarm=True)
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
            self.say(f"Not packed: {forbidden_text(line, private=False)} n: it is out.", alarm=True)
        elif self.typed:
            self.take_step(Packed(at=self.trundle.now(), line=line.key, count=int(self.typed)))
        elif self.tally.states[line.key] == "packed" and line.key not in self.tally.to_fill:
            self.go_on("")
        else:
            self.take_step(packed_in_full(line, self.marks, self.trundle.now()))
        elsewhere = say_elsewhere(line, self.day, self.marks) if not line.forbidden else ""
        if elsewhere:
            self.say(elsewhere, alarm=True)

    def take_out(self, take_out: TakeOut) -> None:
        """What is still to be taken out is back on the shelf, or as many as were typed."""
        left = left_to_take(take_out, self.marks)
        count = int(self.typed) if self.typed else left
        self.let_go_of_step()
        if not left:
            self.go_on("")
        elif not 0 < count <= left:
            self.say(f"{left} are to be taken out, so {count} cannot be.")
        else:
            held = self.book.opening(self.date).contents
            self.take_step(taken_out(take_out, self.day, self.marks, held, self.trundle.now(), count))

    def decide(self, decision: Decision, index: int) -> None:
        """Choose one way out of what cannot be taught as it is; the day is worked out anew."""
        if not 0 <= index < len(decision.offers):
            return
        offer, before = decision.offers[index], decision_text(decision, self.day)
        problem = self.record(structs.replace(offer.change, at=self.trundle.now()))
        self.reread()
        if problem:
            self.say(problem, alarm=True)
            return
        self.open_first()
        self.say(f"{before.partition(':')[0]}: {offer.label}. u takes it back.")

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

    def action_say_not_needed(self) -> None:
        key = self.row_key()
        if not self.step and key.startswith(LEAVE_AHEAD):
            self.take_along(key)
            return
        if not self.step and self.decision is None and (self.line is not None or self.todo is not None):
            self.begin(step="not needed")

    def take_along(self, key: str) -> None:
        """Not left ahead today: it always rides; the route is worked out anew."""
        trip = next(each for each in self.departure.to_leave if each.key == key)
        problem = self.record(Changed(at=self.trundle.now(), rides=dict.fromkeys(trip.containers, "always")))
        self.reread()
        fits = self.book.route(self.date).plan is not None
        then = "" if fits else "; then not everything fits on the cart: u takes it back"
        self.say(problem or f"{join_words(trip.names)}: rides along today{then}.")

    def choose(self, index: int) -> None:
        """The digit after "short" or "off"."""
        key, line, now = self.row_key(), self.line, self.trundle.now()
        if not 0 <= index < len(REMEDIES if self.step == "short" else self.ways_off(line)[1]):
            return
        if self.step == "short" and line is not None:
            self.take_step(CameUpShort(at=now, line=key, count=self.count_said(line), remedy=REMEDIES[index]))
        elif line is not None:
            reason: Reason = "other" if line.forbidden else REASONS[index]
            self.take_step(*not_along(line, self.marks, now, reason))
        else:
            self.take_step(LetGo(at=now, matter=key, reason=REASONS[index]))

    def action_low(self) -> None:
        """Running low; the same key once more: plenty after all."""
        self.row_key()
        line = self.line
        if line is None or self.step or line.supply not in self.book.plan.supply_by_id:
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
        left = [line.name for line in section.lines if self.tally.is_open(line) or line.key in self.tally.to_fill]
        left += [todo.what for todo in section.todos if todo.key not in self.tally.settled]
        if left and self.go_to_first_open():
            more = f"{len(left)} {'more ' if lines else ''}to look at: {', '.join(left)}"
            self.say(f"{done}. {more}" if done else sentence(more))
        else:
            self.go_on(f"{section.name}: {done or 'nothing open'}.")

    # --------------------------------------------------------------------------------------------------- saying

    def take_step(self, *entries: AnyEntry) -> None:
        """Save what she said of the row in hand and show it. Only a settled line lets the cursor go on."""
        key = self.row_key()
        said = self.said_of(entries[0])
        problem = self.record(*entries)
        self.let_go_of_step()
        self.show_changed([key])
        line, out = self.line_by_key.get(key), self.take_out_by_key.get(key)
        if problem:
            self.say(problem, alarm=True)
        elif line is not None and (self.tally.is_open(line) or key in self.tally.to_fill):
            has, need = has_now(line, self.marks), line.need + line.ahead
            self.say(f"{has} of {need} in it, {need - has} still to come. s: short")
        elif out is not None and key not in self.tally.settled:
            self.say(f"{left_to_take(out, self.marks)} still to take out.")
        else:
            self.go_on(said)

    def said_of(self, entry: AnyEntry) -> str:
        """What a step said; of a private matter only that it was said."""
        todo = self.todo
        if todo is not None and todo.is_hidden:
            return "Private matter: seen to." if isinstance(entry, Ticked) else "Private matter: let go."
        if isinstance(entry, LetGo) and entry.matter in self.take_out_by_key:
            return f"{self.take_out_by_key[entry.matter].name} stays in there."
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
