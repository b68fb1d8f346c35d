"""Ways out as rows: what each waits for, and a frame that names where it leads."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.graph import Exit
from planner.pictures import markup
from planner.pictures.frames import frame, frame_height, frame_sides
from planner.pictures.lettering import mixed_height, tied, width, wrapped
from planner.pictures.palette import Look, look_of
from planner.pictures.wording import arrow_to, waits_for

PAD = 2
"""Points between a cell's edge and its text."""
_FRAME_SPACE = 1
"""Points around the frame that names where an exit leads."""
_FRAME_SHARE = 0.49
"""The most of a row that may name where the exit leads; the rest is for what it waits for."""
_BOLD_SURPLUS = 2
"""How much wider the bold first word of a row is than if it were plain."""
_MOST_LINES = 8


@dataclass(frozen=True, slots=True)
class ExitRow:
    """A way out in lines that fit its row."""

    look: Look
    wait: tuple[str, ...]
    leads: tuple[str, ...]

    @property
    def height(self) -> int:
        """In points."""
        framed = frame_height(len(self.leads), self.look) + 2 * _FRAME_SPACE
        return max(mixed_height(len(self.wait)) + 2 * PAD, framed)


@dataclass(frozen=True, slots=True)
class Rows:
    """The ways out of a card or group, in the order they are asked, `room` points wide."""

    rows: tuple[ExitRow, ...]
    room: int
    frame_width: int
    """Of the frames that name where the exits lead."""

    @property
    def height(self) -> int:
        """In points."""
        return sum(row.height for row in self.rows)


def rows_of(exits: Sequence[Exit], numbers: Mapping[str, int], room: int) -> Rows:
    """The rows of some exits; `numbers` are those of the cards."""
    frame_width = _frame_width(exits, numbers, room)
    wait_room = room - 2 - frame_width - 2 * _FRAME_SPACE - 2 * PAD - _BOLD_SURPLUS
    rows = tuple(
        ExitRow(
            look_of(way),
            wrapped(tied(waits_for(way)), wait_room, _MOST_LINES),
            wrapped(arrow_to(way.target, numbers), frame_width - frame_sides(look_of(way)), 3),
        )
        for way in exits
    )
    return Rows(rows, room, frame_width)


def port_of(at: int) -> str:
    """The port of a card's row, counted from 0."""
    return f"way{at}"


def rows_markup(rows: Rows, ports: bool) -> list[str]:
    """The rows as cells, from the first to the last; with ports for lines to leave from."""
    return [_row(rows, row, port_of(at) if ports else None) for at, row in enumerate(rows.rows)]


def _row(rows: Rows, row: ExitRow, port: str | None) -> str:
    first, *rest = (markup.escaped(line) for line in row.wait)
    word, _, others = first.partition(" ")
    wait = markup.lines([f"{markup.bold(word)} {others}".rstrip(), *rest])
    wait_width = rows.room - 2 - rows.frame_width - 2 * _FRAME_SPACE
    inner = markup.row(
        markup.cell(wait, CELLPADDING=PAD, WIDTH=wait_width),
        markup.cell(frame(row.leads, row.look, rows.frame_width), CELLPADDING=_FRAME_SPACE),
    )
    return markup.cell(markup.table(inner), PORT=port)


def _frame_width(exits: Sequence[Exit], numbers: Mapping[str, int], room: int) -> int:
    """Wide enough for the longest where there is room for it."""
    widest = max(
        (
            math.ceil(width(arrow_to(way.target, numbers))) + frame_sides(look_of(way))
            for way in exits
        ),
        default=0,
    )
    return min(widest + 2, round(room * _FRAME_SHARE))
