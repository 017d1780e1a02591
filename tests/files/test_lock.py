"""One window writes; a second one finds out and reads."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from checklists.files.lock import LOCK_FILE, take_lock, writer_of

HOLDER = (
    "import sys; from pathlib import Path; from checklists.files.lock import take_lock\n"
    "lock = take_lock(Path(sys.argv[1])); print(lock is not None, flush=True); sys.stdin.read()"
)


def test_a_second_window_does_not_get_the_lock_and_knows_who_has_it(tmp_path: Path) -> None:
    lock = take_lock(tmp_path)
    assert lock is not None
    assert take_lock(tmp_path) is None
    assert writer_of(tmp_path) == os.getpid()
    lock.release()
    lock.release()
    again = take_lock(tmp_path)
    assert again is not None
    again.release()


def test_a_window_that_was_killed_holds_nothing_back(tmp_path: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(tmp_path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline().strip() == b"True"
        assert take_lock(tmp_path) is None
        assert writer_of(tmp_path) == holder.pid
        holder.kill()
    with take_lock(tmp_path) or pytest.fail("the lock was not free"):
        assert writer_of(tmp_path) == os.getpid()


def test_where_nothing_can_be_written_nobody_gets_the_lock(tmp_path: Path) -> None:
    (tmp_path / "daybook").write_bytes(b"")
    assert take_lock(tmp_path) is None
    assert writer_of(tmp_path) is None


def test_nobody_knows_a_writer_where_the_file_says_nothing(tmp_path: Path) -> None:
    (tmp_path / "daybook").mkdir()
    (tmp_path / LOCK_FILE).write_bytes(b"?")
    assert writer_of(tmp_path) is None
