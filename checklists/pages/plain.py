"""Plain text laid out for 80 columns: wrapping, two ends of a line, signs. Knows nothing of schools."""

from __future__ import annotations

import unicodedata

WIDTH = 80


def width_of(text: str) -> int:
    """Columns that a terminal gives the text: wide signs take two, combining ones none."""
    if text.isascii():
        return len(text)
    return sum(_columns(sign) for sign in text)


def _columns(sign: str) -> int:
    if unicodedata.combining(sign) or unicodedata.category(sign) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in ("W", "F") else 1


def pad(text: str, width: int) -> str:
    """The text with spaces behind it up to ``width`` columns; a longer text stays whole."""
    return text + " " * max(0, width - width_of(text))


def wrap(text: str, *, first: str = "", indent: int = 0, width: int = WIDTH) -> list[str]:
    """The text in lines of at most ``width`` columns, later ones indented. A word is cut only where it fills a line."""
    margin = " " * indent
    lines: list[str] = []
    line = first or margin
    used, empty = width_of(line), True
    for word in text.split():
        wide = width_of(word)
        if not empty and used + 1 + wide > width:
            lines.append(line)
            line, used, empty = margin, indent, True
        line += word if empty else f" {word}"
        used += wide + (not empty)
        empty = False
        while used > width:
            fits = max(len(margin) + 1, len(_beginning(line, width)))
            lines.append(line[:fits])
            line = margin + line[fits:]
            used = width_of(line)
    return [*lines, line] if line.strip() else lines


def _beginning(text: str, width: int) -> str:
    """As much of the text as goes into ``width`` columns."""
    while width_of(text) > width:
        text = text[: max(width // 2, len(text) - (width_of(text) - width + 1) // 2)]
    return text


def shorten(text: str, width: int) -> str:
    """The text in at most ``width`` columns; one that is longer ends in dots."""
    return text if width_of(text) <= width else _beginning(text, width - 3).rstrip() + "..."


def two_ends(left: str, right: str, width: int = WIDTH) -> str:
    """``left`` and ``right`` at the two ends of one line; on two lines where they do not fit."""
    gap = width - width_of(left) - width_of(right)
    return f"{left}{' ' * gap}{right}" if gap >= 2 else f"{left}\n{right:>{width}}"


def ruled(title: str, width: int = WIDTH) -> str:
    """A title with a rule behind it."""
    return f"{title} {'-' * max(3, width - width_of(title) - 1)}"
