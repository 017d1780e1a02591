"""The two lines on top: which day this is, when to leave, how much is still to do."""

from __future__ import annotations

from typing import NamedTuple

from textual.content import Content

from tui.widgets.band import Band, spread


class Head(NamedTuple):
    """What the head bar says, in words."""

    date: str
    day: str
    other_day: str
    """ "tomorrow" or "" where the list is the day she opened on."""
    clock: str
    leave: str
    is_late: bool
    open: int
    critical: int
    is_empty: bool
    packing: str
    unsaved: int


class HeadBar(Band):
    """Date, day, bells, clock, leave by; open and critical counts and the minutes of packing that are left."""

    DEFAULT_CSS = "HeadBar { height: 2; padding: 0 1; }"

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id)
        self.head: Head | None = None

    def tell(self, head: Head) -> None:
        self.head = head
        self.refresh()

    def render(self) -> Content:
        if self.head is None:
            return Content("")
        head, width = self.head, self.content_size.width
        day = Content.assemble((head.date, "bold"), "  ", head.day)
        if head.other_day:
            day = Content.assemble((head.other_day, "reverse"), "  ", day)
        leave = Content.assemble(head.clock, "   ", (head.leave, "bold $alarm" if head.is_late else "bold"))
        if head.is_empty:
            todo = Content("nothing to pack")
        elif head.open == 0:
            todo = Content.assemble(("everything is packed", "bold $ready"))
        else:
            critical = (f"{head.critical} critical", "bold $alarm") if head.critical else ("nothing critical", "$ready")
            todo = Content.assemble((f"{head.open} open", "bold"), ", ", critical)
        packing = Content(head.packing)
        if head.unsaved:  # in the place of the minutes: nothing matters more
            packing = Content.assemble((f"{head.unsaved} not saved: t tries again", "bold reverse $alarm"))
        return Content("\n").join([spread(day, leave, width), spread(todo, packing, width)])
