"""A lesson with other supplies and kits in the place of some of its own."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from checklists.plan.records import Item, Lesson, Part


def with_other_supplies(lesson: Lesson, other: Mapping[str, str], kits: Mapping[str, str] | None = None) -> Lesson:
    """The same lesson; ``other`` names for a supply what takes its place, or nothing: the item is left out then.

    ``kits`` does so for the kits that it uses.
    """
    kit_of = kits or {}

    def swapped(items: tuple[Item, ...]) -> tuple[Item, ...]:
        named = ((item, other.get(item.supply, item.supply)) for item in items)
        return tuple(
            replace(item, supply=supply, into=kit_of.get(item.into, item.into)) for item, supply in named if supply
        )

    def in_part(part: Part) -> Part:
        return replace(part, items=swapped(part.items), short_version=swapped(part.short_version))

    parts = tuple(in_part(each) for each in lesson.parts)
    used = tuple(kit_of.get(each, each) for each in lesson.kits)
    return replace(lesson, parts=parts, extension=swapped(lesson.extension), kits=used)
