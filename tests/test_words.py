"""Words and numbers as they stand on screen and paper, and texts from outside made harmless."""

from __future__ import annotations

import locale
import unicodedata
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.words import clean, clock, join_words, minute_of, nearest, plural, say_date, say_number


def test_a_text_that_would_recolour_the_terminal_is_made_harmless() -> None:
    assert clean("Burlap \x1b[31mBirds") == "Burlap \ufffd[31mBirds"


def test_line_breaks_and_tabs_become_spaces() -> None:
    assert clean("one\ntwo\tthree\u2028four") == "one two three four"


def test_marks_that_turn_the_direction_of_writing_and_half_characters_go() -> None:
    assert clean("a\u202eb\u2066c\ud80dd\ufeff") == "a\ufffdb\ufffdc\ufffdd\ufffd"


def test_letters_signs_and_joined_emoji_stay_as_they_are() -> None:
    text = "Müller – ½ × “Äpfel” 画 👩\u200d🎨 é"
    assert clean(text) == text


@given(st.text())
def test_no_control_sign_gets_through(text: str) -> None:
    # Unicode's general categories Cc (control), Cs (surrogate), Zl and Zp (separators), by Python's own tables.
    assert not {unicodedata.category(sign) for sign in clean(text)} & {"Cc", "Cs", "Zl", "Zp"}


@given(st.text())
def test_a_cleaned_text_stays_as_it_is(text: str) -> None:
    assert clean(clean(text)) == clean(text)


@pytest.mark.parametrize(
    ("time", "minute"), [("8:05", 485), ("08:05", 485), ("0:00", 0), ("13:15", 795), ("23:59", 1439)]
)
def test_times_of_day_are_minutes_since_midnight(time: str, minute: int) -> None:
    assert minute_of(time) == minute


@given(st.integers(0, 1439))
def test_a_minute_said_as_a_time_is_the_same_minute(minute: int) -> None:
    assert minute_of(clock(minute)) == minute


def test_dates_are_said_in_english_whatever_the_computer_speaks() -> None:
    before = locale.setlocale(locale.LC_TIME)
    try:
        locale.setlocale(locale.LC_TIME, "C")
        for days in range(400):
            day = date(2026, 8, 31) + timedelta(days)
            # The C locale's names are the English ones (POSIX, "LC_TIME Category in the POSIX Locale").
            assert say_date(day) == f"{day:%a} {day.day} {day:%b}"
    finally:
        locale.setlocale(locale.LC_TIME, before)


@pytest.mark.parametrize(
    ("number", "said"), [(4.0, "4"), (2.5, "2.5"), (1 / 3, "0.33"), (0, "0"), (1200, "1200"), (0.05, "0.05")]
)
def test_numbers_are_said_without_needless_digits(number: float, said: str) -> None:
    assert say_number(number) == said


def test_nouns_follow_their_number() -> None:
    assert plural(1, "sheet") == "1 sheet"
    assert plural(2, "sheet") == "2 sheets"
    assert plural(0, "box") == "0 boxes"
    assert plural(24, "child") == "24 children"
    assert plural(3, "supply") == "3 supplies"
    assert plural(3, "day") == "3 days"
    assert plural(2, "day off", "days off") == "2 days off"


def test_words_are_joined_as_in_a_sentence() -> None:
    assert join_words([]) == ""
    assert join_words(["a"]) == "a"
    assert join_words(["a", "b"]) == "a and b"
    assert join_words(["a", "b", "c"], "or") == "a, b or c"


def test_a_slip_of_the_pen_finds_the_word_that_was_meant() -> None:
    assert nearest("Yarn-bal", ["yarn-ball", "needle"]) == "yarn-ball"
    assert nearest("xyzzy", ["yarn-ball", "needle"]) is None
