"""What is known of a class, as plain text and as fields for scripts. Needs and what is avoided only where asked for."""

from __future__ import annotations

from checklists.daybook.class_list import say_size
from checklists.pages.fields import Fields
from checklists.pages.plain import two_ends, wrap
from checklists.plan.records import Plan, SchoolClass
from checklists.words import join_words, plural, say_room


def say_place(each: SchoolClass) -> str:
    """ "grade 3, Room 12, 24 children, 6 tables, 1 adult"."""
    grade = {"K": "kindergarten", "PK": "pre-kindergarten"}.get(each.grade, f"grade {each.grade}")
    return ", ".join(
        (grade, say_room(each.room), say_size(each), plural(each.tables, "table"), plural(each.adults, "adult"))
    )


def count_private(each: SchoolClass) -> int:
    """How many notes tell of a child's need."""
    return len(each.needs) + len(each.avoid)


def class_page(plan: Plan, each: SchoolClass, *, private: bool) -> str:
    """What is known of a class."""
    parts = [two_ends(each.id, "private: not for a wall" if private else "")] if private else [each.id]
    parts += wrap(say_place(each)[:1].upper() + say_place(each)[1:] + ".", indent=2)
    if each.left:
        numbers = join_words(str(number) for number in each.left)
        parts += wrap(f"Left: class-list {'number' if len(each.left) == 1 else 'numbers'} {numbers}.", indent=2)
    if each.has:
        parts += wrap(f"Has of its own: {join_words(name_of_supply(plan, word) for word in each.has)}.", indent=2)
    hidden = count_private(each)
    if private:
        if each.avoid:
            parts += wrap(f"Avoids: {join_words(name_of_supply(plan, word) for word in each.avoid)}.", indent=2)
        for need in each.needs:
            tables = join_words(str(table) for table in need.tables)
            where = f", {'table' if len(need.tables) == 1 else 'tables'} {tables}" if tables else ""
            parts += wrap(f"Need {need.need}: {plural(need.count, 'child')}{where}.", indent=2)
        if not hidden:
            parts.append("  No needs, and nothing to avoid.")
    elif hidden:
        parts += wrap(f"{plural(hidden, 'note')} about needs and things to avoid: --private shows them.", indent=2)
    return "\n".join(parts) + "\n"


def class_fields(each: SchoolClass, *, private: bool) -> Fields:
    """``class grade room students about tables adults left has private_left_out``, and ``avoid`` and ``needs`` (``need
    count tables``) where the private things were asked for."""
    fields: Fields = {
        "class": each.id,
        "grade": each.grade,
        "room": each.room,
        "students": each.headcount,
        "about": each.is_about,
        "tables": each.tables,
        "adults": each.adults,
        "left": list(each.left),
        "has": list(each.has),
        "private_left_out": 0 if private else count_private(each),
    }
    if private:
        fields["avoid"] = list(each.avoid)
        fields["needs"] = [{"need": n.need, "count": n.count, "tables": list(n.tables)} for n in each.needs]
    return fields


def name_of_supply(plan: Plan, word: str) -> str:
    """A supply's name; a mark as it is written."""
    known = plan.supply_by_id.get(word)
    return known.name if known is not None else word.replace("-", " ")
