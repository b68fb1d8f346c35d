"""Passes between two times, against all there are."""

from __future__ import annotations

from itertools import combinations, pairwise, product

import pytest

from planner.reach.pace import Pace
from planner.reach.passes import passes_between

SPANS = [[(low, high)] for low, high in combinations(range(0, 10), 2)]
SPANS += [[(0, 2), (5, 8)], [(1, 1), (3, 3), (6, 6)], []]


@pytest.mark.parametrize("pace", [(1, 1), (1, 2), (2, 3), (3, 3), (2, 5)], ids=str)
def test_against_all(pace: tuple[int, int]) -> None:
    """Some are found just where there are any, as few as there can be, and each may come there."""
    shortest, longest = pace
    for allowed, end, least, by in product(SPANS, range(1, 10), range(3), (None, 2, 4)):
        may = [tick for tick in range(1, end) if any(a <= tick <= b for a, b in allowed)]

        def fits(ticks: tuple[int, ...], end: int = end, by: int | None = by) -> bool:
            gaps = [later - tick for tick, later in pairwise((0, *ticks, end))]
            first = by is None or not ticks or ticks[0] <= by
            return first and all(shortest <= gap <= longest for gap in gaps)

        numbers = range(least, len(may) + 1)
        every = [ticks for number in numbers for ticks in combinations(may, number) if fits(ticks)]
        found = passes_between(0, end, Pace(shortest, longest, 1), allowed, least, by)
        assert (found is None) == (not every), (allowed, end, least, by)
        if found is not None:
            assert tuple(found) in every
            assert len(found) == min(map(len, every))
