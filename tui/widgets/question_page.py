"""One question with everything it needs: the answers so far, how it is typed, what was understood, what Enter takes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from textual.content import Content
from textual.widget import Widget

MOST_ANSWERS = 5
ONE_COLUMN = 7
"""So many options stand one below the other; more of them side by side."""
INDENT = "  "


class Shown(NamedTuple):
    """What a page shows, in words. ``told`` is what was understood of the text typed, or why it cannot be taken."""

    heading: str
    text: str
    how: str
    answers: tuple[tuple[str, str], ...] = ()
    """Topic and answer, the newest last."""
    options: tuple[tuple[str, str], ...] = ()
    """What is typed for it, and what it is."""
    chosen: str = ""
    """The option the text typed stands for."""
    enter: str = ""
    """What Enter alone takes."""
    typed: str = ""
    told: str = ""
    is_wrong: bool = False
    alarm: str = ""
    """That an answer could not be kept."""


class QuestionPage(Widget):
    """Draws one ``Shown`` in whatever room there is; what was answered last gives way first. Text is data."""

    DEFAULT_CSS = "QuestionPage { height: 1fr; width: 1fr; background: $sheet; color: $ink; padding: 0 1; }"

    def __init__(self) -> None:
        super().__init__(markup=False)
        self.shown: Shown | None = None

    def show(self, shown: Shown) -> None:
        if shown != self.shown:
            self.shown = shown
            self.refresh()

    def render(self) -> Content:
        if self.shown is None:
            return Content("")
        return Content("\n").join(rows_of(self.shown, self.content_size.width, self.content_size.height))


def rows_of(shown: Shown, width: int, height: int) -> list[Content]:
    """The page in rows of so many cells, at most ``height`` of them where that can be."""
    heading = Content.assemble((shown.heading, "bold")).truncate(width, ellipsis=True)
    question = _wrapped(shown.text, "bold $ask", width)
    rows = [*question, *_wrapped(shown.how, "$quiet", width), *_option_rows(shown, width)]
    below = _below(shown, width)
    spaces = height - 1 - len(rows) - len(below)
    answers = _answer_rows(shown.answers, width, max(0, min(MOST_ANSWERS, spaces - 2)))
    spaces -= len(answers)
    gap = [Content("")]
    above = [heading, *answers, *(gap if spaces > 0 else [])]
    return [*above, *rows, *(gap if spaces > 1 else []), *below]


def _wrapped(text: str, style: str, width: int) -> list[Content]:
    return Content.assemble((text, style)).wrap(max(1, width)) if text else []


def _answer_rows(answers: Sequence[tuple[str, str]], width: int, most: int) -> list[Content]:
    """The last answers, one in a row, as far as there is room."""
    rows = [
        Content.assemble((f"{topic}: ", "$quiet"), answer) for topic, answer in answers[max(0, len(answers) - most) :]
    ]
    return [row.truncate(width, ellipsis=True) for row in rows] if most else []


def _option_rows(shown: Shown, width: int) -> list[Content]:
    """The options below one another, or in two columns where they are many."""
    drawn = []
    for key, label in shown.options:
        style = "reverse" if key == shown.chosen else ""
        drawn.append(Content.assemble((f"{key:>2}", "bold"), f"  {label}" if label != key else "").stylize(style))
    if all(label == key for key, label in shown.options):
        return _in_rows(drawn, width)
    if len(drawn) <= ONE_COLUMN:
        return [row for each in drawn for row in each.wrap(max(1, width))]
    half, room = (len(drawn) + 1) // 2, max(1, (width - 2) // 2)
    blank = Content("")
    left, right = drawn[:half], [*drawn[half:], *([blank] if len(drawn) % 2 else [])]
    return [
        Content.assemble(one.truncate(room, ellipsis=True, pad=True), INDENT, other.truncate(room, ellipsis=True))
        for one, other in zip(left, right, strict=True)
    ]


def _in_rows(drawn: Sequence[Content], width: int) -> list[Content]:
    return Content("  ").join(drawn).wrap(max(1, width)) if drawn else []


def _below(shown: Shown, width: int) -> list[Content]:
    """The text typed, and what it is taken for; with nothing typed what Enter takes."""
    typed = shown.typed
    while Content(f"> {typed}_").cell_length > width and typed:
        typed = typed[1:]
    rows = [Content.assemble(("> ", "bold"), (typed, "bold"), "_")]
    if shown.alarm:
        rows += _wrapped(shown.alarm, "bold $alarm", width)
    elif shown.typed:
        rows += _wrapped(shown.told, "$ask" if shown.is_wrong else "$ready", width)
    else:
        rows += _wrapped(shown.told, "$ask", width) if shown.is_wrong else []
        rows += _wrapped(f"Enter: {shown.enter}", "$ready", width) if shown.enter else []
    return rows
