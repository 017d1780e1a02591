"""What do the rules do, and which of them are switched off?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from msgspec import structs

from checklists.pages.what_follows import follows_in_short
from checklists.rules.records import Rule, SwitchedOff
from checklists.rules.switching import SAFETY, CannotSwitch, day_typed, offs_of, say_scope, switched_off
from tui.class_rows import rows_of_classes
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.rules_screen import RulesScreen
from tui.wording import sentence

MOST_OF_EACH = 3
"""Classes and lessons of the line in hand that have a digit of their own."""


class RuleBookScreen(RulesScreen):
    """Rules are switched off and on here: everywhere, for a class, in a lesson, until a day."""

    # ----------------------------------------------------------------------------------------------- switching off

    def action_switch_off(self) -> None:
        """For whom? A digit answers."""
        rule = self.rule
        if rule is None or self.asked is not None or self.typing is not None:
            return
        if not rule.on or any(not (each.class_id or each.lesson) for each in self.offs(rule)):
            self.say(f"{rule.title}: off already. y switches it on.")
            return
        plan, around = self.book.plan, self.around
        choices: list[tuple[str, Callable[[], None]]] = [("everywhere", lambda: self.switch_off(rule))]
        for each in around.classes[:MOST_OF_EACH]:
            choices.append((f"for {each}", lambda each=each: self.switch_off(rule, class_id=each)))  # type: ignore[misc]
        for each in around.lessons[:MOST_OF_EACH]:
            title = plan.lesson_by_id[each].title
            choices.append((f"in {title}", lambda each=each: self.switch_off(rule, lesson=each)))  # type: ignore[misc]
        if not around.classes:
            choices.append(("for a class", lambda: self.choose_class(rule)))
        if not around.lessons:
            choices.append(("in a lesson", lambda: self.choose_lesson(rule)))
        choices.append(("until a day", lambda: self.ask_until(lambda until: self.switch_off(rule, until=until))))
        self.ask("Off:", choices)

    def offs(self, rule: Rule) -> tuple[SwitchedOff, ...]:
        return offs_of(rule.id, self.book.rules.off, self.date)

    def choose_class(self, rule: Rule) -> None:
        def offers(typed: str) -> list[Row]:
            return rows_of_classes(self.book.plan, self.trundle.recorder.day(self.date).visits, typed)

        title = f"{rule.title}: off for which class?"
        self.app.push_screen(
            ChoosingScreen(self.date, title, offers, lambda each: self.switch_off(rule, class_id=each))
        )

    def choose_lesson(self, rule: Rule) -> None:
        def offers(typed: str) -> list[Row]:
            known = [Row("matter", each.id, each.title) for each in self.book.plan.lessons]
            return [row for row in known if row.name.casefold().startswith(typed.casefold())]

        title = f"{rule.title}: off in which lesson?"
        self.app.push_screen(ChoosingScreen(self.date, title, offers, lambda each: self.switch_off(rule, lesson=each)))

    def ask_until(self, then: Callable[[date], None]) -> None:
        def take(typed: str) -> None:
            try:
                until = day_typed(typed, self.date)
            except CannotSwitch as problem:
                self.say(str(problem), alarm=True)
                return
            then(until)

        self.begin_typing("Off until which day? Like 30 oct, 10/30 or 30:", take)

    def switch_off(self, rule: Rule, *, class_id: str = "", lesson: str = "", until: date | None = None) -> None:
        """Switch it off; a safety rule only with a reason."""

        def with_reason(reason: str) -> None:
            try:
                since = self.trundle.now().date()
                off = switched_off(rule, class_id=class_id, lesson=lesson, until=until, reason=reason, since=since)
            except CannotSwitch as problem:
                self.say(f"{problem} It stays on.", alarm=True)
                return
            self.change(
                lambda: self.book.switch_off(off),
                lambda: self.book.switch_on(off),
                f"{rule.title}: off {say_scope(off, self.book.plan)}",
            )

        if rule.safety:
            self.say_safety(rule)
            self.begin_typing("Why? One line, then Enter:", with_reason)
        else:
            with_reason("")

    def say_safety(self, rule: Rule) -> None:
        from tui.widgets.rule_card import RuleCard

        self.query_one(RuleCard).tell(f"{rule.title}   safety rule", [("Before you switch it off", SAFETY)])

    def action_until(self) -> None:
        """Another last day for what is switched off."""
        off, rule = self.off, self.rule
        if off is None and rule is not None:
            every = self.offs(rule)
            off = every[0] if len(every) == 1 else None
        if off is None or rule is None or self.asked is not None or self.typing is not None:
            return
        before = off

        def then(until: date) -> None:
            after = structs.replace(before, until=until)
            self.change(
                lambda: self.replace_off(before, after),
                lambda: self.replace_off(after, before),
                f"{rule.title}: off {say_scope(after, self.book.plan)}",
            )

        self.ask_until(then)

    def replace_off(self, before: SwitchedOff, after: SwitchedOff) -> None:
        self.book.switch_off(after)
        self.book.switch_on(before)

    # ------------------------------------------------------------------------------------------------ switching on

    def action_switch_on(self) -> None:
        """On again: the switching off in hand, or every one of the rule in hand."""
        rule = self.rule
        if rule is None or self.asked is not None or self.typing is not None:
            return
        every = (self.off,) if self.off is not None else tuple(e for e in self.book.rules.off if e.rule == rule.id)
        if every:
            self.change(
                lambda: self.in_turn(self.book.switch_on, every),
                lambda: self.in_turn(self.book.switch_off, every),
                f"{rule.title}: on again",
            )
        elif rule.on:
            self.say(f"{rule.title} is on.")
        else:
            self.switch_on_built_in(rule)

    @staticmethod
    def in_turn(do: Callable[[SwitchedOff], None], every: tuple[SwitchedOff, ...]) -> None:
        for each in every:
            do(each)

    def switch_on_built_in(self, rule: Rule) -> None:
        """A rule that comes switched off: it is used from now on."""
        off = SwitchedOff(rule.id)
        self.change(lambda: self.book.switch_on(off), lambda: self.book.switch_off(off), f"{rule.title}: on")

    def action_take_out(self) -> None:
        """A rule of her own leaves the file; undo puts it back."""
        rule = self.rule
        if rule is None or self.asked is not None or self.typing is not None:
            return
        own = next((each for each in self.book.own_rules.rules if each.id == rule.id), None)
        if own is None:
            self.say("Only a rule of your own can be taken out. n switches this one off.")
            return
        self.change(
            lambda: self.book.take_rule_out(own.id), lambda: self.book.keep_rule(own), f"{rule.title}: taken out"
        )

    # ---------------------------------------------------------------------------------------------------- saving

    def change(self, do: Callable[[], None], take_back: Callable[[], None], said: str) -> None:
        """One change of the rules as a step; what follows today is counted in the message."""
        recorder, key = self.trundle.recorder, self.key_in_hand
        before = recorder.day(self.date)
        problem = recorder.change_plan(do, take_back, said)
        rule = self.rule
        self.show_rules(key if self.off is None else rule.id if rule is not None else key)
        if problem:
            self.say(problem, alarm=True)
            return
        follows = follows_in_short(self.book.plan, before, recorder.day(self.date), recorder.marks(self.date))
        self.say(f"{sentence(said)} {follows}")

    def action_undo(self) -> None:
        if self.asked is None and self.typing is None:
            self.take_back()

    def action_settings(self) -> None:
        if self.asked is None and self.typing is None:
            from tui.screens.rules_settings import SettingsScreen

            self.app.push_screen(SettingsScreen(self.date))
