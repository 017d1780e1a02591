"""The day's visits in time order, each with its readiness."""

from __future__ import annotations

from typing import NamedTuple

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from tui.wording import ready_text

LEAST_CELL = 9
"""Narrower cells cannot be read: then the last one says how many more there are."""
WIDEST_CELL = 22
BESIDE = 19
"""From this width of a cell on the readiness stands beside the time, below it else."""


class VisitCell(NamedTuple):
    """One visit: how many of its lines are open, how many of these critical, how many came up short."""

    name: str
    time: str
    class_id: str
    room: str
    students: str
    open: int
    critical: int
    short: int
    undecided: bool = False
    """It cannot be taught as things are: nothing is packed for it until she has chosen."""

    @property
    def readiness(self) -> tuple[str, ...]:
        """In words and ever fewer of them. A number with "!" counts what is critical, and only that."""
        if self.undecided:
            return ("to decide !", "decide!")
        if not self.open:
            return (ready_text(self.short), f"{self.short} short") if self.short else ("ready",)
        if not self.critical:
            return (f"{self.open} open",)
        return (
            f"{self.open} open {self.critical}!",
            f"{self.open} {self.critical}!",
            f"{self.critical}!",
        )

    def readiness_in(self, width: int) -> str:
        return next((said for said in self.readiness if len(said) <= width), self.readiness[-1])

    @property
    def style(self) -> str:
        return "bold $alarm" if self.critical or self.undecided else "" if self.open else "$ready"


class VisitStrip(Widget):
    """Across the screen, a cell for each visit; or, where there is height, one row for each visit."""

    DEFAULT_CSS = """
    VisitStrip { height: auto; width: 1fr; padding: 0 1; background: $sheet; color: $ink; }
    VisitStrip.tall { background: $board; }
    """

    def __init__(self, *, id: str | None = None, tall: bool = False) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id, markup=False, classes="tall" if tall else None)
        self.cells: tuple[VisitCell, ...] = ()
        self._tall = tall

    def show(self, cells: tuple[VisitCell, ...]) -> None:
        if cells != self.cells:
            resized = len(cells) != len(self.cells)
            self.cells = cells
            self.refresh(layout=resized)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        if self._tall or not self.cells:
            return max(1, len(self.cells))
        return 2 if self.cell_width(width) >= BESIDE else 3

    def render(self) -> Content:
        if not self.cells:
            return Content("No visits.")
        return self.render_tall() if self._tall else self.render_cells()

    def shown_in(self, width: int) -> tuple[VisitCell, ...]:
        fits = max(1, min(len(self.cells), width // LEAST_CELL))
        return self.cells if fits == len(self.cells) else self.cells[: fits - 1]

    def cell_width(self, width: int) -> int:
        shown = len(self.shown_in(width))
        return min(WIDEST_CELL, width // max(1, shown + (shown < len(self.cells))))

    def render_cells(self) -> Content:
        """Cells of one width; where they would get too narrow to read, the last one says how many more there are."""
        width = self.content_size.width
        shown, cell = self.shown_in(width), self.cell_width(width)
        names, times, states = Content(""), Content(""), Content("")
        for visit in shown:
            names += Content.assemble((f"{visit.name} {visit.class_id}"[: cell - 1].ljust(cell), "bold"))
            room = cell - 1 - (len("12:10 ") if cell >= BESIDE else 0)
            said = (visit.readiness_in(room)[:room].ljust(room + 1), visit.style)
            times += Content(f"{visit.time:<5} " if cell >= BESIDE else visit.time.ljust(cell))
            if cell >= BESIDE:
                times += Content.assemble(said)
            else:
                states += Content.assemble(said)
        rest = self.cells[len(shown) :]
        if rest:
            names += Content(f"+{len(rest)} later"[:cell])
            critical = sum(visit.critical + visit.undecided for visit in rest)
            states += Content.assemble((f"{critical}!" if critical else "", "bold $alarm"))
        return Content("\n").join([names, times] if cell >= BESIDE else [names, times, states])

    def render_tall(self) -> Content:
        rows = []
        for visit in self.cells:
            said = f"{visit.name} {visit.time:>5} {visit.class_id:<4} in {visit.room:<3} {visit.students:>3} "
            state = visit.readiness_in(max(4, self.content_size.width - len(said)))
            rows.append(Content.assemble(said, (state, visit.style)))
        return Content("\n").join([row.truncate(self.content_size.width, ellipsis=True) for row in rows])
