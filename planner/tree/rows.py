"""A source text cut into rows: indentation, content, comment."""

from __future__ import annotations

from dataclasses import dataclass

from planner.text import Place, Source

TAB_WIDTH = 4


@dataclass(frozen=True, slots=True)
class Row:
    """One line that says something, and the blank and comment lines above it."""

    source: Source
    number: int
    indent: int
    """The width of the white space in front, a tab reaching to the next multiple of `TAB_WIDTH`."""
    code: str
    """The line up to its comment, white space in front kept, so that columns stay true."""
    comment: str
    lead: tuple[str, ...]

    @property
    def place(self) -> Place:
        """The stretch from the first to the last word."""
        start = len(self.code) - len(self.code.lstrip()) + 1
        return Place(self.source, self.number, start, len(self.code.rstrip()) + 1)

    @property
    def words(self) -> list[str]:
        """The words of the line, roughly: split at white space and commas; never none."""
        return self.code.replace(",", " ").split() or [self.code.strip()]


def rows(source: Source) -> tuple[list[Row], tuple[str, ...]]:
    """The rows of a text, and the comment lines after the last row."""
    found = []
    lead: list[str] = []
    for number, line in enumerate(source.lines, start=1):
        code, comment = split_comment(line)
        if code.strip():
            found.append(Row(source, number, indent_of(line), code, comment, tuple(lead)))
            lead = []
        else:
            lead.append(comment)
    return found, tuple(lead)


def split_comment(line: str) -> tuple[str, str]:
    """A line's code and its comment; a ``#`` inside a title starts none."""
    # Split at the quotes, every second part is inside of them. Counting the quotes in front of
    # each hash instead would take minutes on a megabyte of hashes.
    position = 0
    for number, part in enumerate(line.split('"')):
        if number % 2 == 0 and "#" in part:
            position += part.index("#")
            return line[:position].rstrip(), line[position:].rstrip()
        position += len(part) + 1
    return line.rstrip(), ""


def indent_of(line: str) -> int:
    """The width of the white space in front of a line."""
    front = line[: len(line) - len(line.lstrip())]
    return len(front.expandtabs(TAB_WIDTH))
