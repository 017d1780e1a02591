"""Several plan files changed as one step from inside an open book: all of them or none, and taken back as one."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from msgspec import structs

from checklists.book import Book, NotSaved
from checklists.files import plan_steps
from checklists.files.year_pending import PENDING
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Item, Supply
from checklists.plan.renaming import rename
from tests.days import line_of, opened, opened_again, packed
from tests.schools import MONDAY, small_school
from tui.main import main
from tui.recorder import Recorder

AT = datetime(2026, 10, 5, 7, 41)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(small_school(tmp_path))


def with_chalk(files: PlanFiles) -> PlanFiles:
    """A new supply that the first lesson needs: two files."""
    chalk = Supply(id="chalk", name="box of [bold]chalk\N{BLACK CHESS QUEEN}")
    lesson = files.lessons[0]
    part = structs.replace(lesson.parts[0], items=(*lesson.parts[0].items, Item("chalk")))
    lesson = structs.replace(lesson, parts=(part, *lesson.parts[1:]))
    return structs.replace(files, supplies=(*files.supplies, chalk), lessons=(lesson, *files.lessons[1:]))


def contents(folder: Path) -> dict[str, bytes]:
    found = [*folder.glob("*.toml"), *folder.glob("lessons/*.toml")]
    return {str(path.relative_to(folder)): path.read_bytes() for path in found}


def test_a_change_of_two_files_is_one_step_and_touches_no_third(book: Book) -> None:
    before, files = contents(book.folder), book.plan_files
    book.change_files(with_chalk(files), "chalk for everybody", AT)
    after = contents(book.folder)
    assert {name for name in after if after[name] != before.get(name)} == {
        "supplies.toml",
        f"lessons/{files.lessons[0].id}.toml",
    }
    assert opened_again(book).plan_files == with_chalk(files)


def test_it_is_taken_back_byte_for_byte_also_after_a_restart(book: Book) -> None:
    before = contents(book.folder)
    book.change_files(with_chalk(book.plan_files), "chalk for everybody", AT)
    again = opened_again(book)
    assert again.take_files_back() == "chalk for everybody"
    assert contents(again.folder) == before
    with pytest.raises(NotSaved, match="No change of the plan is left"):
        again.take_files_back()


def test_what_does_not_fit_is_not_written(book: Book) -> None:
    before, files = contents(book.folder), book.plan_files
    with pytest.raises(NotSaved, match=r"That does not fit.*chalk"):
        book.change_files(structs.replace(with_chalk(files), supplies=files.supplies), "", AT)
    school = structs.replace(files.school, name="x" * 500)
    with pytest.raises(NotSaved, match=r"name is.*at most 400"):
        book.change_files(structs.replace(files, school=school), "", AT)
    assert contents(book.folder) == before and book.newest_files_step() is None


def test_what_was_edited_by_hand_since_is_not_overwritten_by_taking_back(book: Book) -> None:
    book.change_files(with_chalk(book.plan_files), "chalk for everybody", AT)
    supplies = book.folder / "supplies.toml"
    supplies.write_text(supplies.read_text("utf-8") + "# mine\n", "utf-8")
    before = contents(book.folder)
    with pytest.raises(NotSaved, match=r"supplies\.toml was changed otherwise since"):
        opened_again(book).take_files_back()
    assert contents(book.folder) == before


def test_a_disk_that_refuses_the_second_file_leaves_the_first_as_it_was(book: Book, tmp_path: Path) -> None:
    files = with_chalk(book.plan_files)
    before = contents(book.folder)
    blocked = book.folder / "lessons" / f"{files.lessons[0].id}.toml.before"
    blocked.mkdir()  # the version before cannot be kept there
    (blocked / "x").touch()
    with pytest.raises(NotSaved):
        book.change_files(files, "chalk for everybody", AT)
    assert contents(book.folder) == before and not (book.folder / PENDING).exists()
    assert book.plan_files.supplies == opened_again(book).plan_files.supplies


@pytest.mark.parametrize("files_written", [0, 1])
def test_a_start_finishes_a_step_that_was_cut_off(
    book: Book, files_written: int, cut_off: Callable[[int], None]
) -> None:
    files = with_chalk(book.plan_files)
    cut_off(files_written)
    with pytest.raises(KeyboardInterrupt):
        book.change_files(files, "chalk for everybody", AT)
    assert (book.folder / PENDING).exists()
    cut_off(100)
    again = opened_again(book)
    assert again.plan_files == files and not (book.folder / PENDING).exists()
    assert again.take_files_back() == "chalk for everybody"


@pytest.fixture
def cut_off(monkeypatch: pytest.MonkeyPatch) -> Callable[[int], None]:
    """The program ends after so many more plan files are written."""
    left = [100]
    put = plan_steps._put

    def put_or_end(path: Path, content: str | None) -> None:
        if left[0] == 0:
            raise KeyboardInterrupt
        left[0] -= 1
        put(path, content)

    def after(files: int) -> None:
        left[0] = files

    monkeypatch.setattr(plan_steps, "_put", put_or_end)
    return after


def test_undo_takes_back_ticks_and_changes_of_the_plan_in_the_order_they_were_made(book: Book) -> None:
    line = line_of(book.day(MONDAY), "glue-stick")
    book.do(MONDAY, packed(line))
    first = book.marks(MONDAY)
    moment = book.newest_moment(MONDAY) + timedelta(seconds=1)
    book.change_files(with_chalk(book.plan_files), "chalk for everybody", moment)
    again = Recorder(opened_again(book))
    assert again.undo(MONDAY) == "chalk for everybody"
    assert again.book.marks(MONDAY) == first
    assert "glue" in (again.undo(MONDAY) or "")


def test_only_so_many_steps_are_kept(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(plan_steps, "MOST_KEPT", 3)
    for number in range(5):
        school = structs.replace(book.plan_files.school, name=f"School {number}")
        book.change_files(structs.replace(book.plan_files, school=school), school.name, AT)
    assert len(list((book.folder / plan_steps.STEPS).iterdir())) == 3
    assert [book.take_files_back() for _ in range(3)] == ["School 4", "School 3", "School 2"]
    assert book.plan.school.name == "School 1"


def test_by_command_too_the_newest_of_both_is_taken_back_first(book: Book, capsys: pytest.CaptureFixture[str]) -> None:
    before = book.plan_files
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "glue-stick")))
    folder, moment = str(book.folder), book.newest_moment(MONDAY) + timedelta(seconds=1)
    book.change_files(with_chalk(before), "chalk for everybody", moment)
    book.release()
    at = ["--data", folder, "--date", f"{moment:%Y-%m-%d}", "--at", "7:50"]
    assert main(["undo", *at]) == 0 and "Taken back: chalk for everybody" in capsys.readouterr().out
    assert main(["undo", *at]) == 0 and "glue" in capsys.readouterr().out
    assert main(["undo", *at]) == 0 and "nothing to undo" in capsys.readouterr().out
    assert opened(Path(folder)).plan_files == before


def test_what_is_left_of_a_step_and_does_not_read_stops_no_start(book: Book) -> None:
    before = book.plan_files
    (book.folder / PENDING).write_bytes(b'said = "\xff\xfe and nothing else"\n')
    assert opened_again(book).plan_files == before and not (book.folder / PENDING).exists()


def test_rules_that_were_edited_since_are_read_again_before_a_name_goes_into_them(book: Book) -> None:
    own = '[[off]]\nrule = "{}"\nclass_id = "3-B"\nreason = "the aide does it"\n'
    first, second = [each.id for each in book.rules.rules if not each.safety][:2]
    (book.folder / "rules.toml").write_text(own.format(first))
    again = opened_again(book)
    (book.folder / "rules.toml").write_text(own.format(first) + own.format(second))
    renamed = rename(again.plan_files, again.own_rules, "class", "3-B", "3-W")
    with pytest.raises(NotSaved, match="changed outside this window and was read again"):
        again.change_files(renamed.files, "renamed", AT, renamed.own_rules)
    renamed = rename(again.plan_files, again.own_rules, "class", "3-B", "3-W")
    again.change_files(renamed.files, "renamed", AT, renamed.own_rules)
    assert [each.class_id for each in opened_again(again).own_rules.off] == ["3-W", "3-W"]


def test_a_step_that_the_disk_took_but_not_among_the_others_is_the_one_that_is_taken_back(book: Book) -> None:
    before = book.plan_files
    book.change_files(with_chalk(before), "chalk for everybody", AT)
    steps = book.folder / "plan-steps"
    (steps / "1.toml").rename(book.folder / PENDING)  # as it is left where the disk is full just then
    assert book.take_files_back() == "chalk for everybody"
    assert book.plan_files == before and not (book.folder / PENDING).exists() and not list(steps.iterdir())
