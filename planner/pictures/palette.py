"""Colours and line looks: what each kind of exit looks like, told apart by more than its colour."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from planner.findings import Severity
from planner.graph import Exit, ExitKind

# The palette of Okabe and Ito, "Color Universal Design" (2002, revised 2008): eight colours that
# people with any of the common kinds of colour vision can tell apart.
BLACK = "#000000"
ORANGE = "#E69F00"
SKY_BLUE = "#56B4E9"
BLUISH_GREEN = "#009E73"
YELLOW = "#F0E442"
BLUE = "#0072B2"
VERMILLION = "#D55E00"
REDDISH_PURPLE = "#CC79A7"

PAPER = "#FFFFFF"
INK = BLACK
QUIET_INK = "#595959"
"""For text that repeats what stands elsewhere."""
CARD_EDGE = "#595959"
TAB = "#E6E6E6"
"""Of what names a group; black on it is easy to read."""
BADGE = BLUE
BADGE_INK = PAPER


class Style(Enum):
    """How a line or frame is stroked; the value is the word that pictures explain it with."""

    SOLID = "solid"
    DASHED = "dashed"
    DOTTED = "dotted"
    DOUBLE = "double"


@dataclass(frozen=True, slots=True)
class Look:
    """What an exit looks like: the stroke of its line and frame, its arrow, and its word."""

    word: str
    meaning: str
    style: Style
    colour: str
    arrow: str

    @property
    def stroke(self) -> int:
        """How thick its frame is drawn, in points; dots need more to be seen."""
        return 2 if self.style is Style.DOTTED else 1


WHEN = Look("when", "a sensor decides", Style.SOLID, BLUE, "normal")
AFTER = Look("after", "the time limit", Style.DASHED, VERMILLION, "onormal")
THEN = Look("then", "the count is used up", Style.DOTTED, INK, "vee")
AT = Look("at", "the match clock", Style.DOUBLE, REDDISH_PURPLE, "diamond")
LOOKS = (WHEN, AFTER, THEN, AT)
"""In the order pictures explain them."""

_BY_KIND = {ExitKind.WHEN: WHEN, ExitKind.AFTER: AFTER, ExitKind.MATCH: AT}


def look_of(way: Exit) -> Look:
    """What an exit looks like."""
    return THEN if way.overflow else _BY_KIND[way.kind]


@dataclass(frozen=True, slots=True)
class Mark:
    """How findings of one severity are marked: a symbol and a fill behind black words."""

    symbol: str
    fill: str


MARKS: Mapping[Severity, Mark] = {
    Severity.ERROR: Mark("■", VERMILLION),
    Severity.WARNING: Mark("▲", ORANGE),
    Severity.NOTE: Mark("○", SKY_BLUE),
}
"""Worst first."""


def luminance(colour: str) -> float:
    """The relative luminance of ``#RRGGBB``, 0 to 1 (WCAG 2.1, definition of the term)."""
    channels = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, 1 to 21 (WCAG 2.1, definition of the term)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)
