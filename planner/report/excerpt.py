"""A line of a plan, with marks under the words that a finding points at."""

from __future__ import annotations

from itertools import accumulate

from planner.report.glyphs import glyphs, runs_from_the_right
from planner.text import Place

_CUT = "..."


def excerpt(place: Place, width: int, encoding: str) -> tuple[str, str]:
    """The place's line and the row of marks that goes under it, each at most `width` columns.

    A line that is too long is cut around the marks. Words that a terminal may lay out from right
    to left are marked as a whole, because the marks then sit right on every terminal.
    """
    line = place.line_text
    start = min(place.column - 1, len(line))
    end = max(start + 1, min(place.end_column - 1, len(line)))
    # No more than this can be seen, and a plan's line may be very long.
    first, last = max(0, start - 2 * width), min(len(line), start + 2 * width)
    text = line[first:last]
    start, end = _widened(text, start - first, min(end - first, len(text) + 1))

    shown = glyphs(text, encoding)
    # Character i fills the columns from edges[i] to edges[i + 1]; the last pair is room for a mark
    # after the end of the line.
    edges = [*accumulate((glyph.width for glyph in shown), initial=0)]
    edges.append(edges[-1] + 1)
    low, high = 0, len(shown)
    if len(text) < len(line) or edges[-1] > width:
        low, high = _window(edges, start, end, width - 2 * len(_CUT))
    front = _CUT if first + low > 0 else ""
    back = _CUT if first + high < len(line) else ""
    row = front + "".join(glyph.text for glyph in shown[low:high]) + back
    blanks = len(front) + edges[start] - edges[low]
    marks = edges[max(start + 1, min(end, high))] - edges[start]
    return row.rstrip(), " " * blanks + "^" * max(1, marks)


def _widened(text: str, start: int, end: int) -> tuple[int, int]:
    """The stretch, and all of any text from right to left that it touches."""
    for low, high in runs_from_the_right(text):
        if low < end and start < high:
            start, end = min(start, low), max(end, high)
    return start, end


def _window(edges: list[int], start: int, end: int, width: int) -> tuple[int, int]:
    """The characters to show: the marked ones, after a third of what room they leave."""
    lead = max(0, width - (edges[end] - edges[start])) // 3
    low = start
    while low > 0 and edges[start] - edges[low - 1] <= lead:
        low -= 1
    high = low
    while high < len(edges) - 2 and edges[high + 1] - edges[low] <= width:
        high += 1
    return low, high
