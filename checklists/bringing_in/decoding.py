"""Text from bytes of which nobody says how they were encoded.

A byte-order mark is believed; without one UTF-16 shows by its zeros, and what reads as UTF-8 is UTF-8. What is left is
the one-byte text of an older program: of Windows-1252 and Mac Roman the one in which the signs make words is taken.
"""

from __future__ import annotations

import codecs
import re

from msgspec import Struct

MARKS = (
    (codecs.BOM_UTF8, "utf-8", "UTF-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le", "UTF-32"),
    (codecs.BOM_UTF32_BE, "utf-32-be", "UTF-32"),
    (codecs.BOM_UTF16_LE, "utf-16-le", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16-be", "UTF-16"),
)
"""The mark at the beginning, how to read what follows, what it is called. UTF-32 before UTF-16: it begins like it."""

_LIKELY = frozenset("áàâäãåçéèêëíìîïñóòôöõúùûüÿœæßÁÀÂÄÅÇÉÈÊËÍÎÏÑÓÔÖÚÛÜ’‘“”–—…•·½¼¾°×ºª®™©\u00a0¢£€¡¿«»")
"""Signs of names and lists in American schools. What else either encoding makes of a byte is hardly ever meant."""
_ODD = re.compile("[a-z][ÁÀÂÄÃÅÇÉÈÊËÍÌÎÏÑÓÒÔÖÕÚÙÛÜ][a-z]|[a-z][–—•…®™©½¼¾°×·«»“¡¿][a-z]")
"""A capital within a word, or a sign that no word has: read in the wrong one of the two."""


class Decoded(Struct, frozen=True):
    """``guessed`` is the name of the encoding where it was guessed and matters, ``example`` a word to look at."""

    text: str
    guessed: str = ""
    example: str = ""


def read_text(content: bytes) -> Decoded:
    """The text in the bytes. Never raises: what stands for no sign becomes U+FFFD."""
    for mark, encoding, name in MARKS:
        if content.startswith(mark):
            return _strict_or(content[len(mark) :], encoding, name)
    if wide := _wide_without_mark(content):
        return Decoded(content.decode(wide, errors="replace"), "UTF-16")
    try:
        return Decoded(content.decode("utf-8"))
    except UnicodeDecodeError:
        return _one_byte(content)


def _strict_or(content: bytes, encoding: str, name: str) -> Decoded:
    """What a mark says; where it is not true everywhere, that is said."""
    try:
        return Decoded(content.decode(encoding))
    except UnicodeDecodeError:
        return Decoded(content.decode(encoding, errors="replace"), f"{name}, damaged in places")


def _wide_without_mark(content: bytes) -> str:
    """Every other byte of plain text in UTF-16 is zero."""
    sample = content[:2000]
    pairs = len(sample) // 2
    if pairs < 2:
        return ""
    high, low = sample[1::2].count(0), sample[0::2].count(0)
    if high > 0.6 * pairs and low < 0.1 * pairs:
        return "utf-16-le"
    return "utf-16-be" if low > 0.6 * pairs and high < 0.1 * pairs else ""


def _one_byte(content: bytes) -> Decoded:
    windows = content.decode("cp1252", errors="replace")
    mac = content.decode("mac-roman")
    is_mac = _unlikely(mac, content, only_mac=True) < _unlikely(windows, content, only_mac=False)
    text, name = (mac, "old Mac text (Mac Roman)") if is_mac else (windows, "Windows text (Windows-1252)")
    return Decoded(text, name, _word_with_a_sign(text))


def _unlikely(text: str, content: bytes, *, only_mac: bool) -> int:
    """How much speaks against having read it so. Lines that end as on an old Mac speak for Mac Roman."""
    signs = sum(not sign.isascii() and sign not in _LIKELY for sign in text)
    ends_as_on_mac = b"\r" in content and b"\n" not in content
    return 2 * signs + 3 * len(_ODD.findall(text)) + (ends_as_on_mac and not only_mac)


def _word_with_a_sign(text: str) -> str:
    return next((word for word in text[:200_000].split() if not word.isascii()), "")[:40]
