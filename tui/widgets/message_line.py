"""The line above the keys: a half-typed number, the choices of a half-done step, or what was done last."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from tui.widgets.band import Band


class MessageLine(Band):
    """One line of words, always there so that the list never moves."""

    DEFAULT_CSS = "MessageLine { height: 1; padding: 0 1; background: $sheet; }"

    def say(self, text: str, *, alarm: bool = False) -> None:
        self.show(Content.assemble((text, "bold $alarm" if alarm else "")))

    def ask(self, question: str, choices: Sequence[str]) -> None:
        """A question with choices by digit."""
        parts: list[tuple[str, str] | str] = [(question, "bold $ask")]
        for digit, choice in enumerate(choices, start=1):
            parts += ["  ", (str(digit), "bold"), f" {choice}"]
        self.show(Content.assemble(*parts))
