"""Children who missed much of a lesson: she is asked what to do, excuse, short version or at home."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checklists.daybook.state import State
from checklists.lines.catch_up import missed_often, part_of, say_owed
from checklists.lines.caution import make_caution
from checklists.lines.records import Because, Behind, Caution, Visit
from checklists.plan.records import Plan
from checklists.words import plural


def children_behind(plan: Plan, state: State, visits: Sequence[Visit]) -> tuple[Behind, ...]:
    """The children of the day's classes for whom nothing is decided yet, in order of visit and number."""
    found: dict[tuple[str, int, str], Behind] = {}
    for visit in visits:
        every = state.owed.get(visit.class_id, ())
        for lesson in dict.fromkeys(each.lesson for each in every):
            owed = tuple(each for each in every if each.lesson == lesson and not each.broken)
            for number in missed_often(owed):
                mine = [each for each in owed if number in each.numbers]
                parts = tuple(sorted(each.part for each in mine))
                known = [part_of(plan, lesson, part) for part in parts]
                found.setdefault(
                    (visit.class_id, number, lesson),
                    Behind(
                        visit=visit.key,
                        class_id=visit.class_id,
                        number=number,
                        lesson=lesson,
                        parts=parts,
                        said=f"owed: {say_owed(owed)}",
                        new=any(each.new for each in mine),
                        has_short=any(part is not None and part.short_version for part in known),
                    ),
                )
    return tuple(found.values())


def say_behind(plan: Plan, behind: Behind) -> str:
    """ "3-B, no. 11 has missed 3 parts of Burlap Birds"."""
    title = plan.title_of_lesson(behind.lesson)
    has = "is new and has to make up" if behind.new else "has missed"
    return f"{behind.class_id}, no. {behind.number} {has} {plural(len(behind.parts), 'part')} of {title}"


def cautions_of_behind(plan: Plan, state: State, behind: Sequence[Behind]) -> Iterator[Caution]:
    """One caution for each of them; it opens again when another part was missed."""
    for each in behind:
        text = f"{say_behind(plan, each)}: excuse, {'short version, ' if each.has_short else ''}or take home?"
        what, because = f"missed often/{each.number}", (Because(each.said, (each.visit,)),)
        yield make_caution(plan, state, each.class_id, each.visit, each.lesson, what, text, because)
