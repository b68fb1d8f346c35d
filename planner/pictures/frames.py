"""The frame around where an exit leads: its stroke tells what kind of exit it is."""

from __future__ import annotations

from planner.pictures import markup
from planner.pictures.lettering import LINE
from planner.pictures.palette import Look, Style

_PAD = 1
"""Points between the frame and its text."""
_OUTER = 2
"""Points that the outer line of a double frame takes on each side."""


def frame(lines: tuple[str, ...], look: Look, room: float | None = None) -> str:
    """A frame in an exit's stroke around where it leads."""
    text = markup.lines(markup.escaped(line) for line in lines)
    double = look.style is Style.DOUBLE
    if double and room:
        room -= 2 * _OUTER
    stroke = look.style.value.upper() if look.style in (Style.DASHED, Style.DOTTED) else None
    single = markup.table(
        markup.row(markup.cell(text)),
        BORDER=look.stroke,
        STYLE=stroke,
        COLOR=look.colour,
        CELLPADDING=_PAD,
        WIDTH=room,
    )
    if not double:
        return single
    return markup.table(
        markup.row(markup.cell(single)), BORDER=1, CELLPADDING=_OUTER - 1, COLOR=look.colour
    )


def frame_sides(look: Look) -> int:
    """How wide the frame is beside its text, on both sides, in points."""
    return 2 * (_PAD + 1) + 2 * _OUTER * (look.style is Style.DOUBLE)


def frame_height(lines: int, look: Look) -> int:
    """How high the frame around that many lines is, in points."""
    around = _PAD + look.stroke + _OUTER * (look.style is Style.DOUBLE)
    return lines * LINE + 2 * around
