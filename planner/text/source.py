"""A source text and a place in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property


@dataclass(frozen=True)
class Source:
    """One file's text under the name the user knows it by.

    `text` holds ``\\n`` line ends only and no byte order mark; `decode` makes it so.
    """

    name: str
    text: str = field(repr=False)

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The lines without their ends; an empty text has none."""
        # str.splitlines would also split at form feeds and U+2028, where editors do not.
        lines = self.text.split("\n")
        return tuple(lines[:-1] if lines[-1] == "" else lines)

    @property
    def file(self) -> tuple[str, str]:
        """The name of the file without its folders, cut at the last dot: ``("moth", "bot")``."""
        last = self.name.replace("\\", "/").rpartition("/")[2]
        stem, _, ending = last.rpartition(".")
        return (stem, ending) if stem else (last, "")

    def line(self, number: int) -> str:
        """The text of line `number`, counted from 1; empty past the end."""
        return self.lines[number - 1] if 0 < number <= len(self.lines) else ""


@dataclass(frozen=True, slots=True)
class Place:
    """A stretch of one line. Lines and columns count from 1; `end_column` is one past the last."""

    source: Source
    line: int
    column: int
    end_column: int

    @property
    def line_text(self) -> str:
        """The whole line the place is on."""
        return self.source.line(self.line)

    @property
    def words(self) -> str:
        """The text the place covers."""
        return self.line_text[self.column - 1 : self.end_column - 1]

    @property
    def order(self) -> tuple[str, int, int, int]:
        """A key that sorts places as a reader meets them."""
        return (self.source.name, self.line, self.column, self.end_column)

    def through(self, other: Place) -> Place:
        """The stretch from the start of this place to the end of `other`, on the same line."""
        return Place(self.source, self.line, self.column, other.end_column)
