"""Two versions of a day side by side, as text and as JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from checklists.daybook.two_versions import Comparison, Difference
from checklists.files.second_versions import Version
from checklists.pages.fields import Fields, problem_fields
from checklists.pages.plain import WIDTH, pad, ruled, wrap
from checklists.words import plural, say_full_date

if TYPE_CHECKING:
    from checklists.versions import Merged

HERE, THERE = "in this folder", "in the other version"
NOTHING = "-"
GAP = "  "
Compared = tuple[Version, Comparison | None]
"""A version, and what it has and has not; None where it cannot be read."""


def versions_page(found: Iterable[Compared]) -> str:
    """Every second version of a day, side by side with the day as it is told here."""
    parts: list[str] = []
    for version, comparison in found:
        parts += [
            ruled(f"TWO VERSIONS OF {say_full_date(version.day)}"),
            *wrap(version.said, first="The other: ", indent=2),
        ]
        parts += [row for each in version.problems for row in wrap(str(each), first="  ! ", indent=4)]
        if comparison is not None:
            parts += comparison_rows(comparison, WIDTH)
            parts.append(f"To merge the two: trundle versions --merge --date {version.day}")
        parts.append("")
    if not parts:
        return "There is one version of every day.\n"
    return "\n".join(parts) + "\n"


def comparison_rows(comparison: Comparison, width: int) -> list[str]:
    """What differs in two columns; one under the other where the page is narrow."""
    if not comparison.differences:
        return [f"Both say the same ({plural(comparison.same, 'thing')}). Merging only sets the other aside."]
    rows = [f"{plural(len(comparison.differences), 'thing')} not in both alike, {comparison.same} alike."]
    is_wide = width >= MOST_NARROW
    half = (width - len(GAP)) // 2
    if is_wide:
        rows += [pad(HERE.upper(), half) + GAP + THERE.upper()]
    for each in comparison.differences:
        rows += _side_by_side(each, half) if is_wide else _one_under_the_other(each, width)
    rows += [row for each in comparison.said_twice for row in wrap(f"Said in both, counts twice once merged: {each}")]
    return rows


MOST_NARROW = 72
"""From this width on there is room for two columns."""


def _side_by_side(each: Difference, half: int) -> list[str]:
    here = wrap(_marked(each, "here"), indent=2, width=half) or [NOTHING]
    there = wrap(_marked(each, "there"), indent=2, width=half) or [NOTHING]
    here[0], there[0] = here[0].strip(), there[0].strip()
    rows = max(len(here), len(there))
    pairs = zip(here + [""] * (rows - len(here)), there + [""] * (rows - len(there)), strict=True)
    return [f"{pad(one, half)}{GAP}{other}".rstrip() for one, other in pairs]


def _one_under_the_other(each: Difference, width: int) -> list[str]:
    rows = [f"{plain_title(each)}:"]
    for said, name in ((_marked(each, "here"), HERE), (_marked(each, "there"), THERE)):
        if said != NOTHING:
            rows += wrap(f"{name}: {said}", first="  ", indent=4, width=width)
    return rows


def plain_title(each: Difference) -> str:
    """What kind of difference it is: "Only here"."""
    return each.where.capitalize()


def _marked(each: Difference, side: str) -> str:
    """What a version says; where both do, the word that stands once merged is marked."""
    said = each.here if side == "here" else each.there
    newer = " (newer: stands)" if each.where == "different" and each.newer == side else ""
    return f"{said}{newer}" if said else NOTHING


# -------------------------------------------------------------------------------------------------------- as JSON


def versions_as_json(found: Iterable[Compared]) -> Fields:
    """The page "versions".

    ``versions``: of each ``date``, ``files``, ``can_be_merged``, ``problems``, ``same`` (a count), ``said_twice`` in
    words and ``differences`` with ``where`` ("only here", "only there", "different"), ``here`` and ``there`` in words
    (empty where it has nothing) and ``newer`` ("here", "there"): the word that stands once merged.
    """
    return {"format": 1, "page": "versions", "versions": [_version_fields(*each) for each in found]}


def _version_fields(version: Version, comparison: Comparison | None) -> Fields:
    told: tuple[Difference, ...] = comparison.differences if comparison is not None else ()
    differences: list[dict[str, Any]] = [
        {"where": each.where, "here": each.here, "there": each.there, "newer": each.newer} for each in told
    ]
    return {
        "date": version.day.isoformat(),
        "files": list(version.names),
        "can_be_merged": version.record is not None,
        "problems": [problem_fields(each) for each in version.problems],
        "same": comparison.same if comparison is not None else None,
        "differences": differences,
        "said_twice": list(comparison.said_twice) if comparison is not None else [],
    }


def merged_as_json(merged: Merged) -> Fields:
    """The page "versions" after merging: ``date``, ``did`` in words, ``came_in`` (a count), ``set_aside``, ``kept``."""
    return {
        "format": 1,
        "page": "versions",
        "date": merged.day.isoformat(),
        "did": list(merged.said),
        "came_in": len(merged.came_in),
        "set_aside": list(merged.set_aside),
        "kept": merged.kept,
    }
