"""Open matters as rows, and below them what can be done about the one in hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual.content import Content

from checklists.daybook.matters import OpenMatter
from tui.rows import Row
from tui.widgets.band import Band


def matter_rows(matters: Sequence[OpenMatter], heading_of: Callable[[OpenMatter], str]) -> list[Row]:
    """A heading wherever it changes, a row for each matter; what was answered is quiet and says the answer."""
    rows: list[Row] = []
    section = ""
    for matter in matters:
        if heading_of(matter) != section:
            section = heading_of(matter)
            rows.append(Row("heading", f"heading {section}", section, tone="heading"))
        rows.append(
            Row(
                kind="matter",
                key=matter.key,
                name=matter.text,
                number=str(matter.number or ""),
                state=matter.answer,
                tone="quiet" if matter.answer else "critical" if matter.critical else "plain",
                critical=matter.critical and not matter.answer,
            )
        )
    return rows


class ChoiceBar(Band):
    """What can be said about the matter in hand: its full text, the choices by digit, and what is being typed."""

    DEFAULT_CSS = "ChoiceBar { height: 5; padding: 0 1; background: $hand; }"

    def tell(self, matter: OpenMatter | None, typed: str | None) -> None:
        """``typed`` is None while nothing is being typed."""
        if matter is None:
            self.show()
            return
        width = max(20, self.content_size.width)
        said = Content.assemble((matter.text, "bold"), f"   said: {matter.answer}" if matter.answer else "")
        rows = said.wrap(width)[:2]
        if typed is not None:
            said = Content(f"   Enter takes it ({matter.hint})")
            rows.append(
                Content.assemble(("Typed: ", "$ask"), (f"{typed}_", "bold"), f"   Enter takes it ({matter.hint})")
            )
        row = Content("")
        offers = [
            Content.assemble((str(digit), "bold"), f" {choice.label}")
            for digit, choice in enumerate(matter.choices[:9], start=1)
        ]
        if matter.typed and typed is None:
            offers.append(Content.assemble(("Space", "bold"), f" {matter.hint or 'type it'}"))
        for offer in offers:
            longer = Content("   ").join([row, offer]) if row else offer
            if longer.cell_length > width and row:
                rows.append(row)
                longer = offer
            row = longer
        self.show(*rows, row)
