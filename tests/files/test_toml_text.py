"""Files as people leave them: saved by a word processor, cut off, mistyped, not a file at all."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.files.toml_text import TomlFile, read_toml, read_toml_bytes


def read(text: str) -> TomlFile:
    return read_toml_bytes(text.encode(), "classes.toml")


def told(file: TomlFile) -> list[str]:
    return [str(each) for each in file.problems]


def test_a_good_file_reads_without_a_word(tmp_path: Path) -> None:
    path = tmp_path / "classes.toml"
    path.write_text('# my classes\n[[classes]]\nid = "3-B"\n', encoding="utf-8")
    file = read_toml(path, "classes.toml")
    assert file.data == {"classes": [{"id": "3-B"}]}
    assert file.problems == ()


# ------------------------------------------------------------------------------------------------ not a text file


def test_a_missing_file_says_into_which_folder_it_belongs(tmp_path: Path) -> None:
    file = read_toml(tmp_path / "school.toml", "school.toml")
    assert file.is_missing
    assert told(file) == [f"school.toml: The file is not there. It belongs into the folder {tmp_path}."]


def test_a_folder_in_place_of_a_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "school.toml").mkdir()
    file = read_toml(tmp_path / "school.toml", "school.toml")
    assert told(file) == ["school.toml: There is a folder of this name where the file must be. Rename the folder."]


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="this user may read everything")
def test_a_file_that_may_not_be_read_is_told(tmp_path: Path) -> None:
    path = tmp_path / "school.toml"
    path.write_bytes(b"")
    path.chmod(0)
    assert "You are not allowed to read this file." in told(read_toml(path, "school.toml"))[0]


def test_a_disk_that_refuses_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "school.toml"
    path.write_bytes(b"")

    def refuse(_: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert "You are not allowed to read this file." in told(read_toml(path, "school.toml"))[0]


def test_a_link_to_itself_is_told(tmp_path: Path) -> None:
    path = tmp_path / "school.toml"
    path.symlink_to(path)
    assert "It is a link that leads back to itself." in told(read_toml(path, "school.toml"))[0]


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "school.toml"
    with path.open("wb") as file:
        file.truncate(2_000_001)
    assert "It is larger than 2 MB and was not read." in told(read_toml(path, "school.toml"))[0]


def test_a_picture_in_place_of_a_text_is_told() -> None:
    assert told(read_toml_bytes(b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "school.toml")) == [
        "school.toml: It is not a text file. Put back an earlier copy of it."
    ]


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_a_file_saved_as_utf_16_says_how_to_save_it(encoding: str) -> None:
    mark = "" if encoding == "utf-16" else "\ufeff"
    file = read_toml_bytes((mark + 'name = "x"').encode(encoding), "school.toml")
    assert told(file) == [
        'school.toml: It was saved as UTF-16. Open it in a plain text editor and save it again as "UTF-8".'
    ]


def test_a_letter_of_an_old_encoding_is_told_with_its_line() -> None:
    file = read_toml_bytes('name = "x"\nroom = "Küche"\n'.encode("latin-1"), "school.toml")
    assert told(file)[0].startswith("school.toml, line 2: There is a letter in this line that is not saved as UTF-8.")


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm() -> None:
    file = read_toml_bytes('\ufeffname = "x"\r\nroom = "12"\r\n'.encode(), "school.toml")
    assert file.data == {"name": "x", "room": "12"}
    assert file.problems == ()


# --------------------------------------------------------------------------------------- through a word processor


def test_a_word_processors_quotes_are_read_as_plain_ones_and_told() -> None:
    file = read("name = “Tansy Hollow”\nroom = ‘12’\n")
    assert file.data == {"name": "Tansy Hollow", "room": "12"}
    assert [(each.line, each.level) for each in file.problems] == [(1, "note"), (2, "note")]


def test_slanted_quotes_inside_a_text_are_her_own_words() -> None:
    file = read('title = "the “blue” birds"\n')
    assert file.data == {"title": "the “blue” birds"}
    assert file.problems == ()


def test_slanted_quotes_within_slanted_quotes_and_apostrophes_stay() -> None:
    file = read('a = “the teacher’s "own" tool”\nb = ‘don’t’\nc = "say “yes”"\n')
    assert file.data == {"a": 'the teacher’s "own" tool', "b": "don’t", "c": "say “yes”"}


def test_a_text_with_one_plain_and_one_slanted_quote_is_read() -> None:
    assert read('a = ["one”]\nb = “two"\n').data == {"a": ["one"], "b": "two"}


def test_the_words_in_a_remark_are_left_alone() -> None:
    file = read("a = “x” # my “remark”\n")
    assert file.data == {"a": "x"}
    assert file.text == 'a = "x" # my “remark”\n'


def test_a_word_processors_hard_spaces_are_spaces() -> None:
    assert read("a\u00a0= 1\n").data == {"a": 1}


# ------------------------------------------------------------------------------------------------ mistyped


@pytest.mark.parametrize(
    ("text", "what", "to_do"),
    [
        ("students = 24a", "24a is neither a number nor text in quotes.", 'If it is text, put quotes around it: "24a"'),
        ("room = gym", "gym is neither a number nor text in quotes.", 'If it is text, put quotes around it: "gym"'),
        ('has = ["a", b]', "b is neither a number nor text in quotes.", 'If it is text, put quotes around it: "b"'),
        ("start = 8:05", "8:05 is neither a number nor text in quotes.", 'put quotes around it: "8:05"'),
        ("minutes = 1,5", "1,5 is not a number as it is written here.", "Write it with a point: 1.5"),
        ("first = 2026-13-45", "2026-13-45 is not a date.", "such as 2026-10-05"),
        ("sharp = TRUE", "TRUE is not understood.", "Write true or false in small letters, without quotes."),
        ("sharp = yes", "yes is not understood.", "Write true or false in small letters, without quotes."),
        ("room = ", "Nothing stands after the = sign.", "Write a value there, or take the line out."),
        ("= 3", "Nothing stands before the = sign: = 3", "Write: name = value"),
        ("room 12", "This line has no = sign: room 12", "Write: name = value."),
        ("room: 12", "There is a colon where = must stand: room: 12", "Write: name = value"),
        ("my room = 12", "What stands before the = sign is not one word: my room = 12", "Put it in quotes."),
        ('room = "12', 'The closing quote is missing in: room = "12', "same quote"),
        ("room = '12", "The closing quote is missing in: room = '12", "same quote"),
        ('note = """a', 'The closing quote is missing in: note = """a', "same quote"),
        ('room = "a\\q"', 'A \\ inside quotes is not understood in: room = "a\\q"', "Write / or \\\\ in its place."),
        ('room = "\x1b"', 'There is a sign that cannot be seen in: room = "\ufffd"', "Type this line again."),
        ("tables = [1 2]", "A comma is missing before 2]", ""),
        ("tables = [1, 2", "This list is never closed: tables = [1, 2", "Put ] where it ends."),
        ("cart = { a = 1", "This entry in braces is never closed: cart = { a = 1", "Put } where it ends."),
        ("a = 1\na = 2", "This is there a second time: a = 2", "Keep one of the two."),
        ("[a]\n[a]", "This is there a second time: [a]", "Keep one of the two."),
        ("[[classes]", "This heading is not understood: [[classes]", "A heading is one name in brackets"),
        ("[my cart]", "This heading is not understood: [my cart]", "a name with a space needs quotes."),
        ('room = "12" 14', 'Something stands behind the end of: "12" 14', "Write one value"),
    ],
)
def test_a_mistyped_line_is_told_in_a_teachers_words(text: str, what: str, to_do: str) -> None:
    file = read(text)
    assert file.data is None
    [problem] = file.problems
    assert problem.what == what
    assert to_do in problem.to_do
    assert problem.line == text.count("\n") + 1


def test_all_mistyped_lines_of_a_file_are_told_at_once() -> None:
    file = read('[[classes]]\nid = 3-B\nroom = gym\n\n[[classes]]\nid = "3-K"\nstudents = 24a\n')
    assert [each.line for each in file.problems] == [2, 3, 7]
    assert file.rest == {"classes": [{}, {"id": "3-K"}]}


def test_a_list_left_open_is_told_where_it_begins_not_where_the_next_line_stumbles() -> None:
    file = read('days = ["A", "B"\nname = "x"\n')
    assert told(file) == ['classes.toml, line 1: This list is never closed: days = ["A", "B" Put ] where it ends.']


def test_what_stands_under_a_bad_heading_does_not_look_like_a_repetition() -> None:
    file = read('[[classes]]\nid = "a"\n[[classes]\nid = "b"\n[[classes]]\nid = "c"\n')
    assert [each.line for each in file.problems] == [3]


def test_a_file_full_of_mistakes_tells_twenty_and_stops() -> None:
    assert len(read("x y\n" * 100).problems) == 20


def test_brackets_in_brackets_without_end_are_told() -> None:
    assert len(read("a = " + "[" * 100_000).problems) == 1


def test_a_number_of_ten_thousand_digits_is_told() -> None:
    assert len(read("a = " + "9" * 10_000).problems) == 1


SIGNS = ("[[", "]]", '"""', "'''", "x = 1\n", "id", "24", "1.5", "true", "2026-10-05", "8:05", *"[]{}=.,\n\"'#\\“”‘ \t")
ODD_SIGNS = ("\r", "\x00", "\x1b", "\u00a0", "é", "\ufeff")
SOUP = st.lists(st.sampled_from((*SIGNS, *ODD_SIGNS)), max_size=40).map("".join)


@given(SOUP | st.text(max_size=200))
def test_no_soup_of_signs_ever_raises(text: str) -> None:
    file = read_toml_bytes(text.encode("utf-8", "surrogatepass"), "classes.toml")
    assert file.data is not None or file.problems
    assert all(each.what and "\n" not in str(each) and "\x1b" not in str(each) for each in file.problems)


@given(st.binary(max_size=200))
def test_no_noise_ever_raises(content: bytes) -> None:
    file = read_toml_bytes(content, "classes.toml")
    assert file.data is not None or file.problems


@given(SOUP)
def test_what_the_standard_library_reads_is_read_the_same(text: str) -> None:
    # tomllib is Python's own reader of TOML 1.0.
    try:
        expected = tomllib.loads(text)
    except ValueError:
        return
    if "\x00" not in text and "\r" not in text:
        assert read(text).data == expected
