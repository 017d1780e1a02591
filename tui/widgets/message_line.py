"""The line above the keys: a half-typed number, the choices of a half-done step, or what was done last."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from tui.widgets.band import Band


class MessageLine(Band):
    """One line of words, always there so that the list never moves. ``where`` stands at its end."""

    DEFAULT_CSS = "MessageLine { height: 1; padding: 0 1; background: $sheet; }"

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id)
        self.said = Content("")
        self.is_alone = False
        self.where = ""

    def say(self, text: str, *, alarm: bool = False) -> None:
        self.put(Content.assemble((text, "bold $alarm" if alarm else "")))

    def put(self, said: Content, *, alone: bool = False) -> None:
        """``alone``: it needs the whole line, so that nothing stands at its end."""
        self.said, self.is_alone = said, alone
        self.show((said, Content(self.where)) if self.where and not alone else said)

    def place(self, where: str) -> None:
        """Where the line in hand is, for windows too narrow for that column."""
        if where != self.where:
            self.where = where
            self.put(self.said, alone=self.is_alone)


def choice_rows(question: str, choices: Sequence[str], width: int) -> list[Content]:
    """A question with its choices by digit, in as many rows of so many cells as they need."""
    rows = [Content.assemble((question, "bold $ask"))]
    for digit, choice in enumerate(choices, start=1):
        offer = Content.assemble((str(digit), "bold"), f" {choice}")
        longer = Content(" " if digit == 1 else "  ").join([rows[-1], offer])
        if longer.cell_length > width:
            rows.append(offer)
        else:
            rows[-1] = longer
    return rows
