"""What do I pack? The list in three orders, on two days, with what must not be missed above it."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType

from checklists.daybook.entries import AnyEntry, Changed, Fill
from checklists.daybook.marks import LEAVE_AHEAD
from checklists.words import plural
from tui.keys import MORNING, bindings_of
from tui.screens.answering import AnsweringScreen
from tui.sections import ORDERS
from tui.signs import PACKING_SIGNS

if TYPE_CHECKING:
    from checklists.changing_days import Before

FILLS: tuple[Fill, ...] = ("day", "week", "cycle")


class MorningScreen(AnsweringScreen):
    """The screen she packs at."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(MORNING)]
    KEYS = MORNING
    TITLE_OF_KEYS = "Packing"
    SIGNS = PACKING_SIGNS

    def action_section_before(self) -> None:
        """``b`` goes back: out of a half-done step first, else to the container before."""
        self.row_key()
        if self.step:
            self.action_back()
        else:
            super().action_section_before()

    # ------------------------------------------------------------------------------------------------- the day

    def action_undo(self) -> None:
        """Take back the newest step, and show the line it was about, in whichever container it is."""
        self.let_go_of_step()
        before, seen_to, undecided = dict(self.marks.lines), self.tally.settled, set(self.decision_by_key)
        if not self.take_back():
            return
        for decision in self.day.decisions:
            if decision.key not in undecided:
                self.show_line(decision.key)
                return
        after = self.marks.lines
        changed = [key for key in {*before, *after} if before.get(key) != after.get(key) and key in self.line_by_key]
        if changed:
            self.show_line(min(changed, key=lambda each: self.line_by_key[each].number))
        else:
            for key in sorted(seen_to - self.tally.settled):
                self.show_line(key)

    def action_order(self) -> None:
        self.let_go_of_step()
        key = self.key_in_hand
        self.order = ORDERS[(ORDERS.index(self.order) + 1) % len(ORDERS)]
        self.take_day()
        if not self.show_line(key):
            self.open_first()
        self.say(f"By {self.order}." + (" In time order." if self.order == "class" else ""))

    def action_other_day(self) -> None:
        """The next school day, and back to the day she opened on; after midnight first of all to the day it is now."""
        due = self.trundle.day_that_came()
        if due is not None:
            self.trundle.turn_to(due)
            self.show_day(due)
            return
        first = self.trundle.opening_date
        other = self.trundle.recorder.day(first).next_school_day
        target = other if self.date == first else first
        if target is None:
            self.say("No further school day in the plan.")
        else:
            self.show_day(target)

    def show_day(self, day: date) -> None:
        """The list of another day."""
        self.let_go_of_step()
        self.trundle.fold_now()
        self.has_asked_for_question = False
        self.date, self.in_hand = day, 0
        self.take_day()
        self.open_first()
        self.say("")

    def action_fill(self) -> None:
        """Fill the containers for the day, the week, the cycle, in turn."""
        self.row_key()
        if self.step:
            return
        self.let_go_of_step()
        at = FILLS.index(self.day.fill)
        span, following = FILLS[at - 2], FILLS[at - 1]
        problem = self.record(Changed(at=self.trundle.now(), fill=span))
        self.reread()
        later = sum(bool(line.ahead) for line in self.day.lines)
        more = f": {plural(later, 'line')} with more for later" if later else ""
        told = "For the day only" if span == "day" else f"For the {span}{more}"
        self.say(problem or f"{told}. -: {following}.", alarm=bool(problem))

    def action_why(self) -> None:
        from tui.screens.why import WhyInContainerScreen, why_screen

        key = self.key_in_hand
        if key.startswith(LEAVE_AHEAD):
            self.tell_why_ahead(key)
            return
        page = why_screen(self.trundle.recorder, self.date, key)
        if isinstance(page, WhyInContainerScreen) and key in self.line_by_key:
            page.lead_to(self.action_change_line)
        if page is not None:
            self.app.push_screen(page)

    def tell_why_ahead(self, key: str) -> None:
        """By when, why this container is left ahead, and why the others ride."""
        from checklists.pages.why_leave_ahead import why_leave_ahead
        from tui.rule_rows import Around
        from tui.screens.why import WhyScreen

        trip = next(each for each in self.departure.to_leave if each.key == key)
        route = self.book.route(self.date)
        why = why_leave_ahead(self.book.plan, self.day, self.marks, route, self.departure, trip)
        self.app.push_screen(WhyScreen(why, self.date, Around()))

    def action_route(self) -> None:
        from tui.screens.route import RouteScreen

        self.app.push_screen(RouteScreen(self.date))

    def action_notices(self) -> None:
        from tui.screens.notices import NoticesScreen

        self.app.push_screen(NoticesScreen(self.date))

    def action_rules(self) -> None:
        """The rules, those behind the line in hand on top."""
        from tui.rule_rows import Around, around_thing
        from tui.screens.rules import RuleBookScreen

        self.let_go_of_step()
        line = self.line
        around = around_thing(line.name, line, self.day, private=False) if line is not None else Around()
        self.app.push_screen(RuleBookScreen(self.date, around))

    def action_make_rule(self) -> None:
        """A rule of her own from the line in hand."""
        self.let_go_of_step()
        if self.line is None:
            self.say("A rule of your own is made from a line: go to one first.")
            return
        from tui.screens.rules_own import OwnRuleScreen, proposals_of

        proposals = proposals_of(self.book, self.day, self.line)
        if not proposals:
            self.say(f"No rule can be made of {self.line.name}: it is the children's own work, no supply.")
            return
        screen = OwnRuleScreen(self.date, self.line.name, proposals)
        self.app.push_screen(screen, lambda _: self.say(screen.kept) if screen.kept else None)

    def action_change(self) -> None:
        """What is different about the day; then what follows from it."""
        from tui.screens.changed_day import ChangedDayScreen

        self.let_go_of_step()
        self.app.push_screen(ChangedDayScreen(self.date, self.tell_change))

    def tell_change(self, before: Before, entries: tuple[AnyEntry, ...]) -> None:
        """Everything that follows from a change that was just said, on a page of its own."""
        from tui.screens.what_follows import WhatFollowsPage, follows_of

        told = follows_of(self.trundle.recorder, before, entries)
        self.app.push_screen(WhatFollowsPage(told, self.action_undo, self.action_change))

    def action_more(self) -> None:
        from tui.screens.more import MoreScreen

        self.let_go_of_step()
        self.app.push_screen(MoreScreen(self.date, self.show_day))

    def action_classes(self) -> None:
        from tui.screens.class_list import ClassListScreen

        self.let_go_of_step()
        self.app.push_screen(ClassListScreen(self.date))

    def action_go(self, *, quitting: bool = False) -> None:
        from tui.screens.leaving import LeavingScreen

        self.trundle.fold_now()
        self.app.push_screen(LeavingScreen(self.date, quitting=quitting))

    def action_visits(self) -> None:
        """What came back, a line a visit."""
        from tui.screens.visits import VisitsScreen

        self.let_go_of_step()
        self.trundle.fold_now()
        self.app.push_screen(VisitsScreen(self.date))

    def action_day_end(self) -> None:
        from tui.screens.day_end import DayEndScreen

        self.trundle.fold_now()
        self.app.push_screen(DayEndScreen(self.date))

    def action_quit(self) -> None:
        """Quit. What is critical and open is shown once, and why it is shown; then the same key quits."""
        is_critical = bool(self.tally.critical_lines) or any(each.stops for each in self.day.decisions)
        if is_critical and self.marks.left is None and not self.trundle.has_shown_open:
            self.trundle.has_shown_open = True
            self.action_go(quitting=True)
        else:
            self.trundle.leave()
