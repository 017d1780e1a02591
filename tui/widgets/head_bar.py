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
    filled: str
    """For how long the containers are filled: "for the week: "; empty for the day alone."""
    open: int
    """Lines to pack."""
    critical: int
    later: int
    """Lines to pack that wait for a later stop at the store."""
    to_do: int
    to_decide: int
    short: int
    is_empty: bool
    """Nothing is on the list, or no stop at the store is to come any more."""
    packing: str
    preparing: str
    unsaved: int


class HeadBar(Band):
    """Date, day, bells, clock, leave by; how much is to pack and to do, and the minutes that takes."""

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
        todo, minutes = waiting_text(head), minutes_text(head)
        fitting = next((each for each in minutes if todo.cell_length + each.cell_length + 2 <= width), minutes[-1])
        return Content("\n").join([spread(day, leave, width), spread(todo, fitting, width)])


def waiting_text(head: Head) -> Content:
    """ "1 to decide; 35 to pack, 15 critical; 9 to do"."""
    decide = Content.assemble((f"{head.to_decide} to decide", "bold $alarm"), "; ") if head.to_decide else Content("")
    return Content.assemble(decide, head.filled, packing_text(head))


def packing_text(head: Head) -> Content:
    """The lines to pack and what there is to do besides."""
    to_do = f"; {head.later} for later" if head.later else ""
    to_do += f"; {head.to_do} to do" if head.to_do else ""
    if head.is_empty:
        return Content(f"nothing to pack{to_do}")
    if not head.open:
        short = f", {head.short} short" if head.short else ""
        return Content.assemble((f"everything is packed{short}", "bold $ready"), to_do)
    critical = (f"{head.critical} critical", "bold $alarm") if head.critical else ("nothing critical", "$ready")
    return Content.assemble((f"{head.open} to pack", "bold"), ", ", critical, to_do)


def minutes_text(head: Head) -> list[Content]:
    """Packing and, less loud, preparing; then only the packing, for where there is no room for both."""
    if head.unsaved:  # in the place of the minutes: nothing matters more
        return [Content.assemble((f"{head.unsaved} not saved: Tab 1 tries again", "bold reverse $alarm"))]
    packing = Content.assemble((head.packing, "bold"))
    if not head.preparing:
        return [packing]
    between = "  " if head.packing else ""
    return [Content.assemble((head.packing, "bold"), between, (head.preparing, "$quiet")), packing]
