"""The plan folder: the files a person wrote, read to one plan, with everything that is wrong in any of them.

    school.toml  classes.toml  supplies.toml  kits.toml  rules.toml  lessons/burlap-birds.toml …

school.toml and classes.toml must be there. A file that does not read never stops the morning: the last plan that read
well is used then, as a whole.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any, TypeVar

import msgspec
from msgspec import Struct

from checklists import rules
from checklists.files.last_good import LastGood, Stamp, keep_last_good, read_last_good
from checklists.files.toml_text import read_toml
from checklists.files.typed import records_from
from checklists.plan.records import Classes, Kits, Lesson, Plan, School, Supplies, Supply
from checklists.problems import Problem
from checklists.rules.records import RuleFile
from checklists.words import clean, nearest

SCHOOL, CLASSES, SUPPLIES, KITS, RULES, LESSONS = (
    "school.toml",
    "classes.toml",
    "supplies.toml",
    "kits.toml",
    "rules.toml",
    "lessons",
)
FORMAT = 1
_FILES = (SCHOOL, CLASSES, SUPPLIES, KITS, RULES)
_NEEDED = (SCHOOL, CLASSES)

T = TypeVar("T")

_COPY = re.compile(r"^(?: ?\(.*\)|[ .~_-]+(?:sync-)?conflict.*|[ _-]+(?:copy|kopie|copie)\b.*| \d+)$", re.IGNORECASE)


class PlanRead(Struct, frozen=True):
    """A plan folder as read. ``plan`` is None where it has grave problems and no last good plan is there.

    ``newer_format``: written by a newer version; look, but do not write.
    """

    plan: Plan | None
    own_rules: RuleFile
    rules: Any
    problems: tuple[Problem, ...] = ()
    from_last_good: bool = False
    newer_format: bool = False


def read_plan(folder: Path) -> PlanRead:
    """Read a plan folder. Never raises; every problem of every file is told at once."""
    stamps = stamps_of(folder)
    good = read_last_good(folder, stamps)
    if good is not None:
        return _with_rules(good)
    reading = _Reading(folder)
    good = reading.read()
    if good is not None:
        read = _with_rules(good)
        if not _any_grave(read.problems):
            if not reading.newer:
                keep_last_good(folder, stamps, good)
            return msgspec.structs.replace(read, newer_format=reading.newer)
        reading.problems = list(read.problems)
    problems = tuple(reading.problems)
    good = read_last_good(folder)
    if good is None:
        return PlanRead(None, RuleFile(), None, problems, newer_format=reading.newer)
    read = _with_rules(good)
    return msgspec.structs.replace(read, problems=problems, from_last_good=True, newer_format=reading.newer)


def stamps_of(folder: Path) -> tuple[Stamp, ...]:
    """Name, size and time of change of every plan file, and of the rules and supplies that come with the program."""
    found = [(name, folder / name) for name in _FILES]
    found += [(f"{LESSONS}/{path.name}", path) for path in _toml_files(folder / LESSONS)]
    found += [(f"built in/{path.name}", path) for path in _toml_files(Path(rules.__file__).parent / "builtin")]
    stamps = []
    for name, path in found:
        try:
            state = path.stat()
        except OSError:
            continue
        stamps.append(Stamp(name, state.st_size, state.st_mtime_ns))
    return tuple(stamps)


def _with_rules(good: LastGood) -> PlanRead:
    try:
        from checklists.rules.read import builtin_rules, compile_rules
    except ImportError:
        return PlanRead(good.plan, good.own_rules, None, good.notes)

    compiled, problems = compile_rules(builtin_rules(), good.own_rules, supplies=good.plan.supplies, file=RULES)
    return PlanRead(good.plan, good.own_rules, compiled, good.notes + problems)


def _any_grave(problems: Iterable[Problem]) -> bool:
    return any(each.level == "grave" for each in problems)


def _toml_files(folder: Path) -> list[Path]:
    """Files to read in a folder, in order of name; hidden ones and earlier versions are not."""
    try:
        return sorted(each for each in folder.iterdir() if each.suffix == ".toml" and not each.name.startswith("."))
    except OSError:
        return []


class _Reading:
    """One reading of a folder, with the problems found so far."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.problems: list[Problem] = []
        self.texts: dict[str, str] = {}
        self.newer = False

    def read(self) -> LastGood | None:
        """The plan with its notes; None where a problem is grave."""
        if not self.folder.is_dir():
            self._tell(str(self.folder), "There is no such folder.", "Choose the folder that has school.toml in it.")
            return None
        school = self._read(SCHOOL, School)
        classes = self._read(CLASSES, Classes)
        supplies = self._read(SUPPLIES, Supplies) or Supplies()
        kits = self._read(KITS, Kits) or Kits()
        own_rules = self._read(RULES, RuleFile) or RuleFile()
        lessons = self._lessons()
        self._strange_files()
        if school is None or classes is None or _any_grave(self.problems):
            return None
        plan = Plan(
            school=school,
            classes=classes.classes,
            timetable=classes.timetable,
            teaching=classes.teaching,
            supplies=_with_builtin(supplies.supplies),
            boxes=kits.boxes,
            kits=kits.kits,
            lessons=lessons,
        )
        self._check(plan)
        return None if _any_grave(self.problems) else LastGood(plan, own_rules, tuple(self.problems))

    def _read(self, name: str, into: type[T], entry: str = "") -> T | None:
        file = read_toml(self.folder / name, name)
        if file.is_missing and name not in _NEEDED:
            return None
        self.problems += file.problems
        self.texts[name] = file.text
        table = file.data if file.data is not None else file.rest
        if table is None:
            return None
        if into is School:
            table = self._known_format(table)
        record, problems = records_from(
            table, into, file=name, text=file.text, entry=entry, newer=self.newer, partly=file.data is None
        )
        self.problems += problems
        return record

    def _known_format(self, table: dict[str, Any]) -> dict[str, Any]:
        written = table.get("format")
        if not isinstance(written, int) or isinstance(written, bool) or written <= FORMAT:
            return table
        self.newer = True
        what = "A newer version of Trundle wrote this plan. It can be looked at, not changed."
        self._tell(SCHOOL, what, "Use the newer version.", note=True)
        return {**table, "format": FORMAT}

    def _lessons(self) -> tuple[Lesson, ...]:
        paths = _toml_files(self.folder / LESSONS)
        names = {path.stem for path in paths}
        lessons = []
        for path in paths:
            name = f"{LESSONS}/{path.name}"
            if _is_copy(path.stem, names):
                self._tell_copy(name)
                continue
            lesson = self._read(name, Lesson, f"lesson {clean(path.stem)}")
            if lesson is not None and lesson.id != path.stem:
                what = f'The lesson in it has the id "{lesson.id}".'
                self._tell(name, what, f'Write id = "{clean(path.stem)}", or rename the file to {lesson.id}.toml.')
            elif lesson is not None:
                lessons.append(lesson)
        return tuple(lessons)

    def _strange_files(self) -> None:
        known = {Path(name).stem for name in _FILES}
        for path in _toml_files(self.folder):
            if path.name in _FILES:
                continue
            near = nearest(path.stem, known)
            if _is_copy(path.stem, known):
                self._tell_copy(path.name)
            elif near is not None:
                self._tell(path.name, "This is not a plan file.", f"Is {near}.toml meant? Rename it.", note=True)

    def _check(self, plan: Plan) -> None:
        from checklists.files.where import TomlPath, line_at, lines_of
        from checklists.plan.check import problems_of

        try:
            from checklists.rules.read import vocabulary
        except ImportError:
            return

        lines: dict[str, dict[TomlPath, int]] = {}

        def line_of(file: str, path: TomlPath) -> int | None:
            if file not in lines:
                lines[file] = lines_of(self.texts.get(file, ""))
            return line_at(lines[file], path)

        self.problems += problems_of(plan, vocabulary(), line_of)

    def _tell_copy(self, name: str) -> None:
        what = "This is a second version of a plan file, made where the folder is kept in step. It is not used."
        self._tell(name, what, "Compare the two, then move this one away.", note=True)

    def _tell(self, name: str, what: str, to_do: str, *, note: bool = False) -> None:
        self.problems.append(Problem(clean(name), "", what, to_do, level="note" if note else "grave"))


def _is_copy(stem: str, names: Iterable[str]) -> bool:
    """Whether a name is what a sync program makes of another: "school (2)", "school.conflict-2026", "school - copy"."""
    originals = (each for each in names if each != stem and stem.startswith(each))
    return any(_COPY.match(stem[len(each) :]) for each in originals)


def _with_builtin(own: tuple[Supply, ...]) -> tuple[Supply, ...]:
    """Her supplies, then those that come with the program where she has none of that id."""
    try:
        from checklists.rules.read import builtin_supplies
    except ImportError:
        return own
    hers = {each.id for each in own}
    return own + tuple(each for each in builtin_supplies() if each.id not in hers)
