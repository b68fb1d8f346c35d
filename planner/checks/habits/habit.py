"""One habit: how to recognise it, and what to write instead."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

NAME = r"[A-Za-z_]\w*"
NUMBER = r"[+-]?\d+(?:\.\d+)?"
UNIT = r"(?:%|[A-Za-z°µ]+(?:/[A-Za-z]+)?)"
QUANTITY = rf"{NUMBER}\s*{UNIT}"
STATES = r"(?:pressed|released|closed|open|broken|clear|done)"
HIDDEN = "\ue000"
"""Stands for each letter of a title while habits are looked for."""
VALUE = rf"(?:{QUANTITY}|-?{NAME})"


@dataclass(frozen=True, slots=True)
class Habit:
    """Something that is written otherwise here.

    In `headline`, ``{seen}`` stands for the user's own text: what the pattern's group ``here``
    matched, or the whole pattern. `lesson` says the rule in a sentence or two. Patterns are matched
    with letters and digits meaning ASCII ones, and never inside titles.
    """

    pattern: str
    instead: str | Callable[[re.Match[str]], str] | None
    """What to put in its place, as `re.sub` takes it; None where no rewording does it."""
    headline: str
    lesson: str
    rules: tuple[str, ...] = ()
    """The start rules whose lines it is looked for in; empty means all."""
    paste: tuple[str, ...] = ()
    """Lines to show where the mended line cannot be read either."""
    minor: bool = False
    """Named first only where nothing else is wrong."""

    def found_in(self, code: str) -> re.Match[str] | None:
        """The first place in a line where the habit shows."""
        return _compiled(self.pattern).search(code)

    def mended(self, code: str) -> str:
        """The line with the habit put right everywhere."""
        if self.instead is None:
            return code
        return _compiled(self.pattern).sub(self.instead, code)


@lru_cache(maxsize=4096)
def _compiled(pattern: str) -> re.Pattern[str]:
    """A pattern, compiled on first use: most runs have no unreadable line at all."""
    return re.compile(pattern, re.ASCII)
