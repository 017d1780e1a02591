"""The day's visits in time order, each with its readiness."""

from __future__ import annotations

from typing import NamedTuple

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget


class VisitCell(NamedTuple):
    """One visit: how many of its lines are open, how many of these critical."""

    name: str
    time: str
    class_id: str
    room: str
    students: str
    open: int
    critical: int

    @property
    def readiness(self) -> str:
        critical = f", {self.critical}!" if self.critical else ""
        return f"{self.open} open{critical}" if self.open else "ready"

    @property
    def short_readiness(self) -> str:
        return f"{self.open}{'!' if self.critical else ''}" if self.open else "ok"

    @property
    def style(self) -> str:
        return "bold $alarm" if self.critical else "" if self.open else "$ready"


class VisitStrip(Widget):
    """Two rows across the screen, a cell for each visit; or, where there is height, one row for each visit."""

    DEFAULT_CSS = """
    VisitStrip { height: 2; width: 1fr; padding: 0 1; background: $sheet; color: $ink; }
    VisitStrip.tall { height: auto; background: $board; }
    """

    def __init__(self, *, id: str | None = None, tall: bool = False) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id, markup=False, classes="tall" if tall else None)
        self.cells: tuple[VisitCell, ...] = ()
        self._tall = tall

    def show(self, cells: tuple[VisitCell, ...]) -> None:
        if cells != self.cells:
            resized = len(cells) != len(self.cells)
            self.cells = cells
            self.refresh(layout=self._tall and resized)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(1, len(self.cells)) if self._tall else 2

    def render(self) -> Content:
        if not self.cells:
            return Content("No visits.")
        return self.render_tall() if self._tall else self.render_cells()

    def render_cells(self) -> Content:
        """Cells of one width; where they would get too narrow to read, the last one says how many more there are."""
        width = self.content_size.width
        fits = max(1, min(len(self.cells), width // 9))
        shown = self.cells if fits == len(self.cells) else self.cells[: fits - 1]
        cell = min(18, width // (len(shown) + (len(shown) < len(self.cells))))
        above, below = Content(""), Content("")
        for visit in shown:
            above += Content.assemble((f"{visit.name} {visit.class_id}"[: cell - 1].ljust(cell), "bold"))
            room = cell - len(visit.time) - 2
            said = visit.readiness if len(visit.readiness) <= room else visit.short_readiness
            below += Content.assemble(f"{visit.time} ", (said[:room].ljust(room + 1), visit.style))
        rest = self.cells[len(shown) :]
        if rest:
            above += Content(f"+{len(rest)} later"[:cell])
            critical = sum(visit.critical for visit in rest)
            below += Content.assemble((f"{critical}!" if critical else "", "bold $alarm"))
        return Content("\n").join([above, below])

    def render_tall(self) -> Content:
        rows = []
        for visit in self.cells:
            said = f"{visit.name} {visit.time:>5} {visit.class_id:<4} in {visit.room:<3} {visit.students:>3}"
            rows.append(Content.assemble(f"{said} ", (visit.readiness, visit.style)))
        return Content("\n").join([row.truncate(self.content_size.width, ellipsis=True) for row in rows])
