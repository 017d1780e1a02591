"""Changing several plan files as one step that is done or not done, and that can be taken back, also after a restart.

    change.pending               the step while its files are being written: a start that finds it finishes it
    plan-steps/NUMBER.toml       the steps made, the newest with the highest number: each file before and after

A step is taken back only while its files are as it left them. Older steps than ``MOST_KEPT`` are let go of.
"""

from __future__ import annotations

import contextlib
from codecs import BOM_UTF8
from datetime import datetime
from pathlib import Path

import msgspec
from msgspec import Struct

from checklists.files.safely import NotSaved, make_folder, not_saved, remove_file, replace_file
from checklists.files.year_pending import PENDING

STEPS = "plan-steps"
MOST_KEPT = 60


class FileChange(Struct, frozen=True, omit_defaults=True):
    """What stood in a plan file before, and after. None: there was, or is, no such file."""

    name: str
    before: str | None = None
    after: str | None = None


class PlanStep(Struct, frozen=True, omit_defaults=True):
    """One change of the plan. ``takes_back`` is the number of the step that this one takes back; 0: it takes none."""

    said: str
    at: datetime
    files: tuple[FileChange, ...]
    takes_back: int = 0
    is_first: bool = False
    """The first plan of a folder: that is never taken back."""


def change(
    folder: Path, contents: dict[str, bytes | None], said: str, at: datetime, *, is_first: bool = False
) -> PlanStep:
    """Write plan files, all or none; None takes a file away. Raises NotSaved, and then all is as it was."""
    changes = tuple(
        FileChange(name, _text_of(_path_of(folder, name)), None if content is None else content.decode())
        for name, content in contents.items()
    )
    step = PlanStep(said, at, changes, is_first=is_first)
    _carry_out(folder, step)
    return step


def newest_step(folder: Path) -> tuple[int, PlanStep] | None:
    """The newest step there is, and its number. What does not read is as good as not there."""
    for number in reversed(_numbers(folder)):
        with contextlib.suppress(OSError, msgspec.DecodeError, UnicodeDecodeError):
            content = (folder / STEPS / f"{number}.toml").read_bytes()
            return number, msgspec.toml.decode(content.removeprefix(BOM_UTF8), type=PlanStep)
    return None


def take_back(folder: Path, number: int, step: PlanStep) -> None:
    """Put the files of the newest step in place as they were. Raises NotSaved, and then nothing is changed."""
    for each in step.files:
        if not _are_alike(_text_of(_path_of(folder, each.name)), each.after):
            raise NotSaved(f"{each.name} was changed otherwise since. Nothing is taken back.")
    changes = tuple(FileChange(each.name, each.after, each.before) for each in step.files)
    _carry_out(folder, PlanStep(step.said, step.at, changes, takes_back=number))


def finish_step(folder: Path) -> None:
    """Finish a step that was cut off. Raises NotSaved where the disk refuses; the next start tries again."""
    try:
        step = msgspec.toml.decode((folder / PENDING).read_bytes(), type=PlanStep)
    except FileNotFoundError:
        return
    except OSError as error:  # it may be read another time: half of a step is never left for good
        raise not_saved(folder / PENDING, error) from error
    except (msgspec.DecodeError, UnicodeDecodeError):
        remove_file(folder / PENDING)
        return
    for each in step.files:
        path = _path_of(folder, each.name)
        if _are_alike(_text_of(path), each.before):  # else it is written already, or somebody changed it since
            _put(path, each.after)
    _keep(folder, step)


def _carry_out(folder: Path, step: PlanStep) -> None:
    replace_file(folder / PENDING, _as_bytes(step), keep_before=False)
    done: list[FileChange] = []
    try:
        for each in step.files:
            _put(_path_of(folder, each.name), each.after)
            done.append(each)
    except NotSaved:
        with contextlib.suppress(NotSaved):  # where not even that can be done, the next start finishes the step
            for each in done:
                _put(_path_of(folder, each.name), each.before)
            remove_file(folder / PENDING)
        raise
    with contextlib.suppress(NotSaved):  # the change itself is made; the next start keeps the step
        _keep(folder, step)


def _keep(folder: Path, step: PlanStep) -> None:
    """Number the finished step among those that can be taken back; of one that takes back, both go."""
    if step.is_first:
        pass
    elif step.takes_back:
        remove_file(folder / STEPS / f"{step.takes_back}.toml")
    else:
        make_folder(folder / STEPS)
        numbers = _numbers(folder)
        number = numbers[-1] + 1 if numbers else 1
        replace_file(folder / STEPS / f"{number}.toml", _as_bytes(step), keep_before=False)
        for old in numbers[: -MOST_KEPT + 1]:
            remove_file(folder / STEPS / f"{old}.toml")
    remove_file(folder / PENDING)


def _numbers(folder: Path) -> list[int]:
    try:
        return sorted(int(each.stem) for each in (folder / STEPS).glob("*.toml") if each.stem.isdigit())
    except OSError:
        return []


def _as_bytes(step: PlanStep) -> bytes:
    from tomli_w import dumps

    return dumps(msgspec.to_builtins(step, builtin_types=(datetime,))).encode()


def _are_alike(one: str | None, other: str | None) -> bool:
    """Whether two texts are the same but for what an editor, or a program on the way, does to line ends."""
    return one == other or (one is not None and other is not None and _as_written(one) == _as_written(other))


def _as_written(text: str) -> str:
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def _path_of(folder: Path, name: str) -> Path:
    """The file of this name however its disk spells it; the name as it is where there is none yet."""
    path = folder / name
    if name.isascii() or path.exists() or not path.parent.is_dir():
        return path
    from checklists.plan.file_names import one_spelling

    wanted = one_spelling(path.name)
    return next((each for each in sorted(path.parent.iterdir()) if one_spelling(each.name) == wanted), path)


def _put(path: Path, content: str | None) -> None:
    if content is None:
        remove_file(path)
    else:
        make_folder(path.parent)
        replace_file(path, content.encode())


def _text_of(path: Path) -> str | None:
    """What stands in a file; None where there is none. Raises NotSaved where it cannot be read."""
    try:
        return path.read_bytes().decode()
    except FileNotFoundError:
        return None
    except UnicodeDecodeError as error:
        raise NotSaved(
            f"{path.name} is not saved as UTF-8. Save it so in a text editor, then do this again."
        ) from error
    except OSError as error:
        raise not_saved(path, error) from error
