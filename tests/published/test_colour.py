"""Colours against values that others published."""

from __future__ import annotations

import pytest

from planner.pictures import palette

# WCAG 2.1, "relative luminance" and "contrast ratio". The pairs are exact values of the formula;
# those marked with a technique are printed, rounded, in the W3C's own documents.
AGAINST_WHITE = [
    ("#949494", 3.0335),
    ("#767676", 4.5422),
    ("#777777", 4.4781),
    ("#959595", 2.9953),
    ("#595959", 7.0047),
    ("#5A5A5A", 6.8969),
    ("#FFF000", 1.1854),
    ("#E3660E", 3.4019),  # technique G207 says 3.4
    ("#FF3838", 3.5746),  # technique G195 says 3.6
    ("#FFFF00", 1.0738),
    ("#008000", 5.1374),
    ("#0000FF", 8.5925),
    ("#FF0000", 3.9985),
    ("#003366", 12.6096),
]
OTHER_PAIRS = [
    ("#E5E5E5", "#6221EA", 5.6994),
    ("#FFFF00", "#4189B9", 3.5533),
    ("#4189B9", "#4B933A", 1.0055),
    ("#000000", "#FFFFFF", 21.0),
    ("#123456", "#123456", 1.0),
]
# M. Okabe and K. Ito, "Color Universal Design", 2002, revised 2008: name, hex value; then the
# contrast against white and black by the WCAG formula, worked out apart from this code.
OKABE_ITO = [
    ("BLACK", "#000000", 21.0, 1.0),
    ("ORANGE", "#E69F00", 2.252, 9.324),
    ("SKY_BLUE", "#56B4E9", 2.307, 9.101),
    ("BLUISH_GREEN", "#009E73", 3.421, 6.138),
    ("YELLOW", "#F0E442", 1.322, 15.881),
    ("BLUE", "#0072B2", 5.185, 4.050),
    ("VERMILLION", "#D55E00", 3.867, 5.430),
    ("REDDISH_PURPLE", "#CC79A7", 3.061, 6.860),
]

# WCAG 2.1, success criteria 1.4.3 (text) and 1.4.11 (what is no text).
TEXT = 4.5
NON_TEXT = 3.0


@pytest.mark.parametrize(("colour", "ratio"), AGAINST_WHITE)
def test_contrast_against_white(colour: str, ratio: float) -> None:
    """The contrast of a colour with white is the published one, whichever comes first."""
    assert pytest.approx(ratio, abs=5e-5) == palette.contrast(colour, "#FFFFFF")
    assert palette.contrast("#FFFFFF", colour) == palette.contrast(colour, "#FFFFFF")


@pytest.mark.parametrize(("one", "other", "ratio"), OTHER_PAIRS)
def test_contrast_of_a_pair(one: str, other: str, ratio: float) -> None:
    """The contrast of two colours is the published one."""
    assert pytest.approx(ratio, abs=5e-5) == palette.contrast(one, other)


def test_luminance() -> None:
    """The relative luminance of rgb(255, 129, 0) is the one that a colour library's tests hold."""
    assert pytest.approx(0.36960513804637335, abs=1e-12) == palette.luminance("#FF8100")


@pytest.mark.parametrize(("name", "colour", "white", "black"), OKABE_ITO)
def test_palette(name: str, colour: str, white: float, black: float) -> None:
    """The palette holds Okabe and Ito's values, with the contrasts those have."""
    assert colour == getattr(palette, name)
    assert pytest.approx(white, abs=5e-4) == palette.contrast(colour, "#FFFFFF")
    assert pytest.approx(black, abs=5e-4) == palette.contrast(colour, "#000000")


def test_colours_used_are_of_the_palette() -> None:
    """Marks, lines and badges take their colours from the published palette."""
    published = {colour for _, colour, _, _ in OKABE_ITO}
    used = {look.colour for look in palette.LOOKS} | {m.fill for m in palette.MARKS.values()}
    assert set() == (used | {palette.BADGE, palette.INK}) - published


@pytest.mark.parametrize(
    ("ink", "ground"),
    [
        (palette.INK, palette.PAPER),
        (palette.QUIET_INK, palette.PAPER),
        (palette.BADGE_INK, palette.BADGE),
        *((palette.INK, mark.fill) for mark in palette.MARKS.values()),
    ],
)
def test_text_contrast(ink: str, ground: str) -> None:
    """Text stands out from what it is on by at least 4.5 to 1, not rounded."""
    assert palette.contrast(ink, ground) >= TEXT


@pytest.mark.parametrize("colour", [palette.CARD_EDGE, *(look.colour for look in palette.LOOKS)])
def test_line_contrast(colour: str) -> None:
    """Lines and frames stand out from the paper by at least 3 to 1, not rounded."""
    assert palette.contrast(colour, palette.PAPER) >= NON_TEXT
