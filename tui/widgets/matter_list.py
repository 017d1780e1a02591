"""Open matters as rows, and below them what can be done about the one in hand."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from textual.content import Content

from checklists.daybook.matters import OpenMatter
from tui.rows import FOLD, Row
from tui.widgets.band import Band

FIRST_SIGNS = {"count": "=", "missed": "n"}
"""Where digits are typed, the first answer has a key of its own."""


def matter_rows(
    matters: Sequence[OpenMatter],
    heading_of: Callable[[OpenMatter], str],
    text_of: Callable[[OpenMatter], str],
    folded: frozenset[str],
) -> list[Row]:
    """A heading for each section and a row for each matter; what is folded away is one row at the section's end."""
    rows: list[Row] = []
    for section, of_section in groupby(matters, key=heading_of):
        rows += section_rows(section, list(of_section), text_of, folded)
    return rows


def section_rows(
    section: str, matters: list[OpenMatter], text_of: Callable[[OpenMatter], str], folded: frozenset[str]
) -> Iterator[Row]:
    shown = [matter for matter in matters if matter.key not in folded]
    away = len(matters) - len(shown)
    if not shown:
        yield Row("fold", fold_key(section), f"{section}: {away} answered", tone="quiet")
        return
    yield Row("heading", f"heading {section}", section, tone="heading")
    for matter in shown:
        yield Row(
            kind="matter",
            key=matter.key,
            name=text_of(matter),
            number=str(matter.number or ""),
            state=matter.answer,
            tone="quiet" if matter.answer else "critical" if matter.critical else "plain",
            critical=matter.critical and not matter.answer,
        )
    if away:
        yield Row("fold", fold_key(section), f"{away} answered", tone="quiet")


def fold_key(section: str) -> str:
    return f"{FOLD} {section}"


class ChoiceBar(Band):
    """What can be said about the matter in hand: its full text, the choices by key, and what is being typed."""

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
            hint = Content.assemble(("Typed: ", "$ask"), (f"{typed}_", "bold"), f"   Enter takes it ({matter.hint})")
            self.show(*rows, *hint.wrap(width))
            return
        row = Content("")
        for offer in offers_of(matter):
            longer = Content("   ").join([row, offer]) if row else offer
            if longer.cell_length > width and row:
                rows.append(row)
                longer = offer
            row = longer
        self.show(*rows, row)


def offers_of(matter: OpenMatter) -> list[Content]:
    """The answers with the key for each. Where digits are typed, none of them is an answer."""
    sign = FIRST_SIGNS.get(matter.typed)
    if sign is not None:
        label = matter.choices[0].label.removeprefix(f"{sign} ")
        hint = matter.hint.partition(f", or {sign}")[0]
        later = [Content.assemble(("l", "bold"), " later")] if matter.typed == "count" and matter.choices[1:] else []
        first = Content.assemble((sign, "bold"), f" {label}")
        return [first, *later, Content(f"or type {hint}, then Enter")]
    offers = [
        Content.assemble((str(digit), "bold"), f" {choice.label}")
        for digit, choice in enumerate(matter.choices[:9], start=1)
    ]
    if matter.typed:
        offers.append(Content.assemble(("Space", "bold"), f" {matter.hint or 'type it'}"))
    return offers
