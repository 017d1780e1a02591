"""A class as people write it: its grade, its id, and which class of the plan is meant.

"3-B", "3B", "Grade 3 B", "K-Smith", "Kinder A", "Pre-K", "Mrs. Hale 3rd", "301". How classes are written is common
practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from msgspec import Struct

from checklists.plan.records import SchoolClass, grade_number

LONGEST_ID = 60
_WORDS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
_TITLE = re.compile(r"\b(?:mr|mrs|ms|miss|mx|dr|prof|sra|sr|mme)\b\.?(?=\s|$)|['’]s\b", re.IGNORECASE)
_CLASS_WORD = re.compile(r"\b(?:class|homeroom|section|room of)\b", re.IGNORECASE)
_TWO_GRADES = re.compile(r"^\s*(pk|k|[1-8])\s*[/&+]\s*(k|[1-8])(?!\d)", re.IGNORECASE)
_NUMBERED = re.compile(r"^\s*(k|[1-8])\d\d\s*$", re.IGNORECASE)
_GRADE_MARKS = (
    ("PK", re.compile(r"\b(?:pre[\s-]*k(?:indergarten|inder)?|pk|p-k|tk)\b", re.IGNORECASE)),
    ("K", re.compile(r"\b(?:kindergarten|kinder|kdg|kg)\b", re.IGNORECASE)),
    ("", re.compile(r"\b(?:grade|gr|g)\.?\s*-?\s*(k|[1-8])(?!\d)", re.IGNORECASE)),
    ("", re.compile(r"\b([1-8])(?:st|nd|rd|th)\b(?:\s*(?:grade|graders?|gr\b\.?))?", re.IGNORECASE)),
    ("word", re.compile(rf"\b({'|'.join(_WORDS)})\b(?:\s*grade)?", re.IGNORECASE)),
    ("", re.compile(r"^\s*(k|[1-8])(?=$|[\s._/-]|[A-Za-z]{1,2}$)", re.IGNORECASE)),
    ("", re.compile(r"(?<=[\s._-])(k|[1-8])\s*$", re.IGNORECASE)),
)
_JOINTS = " \t.-_–—:,/#"
_IN_PARENTHESES = re.compile(r"\(([^()]*)\)")


class ClassName(Struct, frozen=True):
    """``grade`` is empty where the text does not say it."""

    id: str
    grade: str
    section: str = ""


def name_class(text: str, grade: str = "") -> ClassName:
    """The class that a text names; ``grade`` as another column says it, which counts before what the text says."""
    bare = " ".join(_CLASS_WORD.sub(" ", _TITLE.sub(" ", text)).split()).strip(_JOINTS)
    if two := _TWO_GRADES.match(bare):
        younger = min((two[1].upper(), two[2].upper()), key=grade_number)
        return _named(f"{two[1].upper()}-{two[2].upper()}", bare[two.end() :], grade or younger)
    if _NUMBERED.match(bare):
        return ClassName(bare.upper(), grade or bare[0].upper(), bare)
    found, section = _grade_in(bare)
    said = grade or found
    return _named(said, section if found and found == said else bare, said)


def _named(before: str, section: str, grade: str) -> ClassName:
    rest = " ".join(section.split()).strip(_JOINTS).replace("/", "-")
    if inside := _IN_PARENTHESES.fullmatch(rest):  # "Grade 3 (Hale)"
        rest = inside[1].strip(_JOINTS)
    rest = rest.upper() if len(rest) == 1 else rest
    ident = "-".join(each for each in (before, rest) if each)
    return ClassName(ident[:LONGEST_ID].strip(), grade, rest)


def _grade_in(text: str) -> tuple[str, str]:
    """The grade that a text says and what is left of it; ("", text) where it says none."""
    for meaning, pattern in _GRADE_MARKS:
        found = pattern.search(text)
        if found:
            said = meaning if meaning in ("PK", "K") else found[1]
            said = str(_WORDS.index(said.casefold()) + 1) if meaning == "word" else said.upper()
            return said, f"{text[: found.start()]} {text[found.end() :]}"
    return "", text


def read_grade(text: str) -> str:
    """The grade in a column of grades: "3", "3rd", "Grade 3", "Kindergarten", "0" for kindergarten; "" for none."""
    bare = text.strip()
    if bare in ("0", "00", "0K", "KG"):
        return "K"
    if re.fullmatch(r"0?[1-8](?:\.0)?", bare):
        return bare.removesuffix(".0").lstrip("0")
    grade, rest = _grade_in(bare)
    return grade if not rest.strip(_JOINTS + "gradeGRADE") else ""


class ClassesKnown:
    """The classes of a plan, found by what somebody calls them."""

    def __init__(self, classes: Iterable[SchoolClass]) -> None:
        self.by_id: dict[str, SchoolClass] = {}
        self._by_key: dict[str, set[str]] = {}
        self._by_section: dict[str, set[str]] = {}
        for each in classes:
            self.add(each)

    def add(self, class_: SchoolClass) -> None:
        if class_.id not in self.by_id:
            self._by_key.setdefault(_key(class_.id), set()).add(class_.id)
            section = _key(name_class(class_.id, class_.grade).section)
            if len(section) > 2:  # a name; letters are in every grade
                self._by_section.setdefault(section, set()).add(class_.id)
        self.by_id[class_.id] = class_

    def find(self, text: str, grade: str = "") -> SchoolClass | None:
        """The one class meant: by its id, the same written otherwise, or a teacher's name that only one class has."""
        if text in self.by_id:
            return self.by_id[text]
        name = name_class(text, grade)
        candidates = [self._by_key.get(_key(name.id), set())]
        if not grade:
            candidates += [self._by_key.get(_key(text), set())]
            candidates += [self._by_section.get(_key(name.section), set())] if not name.grade else []
        return next((self.by_id[min(ids)] for ids in candidates if len(ids) == 1), None)


def _key(text: str) -> str:
    return re.sub(r"[\W_]+", "", text.casefold())
