"""Headings that are there but cannot be read as such: behind `#`, run together, or in pieces."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from planner.text import Place, Source
from planner.tree.rows import Row, indent_of, split_comment
from planner.tree.shapes import HEADS

NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_LED_TO = re.compile(r"\b(?:go\s+to|then|start|finish\s+in)\s+([A-Za-z_][A-Za-z0-9_]*)")
TITLE = re.compile(r'"[^"]*"?')


@lru_cache(maxsize=16)
def names_led_to(source: Source) -> frozenset[str]:
    """The names that the lines of a routine lead to, whether or not a heading declares them."""
    names: set[str] = set()
    for line in source.lines:
        names.update(_LED_TO.findall(split_comment(line)[0]))
    return frozenset(names)


@dataclass(frozen=True, slots=True)
class CommentedHead:
    """A heading behind `#`, whose lines are not: as a row, the row under it, and where it is."""

    row: Row
    """The heading, as if the `#` were a space."""
    under: Row
    place: Place
    """From the `#` to the end of the line."""


def commented_head(row: Row) -> CommentedHead | None:
    """The heading that a comment above a row would be, where the row is indented under it."""
    first = row.number - len(row.lead)
    for position in reversed(range(len(row.lead))):
        number = first + position
        line = row.source.line(number)
        code, rest = split_comment(line.replace("#", " ", 1))
        words = code.split()
        if rest or len(words) < 2 or words[0] not in HEADS or indent_of(line) >= row.indent:
            continue
        name = NAME.match(words[1])
        if name and not _declared(row.source, words[0], name.group()):
            head = Row(row.source, number, indent_of(line), code, "", row.lead[:position])
            place = Place(row.source, number, line.index("#") + 1, len(code.rstrip()) + 1)
            under = replace(row, lead=row.lead[position + 1 :])
            return CommentedHead(head, under, place)
    return None


def _declared(source: Source, word: str, name: str) -> bool:
    """Whether some line that is no comment declares that name."""
    head = re.compile(rf"\s*{word}\s+{name}\b")
    return any(head.match(line) for line in source.lines)


def name_in_pieces(row: Row, led_to: frozenset[str]) -> re.Match[str] | None:
    """The words behind a heading's first word that together are a name the plan leads to.

    ``finish Give Up`` is led to as `GiveUp`.
    """
    code = TITLE.sub("", row.code)
    pieces = re.match(r"\s*[A-Za-z_]+\s+([A-Za-z0-9_]+(?:[ \t-]+[A-Za-z0-9_]+)+)\s*$", code)
    return pieces if pieces and joined(pieces.group(1), led_to) else None


def joined(pieces: str, names: frozenset[str]) -> str:
    """The name that some words are when they are written as one; empty where there is none."""
    bare = re.sub(r"[ \t_-]+", "", pieces).casefold()
    return next((n for n in sorted(names) if n.replace("_", "").casefold() == bare), "")
