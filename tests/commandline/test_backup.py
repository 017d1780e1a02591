"""Backing up and putting back without the screen, also while a window is open and on a computer where nothing is."""

from __future__ import annotations

from pathlib import Path

from checklists.files.backup_contents import contents_of
from tests.commandline.running import Ran, trundle
from tests.days import line_of, opened, packed
from tests.schools import MONDAY, in_the_evening, small_school

ON_MONDAY = ("--at", "15:42")


def a_school(tmp_path: Path) -> Path:
    (tmp_path / "stick").mkdir()
    return in_the_evening(small_school(tmp_path / "school"), contents={"cart": {"scissors": 30}})


def backed_up(school: Path) -> Path:
    ran = trundle("backup", "--to", str(school.parent / "stick"), "--json", *ON_MONDAY, data=school)
    assert ran.status == 0, ran.err
    return Path(ran.fields["made"])


def test_it_says_where_the_backup_is_and_what_is_in_it(tmp_path: Path) -> None:
    school = a_school(tmp_path)
    ran = trundle("backup", "--to", str(tmp_path / "stick"), *ON_MONDAY, data=school)
    (made,) = (tmp_path / "stick").iterdir()
    assert (ran.status, ran.err) == (0, "")
    assert f"Backed up: {made}\n" in ran.out
    assert "Small School, 1 day, the last Fri 2 Oct 2026" in ran.out
    fields = trundle("backup", "--to", str(tmp_path / "stick"), "--as-folder", "--json", data=school).fields
    assert (fields["page"], fields["school"], fields["days"], fields["newest"]) == (
        "backup",
        "Small School",
        1,
        "2026-10-02",
    )
    assert Path(fields["made"]).is_dir()


def test_without_a_place_it_goes_into_her_documents(tmp_path: Path) -> None:
    school, documents = a_school(tmp_path), tmp_path / "My Documents"
    documents.mkdir()
    ran = trundle("backup", "--json", data=school, XDG_DOCUMENTS_DIR=str(documents))
    assert Path(ran.fields["made"]).parent == documents


def test_while_a_window_is_open_what_it_ticked_is_in_it_and_nothing_is_put_back(tmp_path: Path) -> None:
    school = a_school(tmp_path)
    empty = backed_up(school)
    with opened(school) as book:
        book.do(MONDAY, packed(line_of(book.day(MONDAY), "white-12x18")))
        made = backed_up(school)
        refused = trundle("restore", str(empty), "--yes", data=school)
        assert (refused.status, "Another window writes here" in refused.err) == (2, True), refused.err
        assert book.marks(MONDAY).lines
    trundle("restore", str(empty), "--yes", data=school)
    with opened(school) as book:
        assert not book.marks(MONDAY).lines
    trundle("restore", str(made), "--yes", data=school)
    with opened(school) as book:
        assert book.marks(MONDAY).lines


def test_restore_tells_and_does_nothing_before_yes(tmp_path: Path) -> None:
    school = a_school(tmp_path)
    made = backed_up(school)
    with opened(school) as book:
        book.do(MONDAY, packed(line_of(book.day(MONDAY), "white-12x18")))
    before = contents_of(school)
    told = trundle("restore", str(made), data=school)
    assert told.status == 0
    assert "Small School, backed up on" in told.out
    assert "gone from the list: Mon 5 Oct" in told.out
    assert f'trundle restore "{made}" --yes' in told.out
    assert contents_of(school) == before
    done = trundle("restore", str(made), "--yes", "--json", data=school).fields
    assert (done["done"], done["taken_away"], done["days_that_go"]) == (
        True,
        ["daybook/2026-10-05.toml"],
        ["2026-10-05"],
    )
    assert trundle("restore", done["kept"], "--yes", data=school).status == 0
    assert contents_of(school) == before
    same = trundle("restore", done["kept"], data=school)
    assert "Nothing would be different." in same.out


def test_on_a_computer_where_nothing_is_it_is_all_there(tmp_path: Path) -> None:
    school = a_school(tmp_path)
    made = backed_up(school)
    new = tmp_path / "another computer"
    assert "Nothing is here yet" in trundle("restore", str(made), data=new).out
    assert not new.exists()
    done = trundle("restore", str(made), "--yes", "--json", data=new).fields
    assert done["kept"] == ""
    assert contents_of(new) == contents_of(school)
    assert trundle("check", data=new).status == 0


def refused(ran: Ran) -> str:
    assert (ran.status, ran.out) == (2, "")
    return ran.err


def test_a_plan_that_does_not_read_is_backed_up_and_is_not_put_back(tmp_path: Path) -> None:
    """But a good backup is put back over it: that is what one is for."""
    school = a_school(tmp_path)
    good = backed_up(school)
    (school / "classes.toml").write_text("[[classes]\n")
    bad = backed_up(school)
    assert "does not read. classes.toml, line 1" in refused(trundle("restore", str(bad), "--yes", data=school))
    assert trundle("restore", str(good), "--yes", data=school).status == 0
    assert trundle("check", data=school).status == 0


def test_what_was_made_by_a_newer_version_is_not_put_back(tmp_path: Path) -> None:
    school = a_school(tmp_path)
    for name in ("daybook/2026-10-02.toml", "school.toml"):
        kept = (school / name).read_bytes()
        (school / name).write_bytes(b"format = 2\n" + kept.replace(b"format = 1\n", b""))
        made = backed_up(school)
        (school / name).write_bytes(kept)
        assert "newer version of Trundle" in refused(trundle("restore", str(made), "--yes", data=school))


def test_what_is_no_backup_and_a_place_that_is_not_there_are_said_in_words(tmp_path: Path) -> None:
    school = a_school(tmp_path)
    assert "There is no file" in refused(trundle("restore", "nowhere.zip", data=school))
    assert "is no backup" in refused(trundle("restore", str(school), data=school))
    assert "There is no folder" in refused(trundle("backup", "--to", str(tmp_path / "gone"), data=school))
    assert "nothing to back up yet" in refused(trundle("backup", "--to", str(tmp_path), data=tmp_path / "empty"))
