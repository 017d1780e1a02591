"""Run a command as she would and look at what came out."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from datetime import date
from io import BytesIO, TextIOWrapper
from pathlib import Path
from typing import Any

from msgspec import Struct

from checklists.commandline import parse, run
from tests.schools import MONDAY

PROGRAM = (sys.executable, "-m", "checklists.commandline")
PROJECT = Path(__file__).parents[2]


class Ran(Struct, frozen=True):
    status: int
    out: str
    err: str

    @property
    def fields(self) -> dict[str, Any]:
        found = json.loads(self.out)
        assert isinstance(found, dict)
        return found


def surroundings(**more: str) -> dict[str, str]:
    """The environment of the tests, with UTF-8 unless ``more`` says otherwise, and no folder named in it."""
    kept = {name: value for name, value in os.environ.items() if name != "TRUNDLE_DATA"}
    return {**kept, "PYTHONUTF8": "0", "PYTHONIOENCODING": "utf-8", "PYTHONPATH": str(PROJECT), **more}


def trundle(*typed: str, data: Path | None = None, encoding: str = "utf-8", **environment: str) -> Ran:
    """`trundle` with what was typed, run as its process runs it but within this one, which is ten times as quick.

    ``data`` is the folder of the school. Nothing is kept between two commands but what is on the disk.
    """
    words = [*typed, "--data", str(data)] if data is not None else list(typed)
    before = dict(os.environ)
    os.environ.clear()
    os.environ.update(surroundings(**environment))
    out, err = TextIOWrapper(BytesIO(), encoding), TextIOWrapper(BytesIO(), encoding)
    try:
        with redirect_stdout(out), redirect_stderr(err):
            status = run(parse(words))
    finally:
        os.environ.clear()
        os.environ.update(before)
    return Ran(status, *(_told(stream) for stream in (out, err)))


def _told(stream: TextIOWrapper) -> str:
    stream.flush()
    content = stream.buffer
    assert isinstance(content, BytesIO)
    return content.getvalue().decode(stream.encoding)


def in_a_process(*typed: str, data: Path | None = None, encoding: str = "utf-8", **environment: str) -> Ran:
    """The same in a process of its own, as she starts it."""
    words = [*typed, "--data", str(data)] if data is not None else list(typed)
    done = subprocess.run(
        [*PROGRAM, *words],
        capture_output=True,
        env=surroundings(PYTHONIOENCODING=encoding, **environment),
        timeout=60,
        check=False,
    )
    return Ran(done.returncode, done.stdout.decode(encoding), done.stderr.decode(encoding))


def on_monday(*typed: str, data: Path, at: str = "7:41") -> Ran:
    """The same on Mon 5 Oct 2026 at 7:41."""
    return trundle(*typed, "--date", "2026-10-05", "--at", at, data=data)


def monday_lines(data: Path) -> dict[str, dict[str, Any]]:
    """Monday's lines by supply, as scripts read them."""
    return {each["supply"]: each for each in on_monday("morning", "--json", data=data).fields["lines"]}


def said(*typed: str, data: Path, on: date = MONDAY, clock: str = "15:05") -> Ran:
    """A command of a day that is understood."""
    ran = trundle(*typed, "--date", on.isoformat(), "--at", clock, data=data)
    assert ran.status == 0, ran.err
    return ran


def refused(*typed: str, data: Path, on: date = MONDAY) -> str:
    """What a command says that is not understood."""
    ran = trundle(*typed, "--date", on.isoformat(), "--at", "15:05", data=data)
    assert ran.status == 2
    return ran.err.strip()


def morning_of(data: Path, on: date) -> dict[str, Any]:
    """A day's list at 7:41, as scripts read it."""
    return trundle("morning", "--json", "--date", on.isoformat(), "--at", "7:41", data=data).fields


def kit_of(class_id: str, data: Path, on: date) -> dict[str, int]:
    """What the catch-up kit of a class holds on a morning."""
    lines = morning_of(data, on)["lines"]
    return {each["supply"]: each["need"] for each in lines if each["class"] == class_id}
