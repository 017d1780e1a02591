"""A problem with something a person wrote: where, what is wrong, what to do. Problems are values, not exceptions."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct


class Problem(Struct, frozen=True):
    """One thing to put right.

    ``grave`` problems keep what was written from being used; "note" ones were read anyway and are only said.
    """

    file: str
    entry: str
    """Which entry of the file: "class 3-B", "supply white-12x18, spare". Empty: the file as a whole."""
    what: str
    to_do: str = ""
    line: int | None = None
    level: Literal["grave", "note"] = "grave"

    def __str__(self) -> str:
        place = self.file + (f", line {self.line}" if self.line is not None else "")
        said = f"{place}: {self.entry}: {self.what}" if self.entry else f"{place}: {self.what}"
        return f"{said} {self.to_do}".rstrip()
