"""Bytes of any encoding, and text with anything between the cells, become the same cells."""

from __future__ import annotations

import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.bringing_in.decoding import read_text
from checklists.bringing_in.table import LONGEST_CELL, MOST_ROWS, read_table
from checklists.words import clean

PENA = "Class,Teacher\n3-B,Peña\n2-R,O’Brien\n"
"""The names are invented."""


def cells(text: str) -> list[tuple[str, ...]]:
    return [row.cells for row in read_table(text).rows]


@pytest.mark.parametrize(
    ("encoding", "guessed"),
    [
        ("utf-8", ""),
        ("utf-8-sig", ""),
        ("utf-16", ""),
        ("utf-16-le", "UTF-16"),
        ("utf-16-be", "UTF-16"),
        ("utf-32", ""),
        ("cp1252", "Windows text (Windows-1252)"),
        ("mac-roman", "old Mac text (Mac Roman)"),
    ],
)
def test_a_name_with_an_accent_reads_in_every_encoding(encoding: str, guessed: str) -> None:
    read = read_text(PENA.encode(encoding))
    assert read.text == PENA
    assert read.guessed == guessed
    assert read.example in ("", "3-B,Peña")


def test_a_mac_file_with_its_own_line_ends_is_known_by_them_as_well() -> None:
    # The byte is É in Windows-1252 and … in Mac Roman. Source: the tables of the two in Python.
    content = b"class\rstudents\r\xc9\r"
    assert read_text(content).text.endswith("…\r")
    assert cells(read_text(content).text) == [("class",), ("students",), ("…",)]


@pytest.mark.parametrize(
    ("text", "separator"),
    [
        ("3-B\t24\t12\n3-K\t25\t14\n", "tabs"),
        ("3-B,24,12\r\n3-K,25,14\r\n", "commas"),
        ("3-B;24;12\r3-K;25;14\r", "semicolons"),
        ("3-B | 24 | 12\n----|----|---\n3-K | 25 | 14\n", "bars"),
        ("3-B     24    12\n3-K     25    14\n", "two or more spaces"),
        ('"3-B","24","12"\n\n\n"3-K",25,14', "commas"),
        ("3-B, 24, 12\n3-K, 25, 14", "commas"),
    ],
)
def test_what_stands_between_the_cells_is_found_out(text: str, separator: str) -> None:
    table = read_table(text)
    assert [row.cells for row in table.rows] == [("3-B", "24", "12"), ("3-K", "25", "14")]
    assert table.separator == separator


def test_commas_of_prose_do_not_part_a_row_from_a_web_page() -> None:
    assert cells("Sep 7, 2026   Labor Day\nNov 26, 2026   Thanksgiving") == [
        ("Sep 7, 2026", "Labor Day"),
        ("Nov 26, 2026", "Thanksgiving"),
    ]


def test_rows_have_the_numbers_of_a_spreadsheet() -> None:
    text = 'Class,Note\n\n3-B,"two\nlines"\n,,\n3-K,x\n'
    assert [(row.number, row.cells) for row in read_table(text).rows] == [
        (1, ("Class", "Note")),
        (3, ("3-B", "two lines")),
        (5, ("3-K", "x")),
    ]


def test_a_quotation_mark_that_is_not_closed_costs_one_row_and_is_told() -> None:
    table = read_table('3-B,24,12\n3-K,"25,14\n2-R,23,11\n')
    assert [row.cells for row in table.rows] == [("3-B", "24", "12"), ("3-K", "25", "14"), ("2-R", "23", "11")]
    assert table.open_quote == 2


def test_inches_are_no_quotation_marks() -> None:
    assert cells('white paper 12" x 18",400\nyarn,20\n') == [('white paper 12" x 18"', "400"), ("yarn", "20")]


def test_cells_are_text_only_and_harmless() -> None:
    (row,) = read_table("=1+1\t[b]x[/b]\t\x1b[31mred\t\u202eabc\t👩‍🎨\t@SUM(A1)\n").rows
    assert row.cells == ("=1+1", "[b]x[/b]", "\ufffd[31mred", "\ufffdabc", "👩‍🎨", "@SUM(A1)")


def test_more_rows_than_a_school_has_are_left_out_and_counted() -> None:
    table = read_table("a,1\n" * (MOST_ROWS + 7))
    assert (len(table.rows), table.left_out) == (MOST_ROWS, 7)


@given(st.binary(max_size=300))
def test_no_bytes_are_refused(content: bytes) -> None:
    for row in read_table(read_text(content).text).rows:
        assert all(clean(cell) == cell and len(cell) <= LONGEST_CELL for cell in row.cells)


@given(st.text(max_size=300))
def test_no_text_is_refused(text: str) -> None:
    read_table(text)


WORDS = st.text(st.characters(codec="utf-8", exclude_characters="\r\n\t,;|\x00\ufeff\u200b", exclude_categories=["Cs"]))
CELLS = st.one_of(WORDS.filter(lambda each: "  " not in each), st.just('a "quoted" word'), st.just("two\nlines"))


def tables(cell: st.SearchStrategy[str]) -> st.SearchStrategy[list[list[str]]]:
    filled = cell.map(lambda each: f"x{each}")
    return st.integers(2, 5).flatmap(
        lambda width: st.lists(st.lists(filled, min_size=width, max_size=width), min_size=2)
    )


def written(table: list[list[str]], delimiter: str, quoting: int, line_end: str) -> str:
    stream = StringIO(newline="")
    csv.writer(stream, delimiter=delimiter, quoting=quoting, lineterminator=line_end).writerows(table)  # type: ignore[arg-type]
    return stream.getvalue()


@given(
    tables(CELLS),
    st.sampled_from("\t;|,"),
    st.sampled_from(
        [(csv.QUOTE_MINIMAL, "\r\n"), (csv.QUOTE_MINIMAL, "\n"), (csv.QUOTE_ALL, "\r"), (csv.QUOTE_ALL, "\n")]
    ),
    st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-32"]),
)
def test_what_the_csv_module_writes_reads_back_as_the_same_cells(
    table: list[list[str]], delimiter: str, way: tuple[int, str], encoding: str
) -> None:
    content = written(table, delimiter, *way).encode(encoding)
    expected = [tuple(" ".join(clean(cell).split())[:LONGEST_CELL] for cell in row) for row in table]
    assert cells(read_text(content).text) == expected


@given(tables(st.sampled_from(["a,b", "c;d", "e|f", "g\th", "i", "j k"])), st.sampled_from("\t;|,"))
def test_separators_within_quotes_part_nothing(table: list[list[str]], delimiter: str) -> None:
    text = written(table, delimiter, csv.QUOTE_ALL, "\n")
    assert cells(text) == [tuple(cell.replace("\t", " ") for cell in row) for row in table]
