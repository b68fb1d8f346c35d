"""A line of a plan with marks under the right words."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.report.excerpt import excerpt
from planner.report.glyphs import width_of
from planner.text import Place, Source


def _excerpt(line: str, words: str, width: int = 60, encoding: str = "utf-8") -> tuple[str, str]:
    start = line.index(words)
    place = Place(Source("x.routine", line), 1, start + 1, start + len(words) + 1)
    return excerpt(place, width, encoding)


def _marked(row: str, marks: str) -> str:
    """What a screen shows above the marks, by the East Asian widths of the Unicode data."""
    columns: list[str] = []
    for character in row:
        if unicodedata.category(character) in ("Mn", "Me"):
            columns[-1] += character
        else:
            wide = unicodedata.east_asian_width(character) in ("W", "F")
            columns += [character, ""] if wide else [character]
    start = len(marks) - len(marks.lstrip())
    return "".join(columns[start : len(marks)])


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("  when bumper pressed, go to Liit", "Liit"),
        ("\twhen bumper pressed,\tgo to Liit", "Liit"),
        ('step Grip "灯をともす" nonsense', "nonsense"),
        ('step Grip "cafe\u0301" nonsense', "nonsense"),
        ('step Grip "\uff57\uff49\uff44\uff45" nonsense', "nonsense"),
        ("Liit", "Liit"),
    ],
)
def test_the_marks_are_under_the_words(line: str, words: str) -> None:
    """Tabs, wide letters and letters with accents of their own leave the marks under the words."""
    assert words == _marked(*_excerpt(line, words))


def test_a_tab_reaches_the_next_fourth_column() -> None:
    """A tab is as wide on the screen as the reader of indentation takes it to be."""
    row, marks = _excerpt("a\tb\t\tLiit", "Liit")
    assert ("a   b       Liit", "            ^^^^") == (row, marks)


def test_a_place_past_the_end_is_marked_there() -> None:
    """Where something is missing at the end of a line, the mark comes after its last word."""
    place = Place(Source("x.routine", "limit"), 1, 6, 7)
    assert ("limit", "     ^") == excerpt(place, 60, "utf-8")


def test_a_line_that_is_not_there_is_marked_all_the_same() -> None:
    """A finding about an empty file has a mark too."""
    assert ("", "^") == excerpt(Place(Source("x.routine", ""), 1, 1, 2), 60, "utf-8")


def test_words_from_right_to_left_are_marked_as_a_whole() -> None:
    """Half of such words would sit at the other end on a terminal that reorders them.

    The stretch that reorders follows Unicode Standard Annex #9, rules W7 and N1: a number after
    letters from right to left goes with them, a left-to-right letter ends it.
    """
    row, marks = _excerpt('step A "שלום עולם 12" x', "עולם")
    assert ('step A "שלום עולם 12" x', "        ^^^^^^^^^^^^") == (row, marks)


def test_words_beside_those_from_right_to_left_are_marked_alone() -> None:
    """Left-to-right words on the same line keep their own marks."""
    assert "wrong" == _marked(*_excerpt('step A "שלום" wrong', "wrong"))


def test_signs_that_turn_the_text_around_are_named() -> None:
    """Text that steers the screen is shown by number, so that no line looks like another one.

    Source: Boucher and Anderson, "Trojan Source: Invisible Vulnerabilities", 2021.
    """
    row, marks = _excerpt('step A "\u202eegdod\u202c" wrong', "wrong")
    assert 'step A "<U+202E>egdod<U+202C>" wrong' == row
    assert "wrong" == _marked(row, marks)


def test_escape_sequences_do_not_reach_the_screen() -> None:
    """A title cannot move the cursor or set colours."""
    row, _ = _excerpt('step A "\x1b[2J" wrong', "wrong")
    assert 'step A "<U+001B>[2J" wrong' == row


def test_what_the_screen_lacks_takes_one_column() -> None:
    """On a screen without wide letters the marks follow the question marks in their stead."""
    row, marks = _excerpt('step A "灯" wrong', "wrong", encoding="cp1252")
    assert ('step A "?" wrong', "           ^^^^^") == (row, marks)


def test_a_long_line_is_cut_around_the_marks() -> None:
    """A line of a megabyte shows the marked words and some of what stands around them."""
    line = "a " * 300_000 + "wrong" + " b" * 300_000
    row, marks = _excerpt(line, "wrong", width=60)
    assert "wrong" == _marked(row, marks)
    assert (True, True, True) == (len(row) <= 60, row.startswith("..."), row.endswith("..."))


def test_a_long_place_is_marked_as_far_as_it_shows() -> None:
    """Marks never run past the line."""
    line = "x" * 5000
    row, marks = _excerpt(line, line, width=60)
    assert ("x" * 54 + "...", "^" * 54) == (row, marks)


@given(
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\n"), max_size=200),
    st.integers(1, 220),
    st.integers(0, 60),
    st.integers(20, 100),
)
def test_nothing_is_wider_than_asked(line: str, column: int, length: int, width: int) -> None:
    """Whatever the line and the place, row and marks fit, and there is at least one mark."""
    place = Place(Source("x.routine", line), 1, column, column + length)
    row, marks = excerpt(place, width, "utf-8")
    assert width_of(row) <= width
    assert len(marks) <= width
    assert marks.endswith("^")
    assert set(marks) <= {" ", "^"}
