"""A backup holds everything of hers and nothing else, is whole or not there, and what is no backup is refused."""

from __future__ import annotations

import os
import stat
import zipfile
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from shutil import copytree

import pytest

from checklists.backup.about import ABOUT, LIST_BEGINS, CannotPutBack, about, about_text, read_about
from checklists.backup.naming import backup_name
from checklists.demo import SIGN
from checklists.files.backup_contents import BACKUPS, contents_of
from checklists.files.backup_making import archive_of, make_backup, write_backup
from checklists.files.backup_places import Place, backups_in, drives_below, offered
from checklists.files.backup_putting_back import put_back
from checklists.files.backup_reading import look_into, read_backup
from checklists.files.last_good import CACHE_FILE
from checklists.files.lock import LOCK_FILE
from checklists.files.safely import NotSaved
from checklists.sheets import keep_sheet, sheet_of
from tests.days import at, line_of, opened, packed
from tests.schools import MONDAY, demo_school, in_the_evening, small_school

SAID = about("Small School", datetime(2026, 10, 5, 15, 42), {"school.toml": b"name = 1"})


@pytest.fixture
def school(tmp_path: Path) -> Path:
    """Mon 5 Oct of the small school, with a tick that is in the journal only."""
    folder = in_the_evening(small_school(tmp_path / "school"), contents={"cart": {"scissors": 30}})
    book = opened(folder)
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "white-12x18")))
    keep_sheet(book, sheet_of(book, MONDAY, at("7:45")))
    book.only_look("as after a crash: nothing is folded")
    return folder


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    (tmp_path / "stick").mkdir()
    return tmp_path / "stick"


def every_file(folder: Path) -> dict[str, bytes]:
    found = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in found}


# ------------------------------------------------------------------------------------------------ what is in it


def test_everything_of_hers_is_in_it_and_what_can_be_made_again_is_not(school: Path, stick: Path) -> None:
    (school / "daybook" / f".2026-10-05.toml.{os.getpid()}.new").write_bytes(b"only just being written")
    (school / "holiday.jpg").write_bytes(b"not Trundle's")
    made = make_backup(school, stick, at("15:42"))
    kept = read_backup(made)
    strange = {CACHE_FILE, "cache/closed-day.msgpack", LOCK_FILE, "holiday.jpg"}
    expected = {name: what for name, what in every_file(school).items() if name not in strange and "/." not in name}
    assert kept.contents == expected
    assert {"daybook/2026-10-05.journal", "sheets/2026-10-05.html", "school.toml"} <= kept.contents.keys()
    assert (kept.about.school, kept.about.made, kept.about.days) == ("Small School", at("15:42"), 2)


def test_its_name_is_taken_by_every_disk_and_a_second_one_of_a_day_gets_a_number(school: Path, stick: Path) -> None:
    names = [make_backup(school, stick, at("15:42"), as_folder=each).name for each in (False, True, False)]
    begin = "trundle-small-school-2026-10-05"
    assert names == [f"{begin}.zip", f"{begin}-2", f"{begin}-3.zip"]
    assert backup_name("École «Sörgel» / 3", MONDAY) == "trundle-ecole-sorgel-3-2026-10-05"
    assert backup_name("學校", MONDAY, 2) == "trundle-school-2026-10-05-2"


def test_any_program_that_unpacks_archives_gives_a_folder_that_opens(school: Path, stick: Path, tmp_path: Path) -> None:
    made = make_backup(school, stick, at("15:42"))
    with zipfile.ZipFile(made) as archive:
        assert archive.testzip() is None
        archive.extractall(tmp_path / "unpacked")
        text = archive.read(ABOUT).decode()
    with opened(tmp_path / "unpacked") as book, opened(school) as here:
        assert book.marks(MONDAY).lines == here.marks(MONDAY).lines
    assert f"trundle restore {made.name}" in text
    assert max(len(line) for line in text.partition(LIST_BEGINS)[0].splitlines()) <= 80
    assert str(tmp_path) not in text


def test_only_she_can_read_it(school: Path, stick: Path) -> None:
    assert make_backup(school, stick, at()).stat().st_mode & 0o777 == 0o600
    assert make_backup(school, stick, at(), as_folder=True).stat().st_mode & 0o777 == 0o700


def test_a_folder_that_can_only_be_read_is_backed_up_too(school: Path, stick: Path) -> None:
    for each in (school / "daybook", school):
        each.chmod(0o500)
    try:
        assert read_backup(make_backup(school, stick, at())).contents == contents_of(school)
    finally:
        for each in (school, school / "daybook"):
            each.chmod(0o700)


def test_nothing_is_left_where_it_cannot_be_written_and_what_was_cut_off_long_ago_goes(
    school: Path, stick: Path
) -> None:
    long_ago = stick / ".trundle-small-school-2026-10-01.zip.new"
    long_ago.write_bytes(b"half of it")
    os.utime(long_ago, (stick.stat().st_mtime - 4000,) * 2)
    in_the_way = stick / f"..trundle-small-school-2026-10-05.zip.new.{os.getpid()}.new"
    in_the_way.mkdir()
    with pytest.raises(NotSaved, match="something else of this name stands in the way"):
        make_backup(school, stick, at())
    assert [each.name for each in stick.iterdir()] == [in_the_way.name]
    with pytest.raises(NotSaved, match="There is no folder"):
        make_backup(school, stick / "gone", at())
    with pytest.raises(NotSaved, match="the folder that is being backed up"):
        make_backup(school, school / "daybook", at())
    with pytest.raises(NotSaved, match="nothing to back up yet"):
        make_backup(stick / "empty", stick, at())


# ---------------------------------------------------------------------------------------------- what is refused


def rewritten(path: Path, change: Callable[[dict[str, bytes]], object], into: Path) -> Path:
    """The same archive with other entries."""
    with zipfile.ZipFile(path) as archive:
        entries = {each.filename: archive.read(each) for each in archive.infolist()}
    change(entries)
    with zipfile.ZipFile(into, "w") as archive:
        for name, content in entries.items():
            archive.writestr(name, content)
    return into


def listing(name: str, size: int = 3) -> bytes:
    """A list of files as somebody would write it who means harm."""
    return about_text(SAID, "x.zip").replace("school.toml", name).replace("        8 ", f"{size:>9} ").encode()


BAD: tuple[tuple[str, Callable[[dict[str, bytes]], object]], ...] = (
    ("kits.toml is missing", lambda all_: all_.pop("kits.toml")),
    ("kits.toml is not as it was", lambda all_: all_.update({"kits.toml": all_["kits.toml"][:-1] + b"#"})),
    ("no backup made by Trundle", lambda all_: all_.pop(ABOUT)),
    ("the list of its files is missing", lambda all_: all_.update({ABOUT: b"Hello"})),
    ("the list of its files is damaged", lambda all_: all_.update({ABOUT: all_[ABOUT][:-40]})),
    ("a newer version", lambda all_: all_.update({ABOUT: all_[ABOUT].replace(b"\nformat: 1", b"\nformat: 2")})),
    ("leads out of the folder", lambda all_: all_.update({"../school.toml": b"x"})),
    ("leads out of the folder", lambda all_: all_.update({"/etc/school.toml": b"x"})),
    ("leads out of the folder", lambda all_: all_.update({"C:school.toml": b"x"})),
    ("a sign in it", lambda all_: all_.update({"..\\school.toml": b"x"})),
    ("leads out of the folder", lambda all_: all_.update({ABOUT: listing("../../school.toml")})),
    ("leads out of the folder", lambda all_: all_.update({ABOUT: listing("lessons/./x.toml")})),
    ("far larger", lambda all_: all_.update({ABOUT: listing("school.toml", 99_000_000_000)})),
)


@pytest.mark.parametrize("case", range(len(BAD)))
def test_an_archive_with_anything_wrong_is_refused_in_words(case: int, school: Path, stick: Path) -> None:
    said, change = BAD[case]
    bad = rewritten(make_backup(school, stick, at()), change, stick / "bad.zip")
    with pytest.raises(CannotPutBack, match=said):
        read_backup(bad)


def test_a_damaged_archive_is_refused_wherever_the_damage_is(school: Path, stick: Path) -> None:
    whole = make_backup(school, stick, at()).read_bytes()
    bad = stick / "bad.zip"
    for place in range(0, len(whole), 211):
        bad.write_bytes(whole[:place] + bytes([whole[place] ^ 0x55]) + whole[place + 1 :])
        try:
            found = read_backup(bad)
        except CannotPutBack:
            continue
        assert found.contents == contents_of(school)  # a date or a mark of the archive itself, which nothing depends on
    for end in range(0, len(whole), 997):
        bad.write_bytes(whole[:end])
        with pytest.raises(CannotPutBack):
            read_backup(bad)


def test_what_becomes_larger_than_it_says_is_never_unpacked(stick: Path) -> None:
    """40 MB of zeros in an archive of 40 kB, named a file of 8 bytes; then one that says itself that it is huge."""
    bomb = stick / "bomb.zip"
    with zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(ABOUT, about_text(SAID, "bomb.zip"))
        with archive.open("school.toml", "w") as entry:
            for _ in range(40):
                entry.write(bytes(1_000_000))
    with pytest.raises(CannotPutBack, match="not as it was"):
        read_backup(bomb)
    with zipfile.ZipFile(bomb, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.getinfo("school.toml").file_size = 500_000_000
        archive.writestr("more.toml", b"")
    with pytest.raises(CannotPutBack, match="far larger"):
        read_backup(bomb)


def test_an_archive_with_a_link_or_twins_in_it_is_refused(stick: Path) -> None:
    for name, kind, twice, said in (("link", stat.S_IFLNK, False, "links"), ("twins", stat.S_IFREG, True, "twice")):
        path = stick / f"{name}.zip"
        with zipfile.ZipFile(path, "w") as archive:
            archive.writestr(ABOUT, about_text(SAID, path.name))
            entry = zipfile.ZipInfo("school.toml")
            entry.external_attr = (kind | 0o600) << 16
            archive.writestr(entry, "/etc/passwd")
            if twice:
                with pytest.warns(UserWarning):
                    archive.writestr("school.toml", "x")
        with pytest.raises(CannotPutBack, match=said):
            read_backup(path)


def test_a_folder_with_a_link_in_it_is_refused(school: Path, stick: Path) -> None:
    made = make_backup(school, stick, at(), as_folder=True)
    (made / "kits.toml").unlink()
    (made / "kits.toml").symlink_to(school / "kits.toml")
    with pytest.raises(CannotPutBack, match="links"):
        read_backup(made)


def test_what_is_no_backup_at_all_is_said_so(stick: Path) -> None:
    (stick / "letter.txt").write_text("Dear parents")
    for path, said in (
        (stick / "letter.txt", "is no backup"),
        (stick, "is no backup"),
        (stick / "gone.zip", "There is no file"),
    ):
        with pytest.raises(CannotPutBack, match=said):
            look_into(path)


def test_packed_anew_by_another_program_it_is_still_one(school: Path, stick: Path) -> None:
    """In a folder of its own, with what some systems add, names of accents taken apart, and other line ends."""
    made = make_backup(school, stick, at())
    (school / "lessons" / "caf\u00e9.toml").write_bytes((school / "lessons" / "paper-hills.toml").read_bytes())
    made = make_backup(school, stick, at())
    again = stick / "again.zip"
    with zipfile.ZipFile(made) as archive, zipfile.ZipFile(again, "w") as other:
        for each in archive.infolist():
            content = archive.read(each)
            name = each.filename.replace("\u00e9", "e\u0301")
            other.writestr(f"{made.stem}/{name}", content.replace(b"\n", b"\r\n") if name == ABOUT else content)
        other.writestr(f"__MACOSX/{made.stem}/._{ABOUT}", b"\0")
        other.writestr(f"{made.stem}/.DS_Store", b"\0")
    assert read_backup(again).contents == contents_of(school)
    text = b"\xef\xbb\xbf" + about_text(SAID, "x.zip").replace("\n", "\r\n").encode()
    assert read_about(text, "x.zip") == SAID


# -------------------------------------------------------------------------------------------------- putting back


def test_put_back_every_file_is_as_it_was_and_what_came_since_is_gone(school: Path, stick: Path) -> None:
    before = contents_of(school)
    backup = read_backup(make_backup(school, stick, at()))
    (school / "lessons" / "new-one.toml").write_bytes(before["lessons/paper-hills.toml"])
    (school / "kits.toml").unlink()
    (school / "daybook" / "2026-10-05.journal").rename(school / "daybook" / "2026-10-06.journal")
    (school / "lessons" / "drafts").mkdir()
    (school / "lessons" / "drafts" / "x.toml").write_bytes(b"")
    (school / "holiday.jpg").write_bytes(b"not Trundle's")
    then = contents_of(school)
    kept = put_back(school, backup, at("16:00"))
    assert contents_of(school) == before
    assert not (school / "lessons" / "drafts").exists()
    assert (school / "holiday.jpg").exists()
    assert kept == school / BACKUPS / "trundle-small-school-2026-10-05.zip"
    put_back(school, read_backup(kept), at("16:01"))
    assert contents_of(school) == then


def test_a_file_that_is_a_link_stays_one(school: Path, stick: Path, tmp_path: Path) -> None:
    backup = read_backup(make_backup(school, stick, at()))
    elsewhere = tmp_path / "kits in the cloud.toml"
    (school / "kits.toml").rename(elsewhere)
    elsewhere.write_bytes(b"# other\n")
    (school / "kits.toml").symlink_to(elsewhere)
    put_back(school, backup, at())
    assert (school / "kits.toml").is_symlink()
    assert elsewhere.read_bytes() == backup.contents["kits.toml"]


def test_where_the_disk_refuses_in_the_middle_all_is_as_it_was(school: Path, stick: Path) -> None:
    backup = read_backup(make_backup(school, stick, at()))
    for name in ("classes.toml", "school.toml"):
        (school / name).write_bytes((school / name).read_bytes() + b"# later\n")
    then = contents_of(school)
    in_the_way = school / f".school.toml.{os.getpid()}.new"
    in_the_way.mkdir()
    with pytest.raises(NotSaved, match="stands in the way"):
        put_back(school, backup, at())
    assert contents_of(school) == then


def test_the_demo_school_and_hers_are_kept_apart(school: Path, stick: Path, tmp_path: Path) -> None:
    demo_school(tmp_path / "demo")
    own, demo = (read_backup(make_backup(each, stick, at())) for each in (school, tmp_path / "demo"))
    with pytest.raises(NotSaved, match="made anew at any time"):
        put_back(tmp_path / "demo", own, at())
    with pytest.raises(NotSaved, match="a backup of the demo school"):
        put_back(school, demo, at())
    put_back(tmp_path / "demo", demo, at())
    assert (tmp_path / "demo" / SIGN).exists()


# --------------------------------------------------------------------------------------------------------- places


def test_only_places_that_are_there_and_can_be_written_are_offered(tmp_path: Path) -> None:
    for name in ("Documents", "locked", "media/her/STICK", "media/DISK"):
        (tmp_path / name).mkdir(parents=True)
    (tmp_path / "Desktop").symlink_to(tmp_path / "Documents")
    (tmp_path / "locked").chmod(0o500)
    media = tmp_path / "media"
    plugged_in = {media / "her" / "STICK", media / "DISK"}
    drives = list(drives_below(media, tmp_path / "gone", is_drive=plugged_in.__contains__))
    asked = [Place(each, tmp_path / each) for each in ("Documents", "Desktop", "gone", "locked")]
    found = offered((*asked, *drives))
    expected = ["Documents", "DISK", "STICK"] if os.getuid() else ["Documents", "locked", "DISK", "STICK"]
    assert [each.name for each in found] == expected  # the system's own administrator can write anywhere


def test_the_backups_there_are_are_found_the_newest_first_and_damaged_ones_last(school: Path, stick: Path) -> None:
    (stick / "trundle-small-school-2026-12-01.zip").write_bytes(b"PK damaged")
    (stick / "trundle-pictures").mkdir()
    write_backup(contents_of(school), stick, at("9:00"))
    make_backup(school, stick, at("15:42"), as_folder=True)
    put_back(school, read_backup(stick / "trundle-small-school-2026-10-05.zip"), at("16:00"))
    found = backups_in((Place("STICK", stick),), school)
    assert [(each.place, each.about.made.hour) for each in found if each.about] == [
        ("kept here", 16),
        ("STICK", 15),
        ("STICK", 9),
    ]
    assert all("no backup" in each.said for each in found if each.about is None)
    assert len(found) == 5


def test_archives_are_the_same_wherever_they_are_made(school: Path, tmp_path: Path) -> None:
    contents = contents_of(school)
    copytree(school, tmp_path / "copied")
    again = contents_of(tmp_path / "copied")
    said = about("Small School", at(), contents)
    assert archive_of(said, contents, "x.zip") == archive_of(said, again, "x.zip")


def test_a_place_that_no_folder_can_be_is_said_so(school: Path, stick: Path) -> None:
    for place in (stick / ("a" * 300), stick / "not\x00there"):
        with pytest.raises(NotSaved, match="There is no folder"):
            make_backup(school, place, at())
