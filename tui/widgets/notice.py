"""What must not be missed: sharps that are missing, what stands in the wrong place, questions, files with problems."""

from __future__ import annotations

from typing import NamedTuple

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from tui.widgets.band import Band, Line

MOST = 4
"""Rows for critical notices; beyond that it says how many more there are."""
FEW = 2
"""Rows for what is not critical; the rest is a count."""


class Notice(NamedTuple):
    """One thing to know. ``sign`` tells the kind: "!" critical, "?" a question, "@" a place, "i" to know."""

    sign: str
    text: str
    critical: bool = False
    fresh: bool = True
    """False: known already, it is only counted."""
    end: str = ""
    """What must show however long the text is: the keys that answer it."""


class NoticeArea(Band):
    """Every critical notice in full, a few of the others, the rest as a count."""

    DEFAULT_CSS = """
    NoticeArea { padding: 0 1; background: $sheet; }
    NoticeArea.whole { padding: 1; max-height: 14; border-top: solid $quiet; }
    """

    def __init__(self, *, id: str | None = None, few: int = FEW, whole: bool = False) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id)
        self.few = few
        self.is_whole = whole
        self.set_class(whole, "whole")

    def tell(self, notices: tuple[Notice, ...]) -> None:
        critical = [notice for notice in notices if notice.critical]
        others = [notice for notice in notices if not notice.critical and notice.fresh]
        shown = critical[:MOST] + others[: max(0, self.few - len(critical))]
        rest = len(notices) - len(shown)
        critical_too = f", {len(critical) - MOST} critical" if len(critical) > MOST else ""
        lines: list[Line] = []
        for notice in shown:
            is_last = notice is shown[-1] and not self.is_whole
            ends = [notice.end, f"i: {rest} more{critical_too}" if rest and is_last else ""]
            text = Content.assemble((f"{notice.sign} {notice.text}", notice_style(notice)))
            end = "  ".join(end for end in ends if end)
            lines.append((text, Content(end)) if end else text)
        if rest and (self.is_whole or not shown):
            lines.append(Content(f"i: {rest} more to know about the day{critical_too}"))
        self.show(*lines)

    def render(self) -> Content:
        if not self.is_whole:
            return super().render()
        whole = [line if isinstance(line, Content) else Content("  ").join(line) for line in self._lines]
        return Content("\n").join(whole)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        if not self.is_whole:
            return super().get_content_height(container, viewport, width)
        return Widget.get_content_height(self, container, viewport, width)


def notice_style(notice: Notice) -> str:
    return "bold $alarm" if notice.critical else "$ask" if notice.sign in "?@" else ""
