"""The last plan that read well, kept ready: for mornings on which a plan file does not read, and for a fast start.

It is a cache: nothing is lost with it, a damaged one is as good as none, what cannot be written is left unwritten. It
counts for files of the very same content, whatever their times say: those change when a folder is copied, and stay the
same where a program that keeps it in step sets them.
"""

from __future__ import annotations

import os
from pathlib import Path
from types import ModuleType
from zlib import crc32

import msgspec
from msgspec import Struct

from checklists import VERSION, rules
from checklists.files.safely import NotSaved, make_folder, replace_file
from checklists.plan import records as plan_records
from checklists.plan.records import Plan
from checklists.problems import Problem
from checklists.rules import conditions, engine, read, vocabulary
from checklists.rules import records as rule_records
from checklists.rules.read import RuleSet
from checklists.rules.records import RuleFile

CACHE_FILE = "cache/last-good.msgpack"
_HOW_TO_OPEN = os.O_RDONLY | getattr(os, "O_BINARY", 0)


class Stamp(Struct, frozen=True, array_like=True):
    """What was in a file when it was read: bytes and CRC-32; -1 bytes where it could not be read."""

    name: str
    size: int
    checksum: int


class LastGood(Struct, frozen=True):
    """A plan that read well, its rules made ready, and the notes there were."""

    plan: Plan
    own_rules: RuleFile
    rules: RuleSet
    notes: tuple[Problem, ...] = ()


class _Kept(Struct, frozen=True):
    program: int
    shape: int
    stamps: tuple[Stamp, ...]
    good: msgspec.Raw


def read_last_good(folder: Path, stamps: tuple[Stamp, ...] | None = None) -> LastGood | None:
    """The last good plan; with ``stamps``, only if this very program made it from exactly these files. Never raises."""
    path = folder / CACHE_FILE
    try:
        kept = msgspec.msgpack.decode(path.read_bytes(), type=_Kept)
        if kept.shape != shape_of_records():
            return None
        if stamps is not None and (kept.stamps != stamps or kept.program != program_mark()):
            return None
        return msgspec.msgpack.decode(kept.good, type=LastGood)
    except (OSError, msgspec.DecodeError, RecursionError):
        return None


def keep_last_good(folder: Path, stamps: tuple[Stamp, ...], good: LastGood) -> None:
    """Keep a plan that read well; ``stamps`` are those of its files, the same before and after they were read."""
    kept = _Kept(program_mark(), shape_of_records(), stamps, msgspec.Raw(msgspec.msgpack.encode(good)))
    path = folder / CACHE_FILE
    try:
        make_folder(path.parent)
        replace_file(path, msgspec.msgpack.encode(kept), keep_before=False)
    except NotSaved:
        return


def stamp_of(path: Path, name: str) -> Stamp | None:
    """What is in a file now, called ``name``; None where there is none. Never raises."""
    try:
        descriptor = os.open(path, _HOW_TO_OPEN)
    except FileNotFoundError:
        return None
    except OSError:
        return Stamp(name, -1, 0)
    try:
        size = checksum = 0
        while part := os.read(descriptor, 1 << 20):
            size, checksum = size + len(part), crc32(part, checksum)
        return Stamp(name, size, checksum)
    except OSError:
        return Stamp(name, -1, 0)
    finally:
        os.close(descriptor)


def program_mark() -> int:
    """A number that changes with the program: its version, and the rules and supplies that come with it."""
    mark = crc32(VERSION.encode())
    folder = Path(rules.__file__).parent
    for path in sorted([*folder.glob("*.py"), *folder.glob("builtin/*.toml")]):
        state = path.stat()
        mark = crc32(f"{path.name} {state.st_size} {state.st_mtime_ns}".encode(), mark)
    return mark


def shape_of_records() -> int:
    """The shape of all records that are in the cache."""
    return shape_of(plan_records, rule_records, conditions, engine, read, vocabulary)


def shape_of(*modules: ModuleType) -> int:
    """A number that changes with any field of their records, its type or its default: an older cache is not misread."""
    shape = 0
    for module in modules:
        for name, each in vars(module).items():
            if isinstance(each, type) and issubclass(each, Struct):
                fields = f"{name}{each.__annotations__}{each.__struct_fields__}{each.__struct_defaults__}"
                shape = crc32(fields.encode(), shape)
    return shape
