"""The two looks: "day" on paper white, "evening" on dark. A reader may change any colour here.

Every text colour stands on every ground with a contrast of at least 4.5:1 (WCAG 2.2, success criterion 1.4.3); a test
measures it.
"""

from __future__ import annotations

from textual.theme import Theme

GROUNDS = ("sheet", "board", "hand")
"""Grounds text stands on: the list, the bars above and below it, the row in hand."""
INKS = ("ink", "quiet", "alarm", "ask", "ready")
"""Colours of text: ordinary, settled, critical, asking, ready."""

DAY = {
    "sheet": "#fbf8f1",
    "board": "#eae4d6",
    "hand": "#d5e4e6",
    "ink": "#20252a",
    "quiet": "#50575e",
    "alarm": "#9c1220",
    "ask": "#6b4300",
    "ready": "#155a30",
}
EVENING = {
    "sheet": "#15181b",
    "board": "#23292d",
    "hand": "#264550",
    "ink": "#efebe2",
    "quiet": "#b3b8bc",
    "alarm": "#ffa69e",
    "ask": "#f4c76f",
    "ready": "#9ad8a8",
}


def theme_of(name: str, colours: dict[str, str], *, dark: bool) -> Theme:
    return Theme(
        name=name,
        primary=colours["ready"],
        warning=colours["ask"],
        error=colours["alarm"],
        foreground=colours["ink"],
        background=colours["sheet"],
        surface=colours["sheet"],
        panel=colours["board"],
        dark=dark,
        variables=colours,
    )


THEMES = (theme_of("day", DAY, dark=False), theme_of("evening", EVENING, dark=True))
