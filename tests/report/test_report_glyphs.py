"""How wide characters are, and which are shown by number."""

from __future__ import annotations

import pytest

from planner.report.glyphs import glyphs, harmless, runs_from_the_right, width_of


@pytest.mark.parametrize(
    ("character", "width"),
    [
        # Source: Unicode Standard Annex #11, section 5 and EastAsianWidth.txt.
        ("A", 1),  # Na
        ("ｱ", 1),  # H, half width
        ("\uff21", 2),  # F, full width
        ("灯", 2),  # W
        ("한", 2),  # W
        ("é", 1),
        ("\u0301", 0),  # a combining accent
        ("🤖", 2),  # W
    ],
)
def test_widths_are_those_of_the_standard(character: str, width: int) -> None:
    """Wide and full-width letters take two columns, accents of their own none."""
    assert width == width_of(character)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("plain `words`", "plain `words`"),
        ("bell\x07", "bell<U+0007>"),
        ("zero\u200bwidth", "zero<U+200B>width"),
        ("no\u00a0break", "no<U+00A0>break"),
        ("\ufeffmark", "<U+FEFF>mark"),
        ("line\u2028end", "line<U+2028>end"),
        ("half \ud800", "half <U+D800>"),
        ("می\u200cشود", "می\u200cشود"),
    ],
)
def test_what_is_invisible_is_named(text: str, shown: str) -> None:
    """Invisible and steering characters are shown by number; joiners between letters stay."""
    assert shown == harmless(text, "utf-8")


def test_there_is_one_glyph_a_character() -> None:
    """Columns of places count characters, so glyphs must too."""
    text = "a\t\u0301灯\x1b"
    assert len(text) == len(glyphs(text, "utf-8"))


@pytest.mark.parametrize(
    ("text", "runs"),
    [
        ("plain", []),
        ("a שלום b", [(2, 6)]),
        ("a שלום 12 b", [(2, 9)]),
        ("a 12 שלום b", [(5, 9)]),
        ("אב x גד", [(0, 2), (5, 7)]),
        ("سلام", [(0, 4)]),
    ],
)
def test_runs_from_the_right(text: str, runs: list[tuple[int, int]]) -> None:
    """A run goes from the first such letter to the last one or the last digit (UAX #9, W7, N1)."""
    assert runs == runs_from_the_right(text)
