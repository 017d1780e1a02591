"""A few lines of text across the screen: the base of the bars above and below the list."""

from __future__ import annotations

from itertools import zip_longest

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

Line = Content | tuple[Content, Content]
"""A text, or two at the two ends of the line."""


class Band(Widget):
    """Shows one ``Content`` a line, cut at the edge. Text in it is data: a band never reads markup."""

    DEFAULT_CSS = """
    Band { height: auto; width: 1fr; background: $board; color: $ink; }
    """

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id, markup=False)
        self._lines: tuple[Line, ...] = ()

    def show(self, *lines: Line) -> None:
        """Show these lines; the screen is laid out anew only when their number changes."""
        if any(is_other(old, new) for old, new in zip_longest(self._lines, lines)):
            is_taller = len(lines) != len(self._lines)
            self._lines = lines
            self.refresh(layout=is_taller)

    def render(self) -> Content:
        width = self.content_size.width
        return Content("\n").join([fitted(line, width) for line in self._lines])

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self._lines)


def is_other(old: Line | None, new: Line | None) -> bool:
    """Whether a line differs in text or in style: texts compare equal whatever their style is."""
    if old is None or new is None or isinstance(old, tuple) is not isinstance(new, tuple):
        return True
    if isinstance(old, tuple) and isinstance(new, tuple):
        return is_other(old[0], new[0]) or is_other(old[1], new[1])
    return isinstance(old, Content) and isinstance(new, Content) and (old, old.spans) != (new, new.spans)


def fitted(line: Line, width: int) -> Content:
    """The line in ``width`` cells."""
    return line.truncate(width, ellipsis=True) if isinstance(line, Content) else spread(*line, width)


def spread(left: Content, right: Content, width: int) -> Content:
    """Two texts at the two ends of a line; the left one is cut where there is not room for both."""
    room = max(0, width - right.cell_length - 2)
    return Content.assemble(left.truncate(room, ellipsis=True, pad=True), "  ", right)
