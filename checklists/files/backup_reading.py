"""Reading a backup, an archive or a folder: every file of its list, whole and as it was, or a reason in words.

Nothing is unpacked onto the disk. Only files of the list are read, so what a computer adds on its way does no harm; an
archive is refused where it leads out of its folder, has links in it, or becomes larger than it says.
"""

from __future__ import annotations

import stat
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path, PurePosixPath
from typing import NamedTuple
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from checklists.backup.about import (
    ABOUT,
    MOST_BYTES,
    MOST_BYTES_OF_ABOUT,
    MOST_FILES,
    About,
    CannotPutBack,
    KeptFile,
    must_be_reasonable,
    one_name,
    read_about,
    why_not_kept,
)
from checklists.words import clean

_IS_LOCKED = 0x1
"""The bit of an archive's entry that says it is encrypted. Source: PKWARE APPNOTE 4.4.4."""
_ADDED_ON_THE_WAY = ("__MACOSX/",)


class Backup(NamedTuple):
    """A backup that was read whole and found as it was made."""

    path: Path
    about: About
    contents: dict[str, bytes]


def read_backup(path: Path) -> Backup:
    """Everything in a backup. Raises CannotPutBack."""
    with _opened(path) as source:
        contents = {each.name: source.read(each.name, each.size) for each in source.about.files}
        for each in source.about.files:
            _must_be_as_it_was(each, contents[each.name], source.called)
        return Backup(path, source.about, contents)


def look_into(path: Path) -> About:
    """What a backup says is in it; its files are not read. Raises CannotPutBack."""
    with _opened(path) as source:
        return source.about


class _Source(NamedTuple):
    called: str
    about: About
    read: Callable[[str, int], bytes]


@contextmanager
def _opened(path: Path) -> Iterator[_Source]:
    called = clean(path.name)
    try:
        if path.is_dir():
            yield _folder(path, called)
        elif not path.exists():
            raise CannotPutBack(f"There is no file {clean(str(path))}.")
        else:
            with ZipFile(path) as archive:
                yield _archive(archive, called)
    except BadZipFile:
        raise CannotPutBack(f"{called} is no backup, or it is damaged. Choose another one.") from None
    except (zlib.error, EOFError, NotImplementedError, RuntimeError, UnicodeError, ValueError):
        raise CannotPutBack(f"{called} is damaged. Choose another backup.") from None
    except MemoryError:
        raise CannotPutBack(f"{called} is larger than this computer can read.") from None
    except OSError as error:
        raise CannotPutBack(f"{called} cannot be read ({error.strerror or 'no reason told'}).") from None


def _folder(path: Path, called: str) -> _Source:
    def read(name: str, size: int) -> bytes:
        file = path / name
        if file.is_symlink() or not file.resolve().is_relative_to(path.resolve()):
            raise CannotPutBack(f"{called} has links in it. It is not used.")
        if not file.is_file():
            raise CannotPutBack(f"In {called} {clean(name)} is missing. Choose another backup.")
        with file.open("rb") as stream:
            return stream.read(size + 1)

    if not (path / ABOUT).is_file():
        raise CannotPutBack(f"{called} is no backup: there is no {ABOUT} in it.")
    found = read_about(read(ABOUT, MOST_BYTES_OF_ABOUT), called)
    must_be_reasonable(found, called)
    return _Source(called, found, read)


def _archive(archive: ZipFile, called: str) -> _Source:
    entries = archive.infolist()
    for each in entries:
        _must_be_harmless(each, called)
    if len(entries) > 2 * MOST_FILES or sum(each.file_size for each in entries) > MOST_BYTES + MOST_BYTES_OF_ABOUT:
        raise CannotPutBack(f"{called} is far larger than the files of a school can be. It is not used.")
    top = _top_of(entries, called)
    by_name: dict[str, ZipInfo] = {}
    for each in entries:
        if by_name.setdefault(one_name(each.filename), each) is not each:
            raise CannotPutBack(f"{called} has a file twice. It is not used.")

    def read(name: str, size: int) -> bytes:
        entry = by_name.get(one_name(f"{top}{name}"))
        if entry is None:
            raise CannotPutBack(f"In {called} {clean(name)} is missing. Choose another backup.")
        with archive.open(entry) as stream:
            return stream.read(size + 1)

    found = read_about(read(ABOUT, MOST_BYTES_OF_ABOUT), called)
    must_be_reasonable(found, called)
    return _Source(called, found, read)


def _must_be_harmless(entry: ZipInfo, called: str) -> None:
    name = entry.filename.removesuffix("/")
    if why := why_not_kept(name):
        raise CannotPutBack(f"{called} has a file {clean(name)[:60]!r} in it, and {why}. It is not used.")
    kind = stat.S_IFMT(entry.external_attr >> 16)
    if kind not in (0, stat.S_IFREG, stat.S_IFDIR):
        raise CannotPutBack(f"{called} has links in it. It is not used.")
    if entry.flag_bits & _IS_LOCKED:
        raise CannotPutBack(f"{called} is locked with a password. Unpack it into a folder, then choose that folder.")
    if entry.compress_type not in (ZIP_STORED, ZIP_DEFLATED):
        raise CannotPutBack(f"{called} is packed in a way not known here. Unpack it, then choose that folder.")


def _top_of(entries: list[ZipInfo], called: str) -> str:
    """The folder in the archive that everything is in: packed anew by another program it may have one."""
    names = [each.filename for each in entries if not each.filename.startswith(_ADDED_ON_THE_WAY)]
    tops = [name.removesuffix(ABOUT) for name in names if PurePosixPath(name).name == ABOUT and name.count("/") < 2]
    if not tops:
        raise CannotPutBack(f"{called} is no backup made by Trundle: there is no {ABOUT} in it.")
    return min(tops, key=len)


def _must_be_as_it_was(file: KeptFile, content: bytes, called: str) -> None:
    if len(content) != file.size or sha256(content).hexdigest() != file.sha256:
        raise CannotPutBack(
            f"In {called} {clean(file.name)} is not as it was: it is damaged or was changed. Choose another."
        )
