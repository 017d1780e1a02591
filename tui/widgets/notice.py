"""What must not be missed: sharps that are missing, what stands in the wrong place, questions, files with problems."""

from __future__ import annotations

from typing import NamedTuple

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from tui.widgets.band import spread

MOST = 4
"""Rows in all; what has no room is counted."""
LOW_MOST = 3
HIGH = 22
"""From this height of the window on there are ``MOST`` rows, below ``LOW_MOST``."""
FEW = 2
"""Rows up to which what is only to know is shown, too."""
ASKS = "?"


class Notice(NamedTuple):
    """One thing to know. ``sign`` tells the kind: "!" missing or a danger, "?" a question, "@" a place, "i" to know."""

    sign: str
    text: str
    critical: bool = False
    fresh: bool = True
    """False: known already, it is only counted."""
    end: str = ""
    """What must show however long the text is: the keys that answer it."""
    key: str = ""
    """Of the caution or decision it tells of, which can be asked why it is there."""

    @property
    def style(self) -> str:
        return "bold $alarm" if self.critical else "$ask" if self.sign in (ASKS, "@") else ""

    def rows(self, width: int, *, whole: bool) -> list[Content]:
        """In one row, cut at its end; a question, and every notice if ``whole``, in as many as it needs."""
        text, end = Content.assemble((f"{self.sign} {self.text}", self.style)), Content(self.end)
        fits = text.cell_length + (end.cell_length + 2 if self.end else 0) <= width
        if fits or not (whole or self.sign == ASKS):
            return [spread(text, end, width) if self.end else text.truncate(width, ellipsis=True)]
        rows = text.wrap(max(1, width))
        if not self.end:
            return rows
        if rows[-1].cell_length + end.cell_length + 2 <= width:
            return [*rows[:-1], spread(rows[-1], end, width)]
        return [*rows, spread(Content(""), end, width)]


class NoticeArea(Widget):
    """As many notices as there are rows for, the gravest kind first, the rest as a count."""

    DEFAULT_CSS = """
    NoticeArea { height: auto; width: 1fr; padding: 0 1; background: $sheet; color: $ink; }
    NoticeArea.whole { padding: 1; max-height: 14; border-top: solid $quiet; }
    """

    def __init__(self, *, id: str | None = None, most: int = MOST, few: int = FEW, whole: bool = False) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id, markup=False, classes="whole" if whole else None)
        self.notices: tuple[Notice, ...] = ()
        self.most = most
        self.few = few
        self.is_whole = whole

    def tell(self, notices: tuple[Notice, ...], *, question_first: bool = False) -> None:
        """``question_first``: she asked to see the question, so that it stands above everything else."""
        if question_first:
            notices = tuple(sorted(notices, key=lambda notice: notice.sign != ASKS))
        if notices != self.notices:
            before = len(self.laid_out(self.content_size.width)[0])
            self.notices = notices
            self.refresh(layout=len(self.laid_out(self.content_size.width)[0]) != before)

    @property
    def shows_question(self) -> bool:
        """Whether the question can be read in full where this area stands."""
        return self.laid_out(self.content_size.width)[1] and self.content_region.bottom <= self.screen.size.height

    def laid_out(self, width: int) -> tuple[list[Content], bool]:
        """The rows, and whether the question is among them."""
        rows: list[Content] = []
        free: list[int] = []
        left_out: list[Notice] = []
        has_question = False
        roomy = self.most if self.app.size.height >= HIGH else LOW_MOST
        for notice in self.notices:
            is_plain = notice.sign == "i" and not notice.critical
            drawn = notice.rows(width, whole=self.is_whole)
            if notice.fresh and (len(rows) + len(drawn) <= (self.few if is_plain else roomy) or not rows):
                rows += drawn
                free += [] if notice.end else [len(rows) - 1]
                has_question = has_question or notice.sign == ASKS
            else:
                left_out.append(notice)
        if not left_out:
            return rows, has_question
        critical = sum(notice.critical for notice in left_out)
        more = Content(f"i: {len(left_out)} more" + (f", {critical} critical" if critical else ""))
        if self.is_whole or not free:
            rows.append(more)
        else:
            rows[free[-1]] = spread(rows[free[-1]], more, width)
        return rows, has_question

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self.laid_out(width)[0])

    def render(self) -> Content:
        return Content("\n").join(self.laid_out(self.content_size.width)[0])
