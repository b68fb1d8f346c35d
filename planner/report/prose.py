"""Sentences laid out for a screen."""

from __future__ import annotations

import re
from collections.abc import Iterable

from planner.report.glyphs import harmless, width_of

# Longer than any name or title that was meant as one, code marks included.
_LONGEST_WORDS = 60

# Words in code marks belong together.
_WORDS = re.compile(r"`[^`]*`|[^\s`]+")


def sentence(text: str, encoding: str) -> str:
    """A finding's text as it can be printed: on one line, what is too long cut in the middle."""
    return harmless(_WORDS.sub(_cut, " ".join(text.split())), encoding)


def wrapped(text: str, width: int) -> list[str]:
    """Lines of at most `width` columns; a word that is longer stays whole on a line of its own."""
    lines: list[str] = []
    for word in text.split():
        if lines and width_of(lines[-1]) + 1 + width_of(word) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def _cut(found: re.Match[str]) -> str:
    words = found.group()
    if len(words) <= _LONGEST_WORDS:
        return words
    half = _LONGEST_WORDS // 2 - 1
    return f"{words[:half]} ... {words[-half:]}"


def joined(words: Iterable[str], last: str = "and") -> str:
    """One or several things as in a sentence: ``a, b and c``; empty where there are none."""
    some = list(words)
    return f" {last} ".join(part for part in (", ".join(some[:-1]), *some[-1:]) if part)
