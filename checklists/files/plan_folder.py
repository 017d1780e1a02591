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

from checklists.files.last_good import LastGood, Stamp, keep_last_good, read_last_good, stamp_of
from checklists.files.toml_text import read_toml
from checklists.files.typed import records_from
from checklists.files.where import TomlPath, line_at, lines_of
from checklists.plan.plan_files import PlanFiles, files_of, plan_of
from checklists.plan.records import Classes, Kits, Lesson, Plan, School, Supplies
from checklists.problems import Problem
from checklists.rules.conditions import CLASS_IS, LESSON_IS
from checklists.rules.read import RuleSet, builtin_supplies, compile_rules, read_builtin_rules, vocabulary
from checklists.rules.records import RuleFile
from checklists.rules.vocabulary import Words
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
    """A plan folder as read. ``plan`` and ``rules`` are None where a problem is grave and no last good plan is there.

    ``newer_format``: written by a newer version; look, but do not write.
    """

    plan: Plan | None
    own_rules: RuleFile
    rules: RuleSet | None
    problems: tuple[Problem, ...] = ()
    from_last_good: bool = False
    newer_format: bool = False


def read_plan(folder: Path, stamps: tuple[Stamp, ...] | None = None) -> PlanRead:
    """Read a plan folder. Never raises; every problem of every file is told at once.

    ``stamps`` are those of its files where the caller has just taken them.
    """
    stamps = stamps_of(folder) if stamps is None else stamps
    good = read_last_good(folder, stamps)
    if good is not None:
        return PlanRead(good.plan, good.own_rules, good.rules, good.notes)
    reading = _Reading(folder)
    fresh = reading.read()
    problems, newer = tuple(reading.problems), reading.newer
    if fresh is not None and not _any_grave(problems):
        if not newer and stamps_of(folder) == stamps:
            keep_last_good(folder, stamps, fresh)
        return PlanRead(fresh.plan, fresh.own_rules, fresh.rules, problems, newer_format=newer)
    good = read_last_good(folder)
    if good is not None:
        # An earlier version of the program may have kept it: its rules are made ready anew.
        plan = plan_of(files_of(good.plan, builtin_supplies()), builtin_supplies())
        compiled, _ = compiled_rules(plan, good.own_rules)
        return PlanRead(plan, good.own_rules, compiled, problems, from_last_good=True, newer_format=newer)
    if fresh is not None:  # only rules of her own are wrong, and those are left out
        return PlanRead(fresh.plan, fresh.own_rules, fresh.rules, problems, newer_format=newer)
    return PlanRead(None, RuleFile(), None, problems, newer_format=newer)


def stamps_of(folder: Path) -> tuple[Stamp, ...]:
    """Name and content of every plan file, as far as it tells one content from another."""
    found = [stamp_of(path, path.name) for path in _toml_files(folder)]
    found += [stamp_of(path, f"{LESSONS}/{path.name}") for path in _toml_files(folder / LESSONS)]
    return tuple(each for each in found if each is not None)


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
        self.lines: dict[str, dict[TomlPath, int]] = {}
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
        plan = plan_of(PlanFiles(school, classes, supplies.supplies, kits, lessons), builtin_supplies())
        self._check(plan, own_rules)
        if _any_grave(self.problems):
            return None
        return LastGood(plan, own_rules, self._rules(plan, own_rules), tuple(self.problems))

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
        from checklists.plan.file_names import one_spelling, told_of_name

        paths = _toml_files(self.folder / LESSONS)
        names = {path.stem for path in paths}
        self.problems += (each for path in paths for each in told_of_name(f"{LESSONS}/{path.name}", names))
        lessons = []
        for path in paths:
            name = f"{LESSONS}/{path.name}"
            if _is_copy(path.stem, names):
                self._tell_copy(name)
                continue
            lesson = self._read(name, Lesson, f"lesson {clean(path.stem)}")
            if lesson is not None and one_spelling(lesson.id) != one_spelling(path.stem):
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

    def _check(self, plan: Plan, own_rules: RuleFile) -> None:
        from checklists.plan.check import problems_of

        self.problems += problems_of(plan, words_of(own_rules), self._line_of)

    def _rules(self, plan: Plan, own_rules: RuleFile) -> RuleSet:
        """The rules made ready; one of her own that is wrong is told and left out."""
        compiled, problems = compiled_rules(plan, own_rules)
        entries = {f"rule {each.id}": ("rules", i) for i, each in enumerate(own_rules.rules)}
        entries |= {f"off {each.rule}": ("off", i) for i, each in enumerate(own_rules.off)}
        for each in problems:
            line = self._line_of(RULES, entries.get(each.entry, ()))
            self.problems.append(msgspec.structs.replace(each, line=line))
        return compiled

    def _line_of(self, file: str, path: TomlPath) -> int | None:
        if file not in self.lines:
            self.lines[file] = lines_of(self.texts.get(file, ""))
        return line_at(self.lines[file], path)

    def _tell_copy(self, name: str) -> None:
        what = "This is a second version of a plan file, made where the folder is kept in step. It is not used."
        self._tell(name, what, "Compare the two, then move this one away.", note=True)

    def _tell(self, name: str, what: str, to_do: str, *, note: bool = False) -> None:
        self.problems.append(Problem(clean(name), "", what, to_do, level="note" if note else "grave"))


def _is_copy(stem: str, names: Iterable[str]) -> bool:
    """Whether a name is what a sync program makes of another: "school (2)", "school.conflict-2026", "school - copy"."""
    originals = (each for each in names if each != stem and stem.startswith(each))
    return any(_COPY.match(stem[len(each) :]) for each in originals)


def compiled_rules(plan: Plan, own_rules: RuleFile) -> tuple[RuleSet, tuple[Problem, ...]]:
    """The rules that come with the program and her own, made ready for a plan, and what is wrong with her own."""
    words = _words_of_plan(plan)
    return compile_rules(read_builtin_rules(), own_rules, plan.supply_by_id, file=RULES, words=words)


def words_of(own_rules: RuleFile) -> Words:
    """What lessons and classes may use: the words of the program, and those that her own rules ask for or give."""
    known = vocabulary()
    asked = [sentence.removeprefix("not ") for rule in own_rules.rules for sentence in (*rule.when, *rule.gives)]
    return Words(
        tags=frozenset([*known.part, *asked]),
        marks=frozenset(known.marks),
        needs=frozenset([*known.needs, *_after("need ", asked)]),
        avoid=frozenset([*known.avoid, *_after("avoids ", asked)]),
    )


def _after(start: str, sentences: Iterable[str]) -> list[str]:
    return [each.removeprefix(start) for each in sentences if each.startswith(start)]


def _words_of_plan(plan: Plan) -> Words:
    """What her own rules may ask for beside the words of the program."""
    return Words(
        tags=frozenset(
            (
                *(tag for lesson in plan.every_lesson for part in lesson.parts for tag in part.tags),
                *(f"{CLASS_IS}{each.id}" for each in plan.every_class),
                *(f"{LESSON_IS}{each.id}" for each in plan.every_lesson),
            )
        ),
        marks=frozenset(mark for each in plan.every_supply for mark in each.marks),
        needs=frozenset(need.need for each in plan.every_class for need in each.needs),
        avoid=frozenset(word for each in plan.every_class for word in each.avoid),
    )
