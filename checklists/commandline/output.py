"""Writing to a terminal, a file or a pipe of any encoding, without ever failing on a sign it does not have.

Whatever text it was made of, nothing is written that a terminal obeys.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import Any, TextIO

from checklists.words import clean

# What a typewriter would put: for terminals and files that cannot take the sign itself.
_PLAINER = str.maketrans(
    {
        "×": "x",
        "–": "-",
        "—": "-",
        "−": "-",
        "’": "'",
        "‘": "'",
        "“": '"',
        "”": '"',
        "…": "...",
        "·": ".",
        "•": "-",
        "→": "->",
        "≤": "<=",
        "≥": ">=",
        "≈": "about ",
        "½": "1/2",
        "²": "2",
        "³": "3",
        "\u00a0": " ",
        "\u202f": " ",
    }
)


def say(text: str) -> None:
    """Write to standard output and hand it on at once, so that a closed pipe shows here."""
    _write(sys.stdout, text)


def say_pages(pages: Iterable[str]) -> None:
    """Write pages, each but the first behind a form feed: a printer takes another sheet of paper there."""
    for n, page in enumerate(pages):
        _write(sys.stdout, page, before="\f" if n else "")


def complain(text: str) -> None:
    """Write to standard error."""
    _write(sys.stderr, text)


def say_json(fields: dict[str, Any]) -> None:
    """Write an object as JSON, indented, in signs that every encoding has."""
    import json  # only where it was asked for: plain pages start faster without it

    say(json.dumps(fields, indent=2) + "\n")


def _write(stream: TextIO | None, text: str, before: str = "") -> None:
    if stream is None:  # started without a console
        return
    text = "\n".join(clean(line) for line in text.split("\n"))
    encoding = stream.encoding or "utf-8"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        text = text.translate(_PLAINER).encode(encoding, errors="replace").decode(encoding)
    stream.write(before + text)
    stream.flush()
