"""The answers of a first start that is not finished: "set-up.toml" in the data folder, gone once there is a plan."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from msgspec import Struct, convert, to_builtins

from checklists.files.copied_days import FOLDER as DAYBOOK
from checklists.files.plan_folder import CLASSES, KITS, LESSONS, RULES, SCHOOL, SUPPLIES
from checklists.files.safely import make_folder, remove_file, replace_file
from checklists.files.toml_text import read_toml
from checklists.files.year_pending import PENDING
from checklists.first_start.answers import Answers

SET_UP = "set-up.toml"
BEFORE = f"{SET_UP}.before"
_HEAD = "# What was said so far in setting up the school. Trundle writes this file, and takes it away at the end.\n"
_OF_A_PLAN = (SCHOOL, CLASSES, SUPPLIES, KITS, RULES, LESSONS)
_OUR_OWN = ("cache", "sheets", "demo", SET_UP, BEFORE)

FolderHolds = Literal["nothing", "half a set-up", "a plan", "other things"]


class _SetUp(Struct, frozen=True):
    format: Literal[1]
    answers: dict[str, str] = {}


def what_is_in(folder: Path) -> FolderHolds:
    """What a folder holds that is to be opened. A plan that does not read is a plan all the same."""
    try:
        names = {each.name for each in folder.iterdir() if not each.name.startswith(".")}
    except FileNotFoundError:
        return "nothing"
    except OSError:
        return "a plan"  # opening it says what is wrong
    if PENDING in names:
        return "a plan"  # half of one: opening it finishes it, or says why not
    if DAYBOOK in names and _is_empty(folder / DAYBOOK):
        names.remove(DAYBOOK)  # where a backup was to be put back and could not be
    is_begun = SET_UP in names or {BEFORE, DAYBOOK} <= names  # begun afresh when the first list could not be written
    if is_begun and not {SCHOOL, CLASSES} <= names:
        return "half a set-up"
    if names & {*_OF_A_PLAN, DAYBOOK}:
        return "a plan"
    return "other things" if names - {*_OUR_OWN, *_lock_files(names)} else "nothing"


def _is_empty(folder: Path) -> bool:
    """Whether nothing but hidden files is in a folder."""
    try:
        return all(each.name.startswith(".") for each in folder.iterdir())
    except OSError:
        return False


def _lock_files(names: set[str]) -> set[str]:
    return {each for each in names if each.endswith(".lock")}


def read_set_up(folder: Path) -> Answers:
    """The answers kept in a folder; none where the file is not there or was damaged by another hand."""
    return _read(folder) or Answers()


def _read(folder: Path) -> Answers | None:
    """None where there is no file, or it does not read: damaged, or of a later version."""
    file = read_toml(folder / SET_UP, SET_UP)
    try:
        return Answers(convert(file.data, _SetUp).answers) if file.data is not None else None
    except (TypeError, ValueError):
        return None


def keep_set_up(folder: Path, answers: Answers) -> None:
    """Write the answers, whole or not at all; a file that does not read stays beside it. Raises NotSaved."""
    from tomli_w import dumps

    make_folder(folder)
    if (folder / SET_UP).exists() and _read(folder) is None:
        replace_file(folder / BEFORE, (folder / SET_UP).read_bytes(), keep_before=False)
    replace_file(folder / SET_UP, (_HEAD + dumps(to_builtins(_SetUp(1, answers.said)))).encode(), keep_before=False)


def forget_set_up(folder: Path) -> None:
    """Take the file away: there is a plan now. Raises NotSaved."""
    remove_file(folder / SET_UP)


def set_up_afresh(folder: Path) -> None:
    """Begin anew. What was said before stays beside it, as set-up.toml.before. Raises NotSaved."""
    if (folder / SET_UP).exists():
        replace_file(folder / BEFORE, (folder / SET_UP).read_bytes(), keep_before=False)
        remove_file(folder / SET_UP)
