"""The files of a data folder that a backup holds: all that is hers, as it stood at one moment.

Left out are the cache, the lock, hidden files such as those only just being written, sheets of backups themselves, and
whatever else lies in the folder that Trundle did not put there.
"""

from __future__ import annotations

import os
import re
import tomllib
from pathlib import Path

from checklists.backup.about import MOST_BYTES, MOST_BYTES_A_FILE, MOST_FILES, why_not_kept
from checklists.demo import SIGN
from checklists.files.copied_days import FOLDER as DAYBOOK
from checklists.files.plan_folder import LESSONS, SCHOOL
from checklists.files.safely import NotSaved, not_saved
from checklists.files.year_files import YEARS
from checklists.files.year_pending import is_changing
from checklists.words import clean

BACKUPS = "backups"
"""Inside the data folder: what was there before a backup was put back."""
FOLDERS = (DAYBOOK, LESSONS, YEARS, "plan-steps", "sheets")
_PLAN_FILE = re.compile(r"[^./][^/]*\.toml(?:\.before)?")
_TRIES = 5


def contents_of(folder: Path, *, is_cut_off: bool = False) -> dict[str, bytes]:
    """Every file that a backup holds, by its name from the folder on, with "/" between folders.

    All as of one moment, whoever writes in the folder meanwhile. Raises NotSaved where that cannot be, or where a file
    cannot be read or kept. ``is_cut_off``: a change of several files counts as it stands; the caller has the lock.
    """
    for _ in range(_TRIES):
        before = _looks(folder)
        _must_be_reasonable(before)
        try:
            found = {name: (folder / name).read_bytes() for name in before}
        except FileNotFoundError:  # folded or replaced meanwhile
            continue
        except OSError as error:
            raise not_saved(Path(error.filename or folder), error) from error
        if _looks(folder) == before and (is_cut_off or not is_changing(folder)):
            return found
    raise NotSaved("The files are just being changed, here or by a program that keeps the folder in step. Do it again.")


def names_in(folder: Path) -> set[str]:
    """Names of the files that a backup of the folder would hold."""
    return set(_looks(folder))


def school_in(contents: dict[str, bytes]) -> str:
    """The name of the school; empty where none is told."""
    try:
        name = tomllib.loads(contents[SCHOOL].decode("utf-8-sig")).get("name", "")
    except (KeyError, UnicodeDecodeError, tomllib.TOMLDecodeError, RecursionError):
        return ""
    return clean(name) if isinstance(name, str) else ""


def _looks(folder: Path) -> dict[str, tuple[int, int, int]]:
    """Every file with size, time of change and number on the disk."""
    found: dict[str, tuple[int, int, int]] = {}
    for name in _names(folder):
        try:
            state = (folder / name).stat()
        except FileNotFoundError:
            continue
        except OSError as error:
            raise not_saved(folder / name, error) from error
        found[name] = state.st_size, state.st_mtime_ns, state.st_ino
    return found


def _names(folder: Path) -> list[str]:
    try:
        names = [each.name for each in folder.iterdir() if _is_at_top(each.name) and each.is_file()]
        for top in FOLDERS:
            for where, inner, files in os.walk(folder / top):
                inner[:] = [each for each in inner if not each.startswith(".")]
                within = Path(where).relative_to(folder).as_posix()
                kept = (each for each in files if not each.startswith(".") and Path(where, each).is_file())
                names += [f"{within}/{each}" for each in kept]
    except FileNotFoundError:
        return []
    except OSError as error:
        raise not_saved(folder, error) from error
    return sorted(names)


def _is_at_top(name: str) -> bool:
    return name == SIGN or _PLAN_FILE.fullmatch(name) is not None


def _must_be_reasonable(looks: dict[str, tuple[int, int, int]]) -> None:
    for name, (size, _, _) in looks.items():
        if why := why_not_kept(name):
            raise NotSaved(f"{clean(name)} cannot be backed up: {why}. Rename it, then do this again.")
        if size > MOST_BYTES_A_FILE:
            raise NotSaved(
                f"{clean(name)} is too large to be one of Trundle's files. Move it away, then do this again."
            )
    if len(looks) > MOST_FILES or sum(size for size, _, _ in looks.values()) > MOST_BYTES:
        raise NotSaved("The folder holds more than the files of a school can be. Move away what does not belong there.")
