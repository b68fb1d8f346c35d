"""Two zones are united where their values together are a zone, against counting the values."""

from __future__ import annotations

import random
from itertools import product

from planner.reach.zone import Constraint, Zone

THIRDS = range(19)
"""The values tried for each clock, in thirds of a tick: whatever bounds up to 5 tell apart, two
clocks between whole ticks in either order among it, has one of them."""


def values(zone: Zone) -> set[tuple[int, int]]:
    """The values of two clocks, in thirds of a tick, that keep the bounds of a zone."""
    return {
        pair
        for pair in product(THIRDS, repeat=2)
        if all(
            3 * (bound >> 1) > (left - right) or (bound & 1 and 3 * (bound >> 1) == left - right)
            for bound, (left, right) in zip(zone.bounds, product((0, *pair), repeat=2), strict=True)
        )
    }


def drawn(draw: random.Random) -> Zone:
    """A zone of two clocks with some bounds, all of them bounded from above."""
    rows = [[draw.randint(-6, 11) for _ in range(3)] for _ in range(3)]
    for clock in range(3):
        rows[clock][clock] = 1
        rows[0][clock] = min(1, rows[0][clock])
    return Zone.of(rows)


def test_united_is_the_values_of_both_or_nothing() -> None:
    """The zone of both has the values of both and no others; where there is none, the least zone
    around both has others."""
    draw, united = random.Random(1), 0
    for _ in range(3000):
        one, other = drawn(draw), drawn(draw)
        if draw.random() < 0.5:
            # Two parts of one zone, with something between them, or nothing.
            one, other = (
                one.meet([Constraint(1, 0, draw.randint(0, 11))]),
                one.meet([Constraint(0, 1, draw.randint(-11, 0))]),
            )
        if one.is_empty or other.is_empty:
            continue
        both = one.united(other)
        around = Zone(3, tuple(map(max, one.bounds, other.bounds)))
        is_whole = values(around) == values(one) | values(other)
        assert is_whole == (both is not None), (one, other)
        if both:
            united += 1
            assert values(one) | values(other) == values(both)
    assert united > 50
