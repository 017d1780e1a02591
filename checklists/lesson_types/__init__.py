"""Lesson types: usual lessons of the trade as data, each a start for a lesson of her own.

``types/*.toml`` are lesson files with a little more, ``supplies.toml`` and ``kits.toml`` what they need; ``shipped``
reads them, ``starting`` makes hers of one. What a type asks for by way of its tags, water or drying times, comes from
the rules and stands in none of these files, so that a number she changes there holds here as well.
"""

from checklists.lesson_types.shipped import LessonType, lesson_type, lesson_types
from checklists.lesson_types.starting import Started, start_from, what_enters

__all__ = ["LessonType", "Started", "lesson_type", "lesson_types", "start_from", "what_enters"]
