"""How much room text takes, and how it is broken into lines that fit."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from functools import lru_cache

SIZE = 10
"""The size of all text on cards, in points of the drawing."""
LINE = 12
"""From one line of it to the next; the layout program sets 1.2 times the size."""


FAMILY = "Helvetica"
"""Metric-compatible families are on every system, and the layout program knows their widths."""

ELLIPSIS = "…"

# Advance widths in thousandths of the size, from U+0020 to U+007E, as published in the Adobe core
# metrics of Helvetica, which Arial and its free stand-ins share.
_ASCII = (
    *(278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278),
    *(556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556),
    *(1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778),
    *(667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556),
    *(333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556),
    *(556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584),
)
_BOLD = 1.08
"""Bold letters are wider; by no more than this in running text."""

# What joins the letters on both sides of it, so that no line may be broken there.
_JOINER = "\u200d"
TIE = "\u00a0"
"""A space at which no line is broken."""
_TIED = re.compile(
    r"(?<=[0-9]) (?=[%A-Za-z°µ])|(?<=[<>=]) | (?==)|(?<=at) (?=most)|(?<=[0-9] of) |(?<=most) "
)
# Marks that turn the direction of all that follows, up to the end of the page.
_TURNERS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")

# A word longer than a line is best broken at a tie, or else after an underscore or dot, or before a
# capital.
_HUMPS = re.compile(r"[^_.\u00a0]*?(?:[_.\u00a0]+|(?<=[a-z0-9])(?=[A-Z])|$)")


def clean(text: str) -> str:
    """`text` without what no picture can hold: control characters and direction overrides."""
    spaced = "".join(" " if c.isspace() and c != TIE else c for c in text)
    return "".join(c for c in spaced if _drawable(c)).strip()


def _drawable(character: str) -> bool:
    if character in _TURNERS or ord(character) & 0xFFFE == 0xFFFE:
        return False
    return unicodedata.category(character) not in ("Cc", "Cs")


def mixed_height(lines: int) -> int:
    """The height of lines that mix bold and plain, which are set without leading, in points."""
    return LINE if lines == 1 else SIZE * lines


def tied(text: str) -> str:
    """`text` with its numbers kept on one line with their unit and what is said of them."""
    return _TIED.sub(TIE, text)


def width(text: str, bold: bool = False, size: float = SIZE) -> float:
    """About how wide `text` is, in points."""
    thousandths = sum(map(_advance, text))
    return thousandths * size / 1000 * (_BOLD if bold else 1)


@lru_cache(maxsize=4096)
def _advance(character: str) -> int:
    code = ord(character)
    if 0x20 <= code <= 0x7E:
        return _ASCII[code - 0x20]
    if unicodedata.combining(character) or unicodedata.category(character) in ("Mn", "Me", "Cf"):
        return 0
    wide = code >= 0x2190 or unicodedata.east_asian_width(character) in "WF"
    return 1000 if wide else 278 if character == TIE else 667


def wrapped(
    text: str, room: float, most: int = 4, bold: bool = False, size: float = SIZE
) -> tuple[str, ...]:
    """`text` in at most `most` lines no wider than `room` points, ended by an ellipsis if cut.

    Words longer than a line are broken, at a tie, underscore, dot or capital if there is one.
    """

    def fits(line: str) -> bool:
        return width(line, bold, size) <= room

    lines: list[str] = []
    for word in filter(None, clean(text).split(" ")):
        if lines and fits(f"{lines[-1]} {word}"):
            lines[-1] += f" {word}"
        else:
            lines.extend(_broken(word, fits))
        if len(lines) > most:
            lines[most - 1 :] = [_ended(lines[most - 1], fits)]
            break
    return tuple(line.replace(TIE, " ") for line in lines)


def _broken(word: str, fits: Callable[[str], bool]) -> list[str]:
    """A word in pieces that fit, each as long as can be."""
    pieces = [""]
    for hump in _HUMPS.findall(word):
        if fits(pieces[-1] + hump):
            pieces[-1] += hump
            continue
        if fits(hump):
            pieces.append(hump)
            continue
        for letters in _letters(hump):
            if pieces[-1] and not fits(pieces[-1] + letters):
                pieces.append("")
            pieces[-1] += letters
    return [piece.strip(TIE) for piece in pieces if piece.strip(TIE)]


def _letters(text: str) -> list[str]:
    """The characters, each with the marks that sit on it."""
    letters: list[str] = []
    for character in text:
        joined = letters and (letters[-1].endswith(_JOINER) or _advance(character) == 0)
        if joined:
            letters[-1] += character
        else:
            letters.append(character)
    return letters


def _ended(line: str, fits: Callable[[str], bool]) -> str:
    letters = _letters(line)
    while letters and not fits("".join(letters) + ELLIPSIS):
        letters.pop()
    return "".join(letters).rstrip() + ELLIPSIS
