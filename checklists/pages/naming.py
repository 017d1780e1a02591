"""What was renamed, and what uses a thing: as plain text and as fields."""

from __future__ import annotations

from checklists.pages.fields import Fields
from checklists.pages.plain import wrap
from checklists.plan.uses import Use
from checklists.words import plural


def rename_page(word: str, old: str, new: str, said: str, uses: tuple[Use, ...]) -> str:
    """What it is called now, where the name stands, and how it is called as before again."""
    where = f" The name stands in {plural(len(uses), 'place')}." if uses else ""
    told = f"{said}, in what was told of earlier days too.{where}"
    again = " ".join(f'"{each}"' if " " in each else each for each in (word, new, old))
    return "\n".join([*wrap(told), *wrap(f"trundle rename {again} calls it so again.")]) + "\n"


def uses_page(kind: str, name: str, uses: tuple[Use, ...]) -> str:
    """Each use on a line of its own."""
    if not uses:
        return f"Nothing uses the {kind} {name}.\n"
    rows = [row for each in uses for row in wrap(f"- {each.said}")]
    return "\n".join([f"{plural(len(uses), 'use')} of the {kind} {name}:", *rows]) + "\n"


def rename_as_json(kind: str, old: str, new: str, said: str, uses: tuple[Use, ...]) -> Fields:
    """The page "rename"."""
    return {"format": 1, "page": "rename", "kind": kind, "old": old, "new": new, "did": [said], "uses": _uses(uses)}


def uses_as_json(kind: str, name: str, uses: tuple[Use, ...]) -> Fields:
    """The page "uses"."""
    return {"format": 1, "page": "uses", "kind": kind, "name": name, "uses": _uses(uses)}


def _uses(uses: tuple[Use, ...]) -> list[Fields]:
    return [
        {
            "said": each.said,
            "file": each.file,
            "path": [] if each.is_private else list(each.path),
            "by_kind": each.by_kind,
            "by": "" if each.is_private else each.by,
        }
        for each in uses
    ]
