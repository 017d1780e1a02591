"""How a part that was missed is made up: in full, in its short version, not at all, or not in this visit."""

from __future__ import annotations

from tests.references.second_look.plan import Table, items_meant_for


def tags_of(plan: Table, step: tuple[str, int]) -> set[str]:
    return set(plan["lessons"][step[0]]["parts"][step[1] - 1].get("tags", ()))


def way_to_make_up(plan: Table, visit: Table, lesson: str, number: int) -> str:
    """ "full", "short", "none", or "held" for a visit in which the same medium is out."""
    if lesson not in plan["lessons"] or number > len(plan["lessons"][lesson]["parts"]):
        return "none"
    part = plan["lessons"][lesson]["parts"][number - 1]
    way = str(part.get("catch_up", "by rule"))
    media = tags_of(plan, (lesson, number)) & plan["media"]
    if way != "by rule":
        return way
    if not media:
        return "full"
    if part.get("short_version"):
        return "short"
    here = {tag for step in visit["steps"] for tag in tags_of(plan, step)}
    return "full" if here & media else "held"


def to_make_up(plan: Table, visit: Table, lesson: str, number: int) -> list[Table]:
    """The items with which a missed part is made up during this visit; what the teacher shows is not among them."""
    way = way_to_make_up(plan, visit, lesson, number)
    if way in ("none", "held"):
        return []
    part = plan["lessons"][lesson]["parts"][number - 1]
    items = part.get("short_version", []) if way == "short" else part.get("items", [])
    return [item for item in items_meant_for(items, visit["class"]) if not item.get("demo")]
