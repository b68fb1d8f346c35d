"""Passes that fit between two times, where they may come in some spans of time only.

Forward it is worked out where the first pass can come, the second, and so on; then one tick is
picked for each, from the last one back. So passes are found wherever there are any.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

from planner.reach.pace import Pace

Span: TypeAlias = tuple[int, int]
"""The first and the last of some ticks."""


def passes_between(
    begin: int,
    end: int,
    pace: Pace,
    allowed: Iterable[Span],
    least: int = 0,
    first_by: int | None = None,
) -> list[int] | None:
    """As few passes as there can be, but `least`, between a pass at one tick and one at another.

    They come in allowed spans, at gaps that the pace lets them have; the first, if that is asked,
    by a tick. None where there are none.
    """
    spans = [(low, min(high, end - pace.shortest)) for low, high in allowed]
    reached: list[list[Span]] = [[(begin, begin)]]
    while len(reached) <= least or not _after(reached[-1], pace, [(end, end)]):
        found = _after(reached[-1], pace, spans)
        if len(reached) == 1 and first_by is not None:
            found = [(low, min(high, first_by)) for low, high in found if low <= first_by]
        if not found:
            return None
        reached.append(found)
    ticks = [end]
    for number in range(len(reached) - 1, 0, -1):
        later = ticks[-1]
        evenly = begin + (later - begin) * number // (number + 1)
        may_be = _meeting(reached[number], later - pace.longest, later - pace.shortest)
        nearest = [max(low, min(high, evenly)) for low, high in may_be]
        ticks.append(min(nearest, key=lambda tick: abs(tick - evenly)))
    return ticks[:0:-1]


def _after(spans: Iterable[Span], pace: Pace, allowed: Iterable[Span]) -> list[Span]:
    """Where the pass after one in these spans can come; spans that touch are one."""
    within = list(allowed)
    found: list[Span] = []
    for low, high in sorted(
        part
        for first, last in spans
        for part in _meeting(within, first + pace.shortest, last + pace.longest)
    ):
        if found and low <= found[-1][1] + 1:
            found[-1] = (found[-1][0], max(high, found[-1][1]))
        else:
            found.append((low, high))
    return found


def _meeting(spans: Iterable[Span], low: int, high: int) -> list[Span]:
    both = ((max(low, first), min(high, last)) for first, last in spans)
    return [(first, last) for first, last in both if first <= last]
