"""What she has said so far in setting up: the texts, by question. Everything else follows from them."""

from __future__ import annotations

from msgspec import Struct


class Answers(Struct, frozen=True):
    """Question -> what was typed, or what Enter took, in the order it was first said.

    ``again`` is the question that she went back to; empty: the first one without an answer comes next. Nothing that was
    said is ever dropped: where it does not fit any more the question is asked again.
    """

    said: dict[str, str] = {}
    again: str = ""
