"""The yardstick for the screens: a bare Textual program that paints a head, a list of 150 rows and a foot."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.widgets import Footer, Header, OptionList


class Yard(App[None]):
    def compose(self) -> ComposeResult:
        yield Header()
        yield OptionList(*[f"line {number}" for number in range(150)], markup=False)
        yield Footer()


if __name__ == "__main__":
    Yard().run()
