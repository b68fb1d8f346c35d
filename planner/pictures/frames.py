"""The frame around where an exit leads: its stroke tells what kind of exit it is."""

from __future__ import annotations

from planner.pictures import markup
from planner.pictures.lettering import LINE
from planner.pictures.palette import Look, Style

FRAME_PAD = 1
"""Points between the frame and its text."""


def frame(lines: tuple[str, ...], look: Look, room: float | None = None) -> str:
    """A frame in an exit's stroke around where it leads."""
    text = markup.lines(markup.escaped(line) for line in lines)
    double = look.style is Style.DOUBLE
    stroke = look.style.value.upper() if look.style in (Style.DASHED, Style.DOTTED) else None
    single = markup.table(
        markup.row(markup.cell(text)),
        BORDER=look.stroke,
        STYLE=stroke,
        COLOR=look.colour,
        CELLPADDING=FRAME_PAD,
        WIDTH=room,
    )
    if not double:
        return single
    return markup.table(markup.row(markup.cell(single)), BORDER=1, CELLPADDING=1, COLOR=look.colour)


def frame_height(lines: int, look: Look) -> int:
    """How high the frame around that many lines is, in points."""
    around = FRAME_PAD + look.stroke + 2 * (look.style is Style.DOUBLE)
    return lines * LINE + 2 * around
