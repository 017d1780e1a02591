"""What a word processor does to a plan file, undone: its slanted quotes around texts become plain ones.

Slanted quotes inside a text that has plain quotes around it are her own words and stay.
"""

from __future__ import annotations

import re

_DOUBLE = "“”„‟«»"
_SINGLE = "‘’‚‛"
_SLANTED = _DOUBLE + _SINGLE
_WHOLE_TEXT = re.compile(r'"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'')
_LONG_TEXT = re.compile(r'"""(?:[^\\]|\\.)*?"""|\'\'\'.*?\'\'\'', re.DOTALL)
_AFTER_A_TEXT = re.compile(r"[ \t\u00a0]*(?:[,\]}#=.\r\n]|$)")


def with_plain_quotes(text: str) -> tuple[str, tuple[int, ...]]:
    """The text with plain quotes and plain spaces around its texts, and the numbers of the lines that were changed.

    No line is added or taken away.
    """
    done: list[str] = []
    changed: list[int] = []
    at = 0
    while at < len(text):
        piece, end, is_changed = _next_piece(text, at)
        done.append(piece)
        if is_changed:
            changed.append(text.count("\n", 0, at) + 1)
        at = end
    return "".join(done), tuple(dict.fromkeys(changed))


def _next_piece(text: str, at: int) -> tuple[str, int, bool]:
    """What stands at ``at`` as it should be written, where the next thing starts, and whether a quote was changed."""
    sign = text[at]
    if sign == "#":
        end = _line_end(text, at)
        return text[at:end], end, False
    if sign == "\u00a0":
        return " ", at + 1, False
    if sign in "\"'":
        whole = _LONG_TEXT.match(text, at) if text.startswith(sign * 3, at) else _WHOLE_TEXT.match(text, at)
        if whole is not None:
            return whole[0], whole.end(), False
        return _quoted(text, at, _SLANTED)
    if sign in _SLANTED:
        return _quoted(text, at, ('"' + _DOUBLE) if sign in _DOUBLE else ("'" + _SINGLE))
    return sign, at + 1, False


def _quoted(text: str, at: int, closing: str) -> tuple[str, int, bool]:
    """A text whose end is the first of the ``closing`` signs after which a value may end; else the sign as it is."""
    line_end = _line_end(text, at)
    for end in range(at + 1, line_end):
        if text[end] in closing and _AFTER_A_TEXT.match(text, end + 1):
            inside = text[at + 1 : end].replace("\\", "\\\\").replace('"', '\\"')
            return f'"{inside}"', end + 1, True
    return text[at], at + 1, False


def _line_end(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end
