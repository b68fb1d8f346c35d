"""Characters of a user's text as a screen shows them: how wide, and none that does harm.

Widths follow Unicode Standard Annex #11, "East Asian Width"; what runs from right to left follows
Unicode Standard Annex #9, "Unicode Bidirectional Algorithm".
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

TAB_WIDTH = 4

# They join or part the letters around them and show nothing themselves.
_JOINERS = frozenset("\u200c\u200d")

# General categories of what is invisible, steers the screen, or has no agreed shape.
_HIDDEN = frozenset({"Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp", "Zs"})

_RIGHT_TO_LEFT = frozenset({"R", "AL", "AN"})


@dataclass(frozen=True, slots=True)
class Glyph:
    """What one character is shown as, and how many columns that takes."""

    text: str
    width: int


def glyphs(text: str, encoding: str) -> list[Glyph]:
    """One glyph a character; a tab reaches to the next multiple of `TAB_WIDTH`."""
    found: list[Glyph] = []
    column = 0
    for character in text:
        if character == "\t":
            width = TAB_WIDTH - column % TAB_WIDTH
            glyph = Glyph(" " * width, width)
        else:
            glyph = _glyph(character, encoding)
        found.append(glyph)
        column += glyph.width
    return found


def harmless(text: str, encoding: str) -> str:
    """A text from outside as it can be printed: invisible and steering characters are named."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_glyph(character, encoding).text for character in text)


def width_of(text: str) -> int:
    """How many columns a text without tabs takes."""
    if text.isascii():
        return len(text)
    return sum(_width(character) for character in text)


def runs_from_the_right(text: str) -> list[tuple[int, int]]:
    """The stretches that some terminals lay out from right to left, as (start, end) of `text`.

    A stretch begins at a letter of such a script and takes in all up to its last letter or digit
    before the next letter of a left-to-right script (rules W7 and N1, in a left-to-right line).
    """
    if text.isascii():
        return []
    found: list[tuple[int, int]] = []
    inside = False
    for position, character in enumerate(text):
        kind = unicodedata.bidirectional(character)
        if kind in _RIGHT_TO_LEFT and not inside:
            found.append((position, position + 1))
            inside = True
        elif inside and (kind in _RIGHT_TO_LEFT or kind == "EN"):
            found[-1] = (found[-1][0], position + 1)
        elif kind == "L":
            inside = False
    return found


def _glyph(character: str, encoding: str) -> Glyph:
    if " " <= character <= "~":
        return Glyph(character, 1)
    if character not in _JOINERS and unicodedata.category(character) in _HIDDEN:
        name = f"<U+{ord(character):04X}>"
        return Glyph(name, len(name))
    try:
        character.encode(encoding)
    except UnicodeEncodeError:
        return Glyph("?", 1)
    return Glyph(character, _width(character))


def _width(character: str) -> int:
    if character in _JOINERS or unicodedata.category(character) in {"Mn", "Me"}:
        return 0
    return 2 if unicodedata.east_asian_width(character) in {"W", "F"} else 1
