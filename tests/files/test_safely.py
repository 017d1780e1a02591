"""Writing on disks that are full, read only or gone, and through crashes."""

from __future__ import annotations

import errno
import os
import resource
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from checklists.files import safely
from checklists.files.safely import NotSaved, append_line, make_folder, replace_file, set_aside

posix_only = pytest.mark.skipif(os.name == "nt", reason="permission bits are those of POSIX")


def refusing(number: int) -> object:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    return refuse


# ------------------------------------------------------------------------------------------------- replacing


def test_a_file_is_replaced_and_the_version_before_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "day.toml"
    for content in (b"one", b"two", b"three"):
        replace_file(path, content)
    assert path.read_bytes() == b"three"
    assert (tmp_path / "day.toml.before").read_bytes() == b"two"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["day.toml", "day.toml.before"]


def test_the_same_content_twice_leaves_nothing_behind(tmp_path: Path) -> None:
    path = tmp_path / "day.toml"
    replace_file(path, b"one")
    os.link(path, tmp_path / "day.toml.before")  # both names are one file, as after a crash between the two steps
    replace_file(path, b"two")
    assert (tmp_path / "day.toml.before").read_bytes() == b"one"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["day.toml", "day.toml.before"]


def test_a_disk_without_second_names_keeps_a_copy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "day.toml"
    replace_file(path, b"one")
    monkeypatch.setattr(os, "link", refusing(errno.EPERM))
    replace_file(path, b"two")
    assert (tmp_path / "day.toml.before").read_bytes() == b"one"


@posix_only
def test_files_and_folders_can_be_opened_by_their_owner_only(tmp_path: Path) -> None:
    make_folder(tmp_path / "data" / "daybook")
    replace_file(tmp_path / "data" / "daybook" / "day.toml", b"x")
    append_line(tmp_path / "data" / "daybook" / "day.journal", b"x")
    assert stat.S_IMODE((tmp_path / "data" / "daybook").stat().st_mode) == 0o700
    for name in ("day.toml", "day.journal"):
        assert stat.S_IMODE((tmp_path / "data" / "daybook" / name).stat().st_mode) == 0o600


@posix_only
def test_a_link_stays_a_link_and_the_file_behind_it_is_replaced(tmp_path: Path) -> None:
    (tmp_path / "synced").mkdir()
    (tmp_path / "synced" / "school.toml").write_bytes(b"old")
    (tmp_path / "school.toml").symlink_to(tmp_path / "synced" / "school.toml")
    replace_file(tmp_path / "school.toml", b"new")
    assert (tmp_path / "school.toml").is_symlink()
    assert (tmp_path / "synced" / "school.toml").read_bytes() == b"new"
    assert (tmp_path / "synced" / "school.toml.before").read_bytes() == b"old"


def test_a_sync_program_that_holds_the_file_for_a_moment_is_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "day.toml"
    replace_file(path, b"one", keep_before=False)
    monkeypatch.setattr(safely, "_WAITS", (0.0, 0.0, 0.0))
    held = [PermissionError(errno.EACCES, "held"), PermissionError(errno.EACCES, "held")]
    original = Path.replace

    def busy(self: Path, target: Path) -> Path:
        if held:
            raise held.pop()
        return original(self, target)

    monkeypatch.setattr(Path, "replace", busy)
    replace_file(path, b"two", keep_before=False)
    assert path.read_bytes() == b"two"


@pytest.mark.parametrize("step", ["write", "fsync", "link", "replace", "open"])
@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO, errno.EROFS, errno.EACCES])
def test_whatever_step_is_refused_the_old_version_stays_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str, number: int
) -> None:
    path = tmp_path / "day.toml"
    replace_file(path, b"old")
    if step == "replace":
        monkeypatch.setattr(Path, "replace", refusing(number))
    else:
        monkeypatch.setattr(os, step, refusing(number))
    if step == "link":  # is done another way
        replace_file(path, b"new")
        assert path.read_bytes() == b"new"
        return
    with pytest.raises(NotSaved):
        replace_file(path, b"new")
    assert path.read_bytes() == b"old"
    monkeypatch.undo()
    assert not [each for each in tmp_path.iterdir() if each.name.endswith(".new")]


@pytest.mark.parametrize(
    ("number", "said"),
    [
        (errno.ENOSPC, "the disk is full. Delete or move something else, then do this again."),
        (errno.EROFS, "this disk can only be read."),
        (errno.EACCES, "the computer does not allow it."),
        (errno.ENOENT, "the folder is gone."),
        (errno.EIO, "the disk refused"),
    ],
)
def test_a_refused_write_says_why_what_to_do_and_where(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, said: str
) -> None:
    monkeypatch.setattr(os, "write", refusing(number))
    with pytest.raises(NotSaved) as refused:
        replace_file(tmp_path / "day.toml", b"new")
    assert refused.value.message.startswith(said)
    assert refused.value.message.endswith(f"What was saved before is not damaged: day.toml in {tmp_path}.")


def test_a_folder_of_the_same_name_is_in_the_way(tmp_path: Path) -> None:
    (tmp_path / "day.toml").mkdir()
    with pytest.raises(NotSaved, match="something else of this name stands in the way"):
        replace_file(tmp_path / "day.toml", b"new", keep_before=False)


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="this user may write everywhere")
def test_a_folder_that_may_not_be_written_is_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(NotSaved, match="the computer does not allow it"):
        append_line(tmp_path / "day.journal", b"x")


# ------------------------------------------------------------------------------------------------- adding lines


def test_lines_are_added_one_below_the_other(tmp_path: Path) -> None:
    path = tmp_path / "day.journal"
    append_line(path, b"one")
    append_line(path, b"two\n")
    assert path.read_bytes() == b"one\ntwo\n"


def test_after_a_line_cut_off_by_a_crash_the_next_one_starts_afresh(tmp_path: Path) -> None:
    path = tmp_path / "day.journal"
    path.write_bytes(b"one\ntw")
    append_line(path, b"three")
    assert path.read_bytes() == b"one\ntw\nthree\n"


@posix_only
def test_a_disk_that_fills_up_in_the_middle_of_a_line_leaves_no_half_line(tmp_path: Path) -> None:
    path = tmp_path / "day.journal"
    path.write_bytes(b"x" * 90 + b"\n")
    limits = resource.getrlimit(resource.RLIMIT_FSIZE)
    before = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (100, limits[1]))
        with pytest.raises(NotSaved, match="the disk is full"):
            append_line(path, b"y" * 50)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
        signal.signal(signal.SIGXFSZ, before)
    assert path.read_bytes() == b"x" * 90 + b"\n"
    append_line(path, b"z")
    assert path.read_bytes() == b"x" * 90 + b"\nz\n"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
def test_a_full_disk_is_told_as_the_system_tells_it() -> None:
    with pytest.raises(NotSaved, match="the disk is full"):
        append_line(Path("/dev/full"), b"x")


@posix_only
def test_a_program_killed_while_it_writes_leaves_a_whole_file(tmp_path: Path) -> None:
    path = tmp_path / "day.toml"
    code = (
        "import sys; from pathlib import Path; from checklists.files.safely import replace_file\n"
        "print('ready', flush=True)\n"
        "for i in range(10**6): replace_file(Path(sys.argv[1]), b'%06d' % i * 20000)"
    )
    for _ in range(3):
        with subprocess.Popen([sys.executable, "-c", code, str(path)], stdout=subprocess.PIPE) as writer:
            assert writer.stdout is not None
            writer.stdout.readline()
            while not (tmp_path / "day.toml.before").exists() and writer.poll() is None:
                os.sched_yield()
            writer.kill()
        for each in (path, tmp_path / "day.toml.before"):
            content = each.read_bytes()
            assert len(content) == 120_000
            assert content == content[:6] * 20_000


def test_a_file_set_aside_never_takes_the_place_of_another(tmp_path: Path) -> None:
    path = tmp_path / "2026-10-05.toml"
    for content in (b"one", b"two"):
        path.write_bytes(content)
        set_aside(path)
    assert (tmp_path / "2026-10-05.damaged-1.toml").read_bytes() == b"one"
    assert (tmp_path / "2026-10-05.damaged-2.toml").read_bytes() == b"two"
    assert not path.exists()
