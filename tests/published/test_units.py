"""Units against their definitions.

Sources, all from memory: the international yard and pound agreement of 1959 (1 yd = 0.9144 m, so
1 in = 25.4 mm and 1 ft = 304.8 mm exactly); the SI Brochure, 9th edition 2019, section 3 (prefixes)
and table 8 (1 deg as a part of a turn).
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from planner.model.units import UNITS, Amount, Dimension, units_of


@pytest.mark.parametrize(
    ("number", "unit", "other", "expected"),
    [
        ("1", "in", "mm", "25.4"),
        ("1", "ft", "mm", "304.8"),
        ("3", "ft", "m", "0.9144"),
        ("1", "ft", "in", "12"),
        ("1", "m", "cm", "100"),
        ("1", "cm", "mm", "10"),
        ("1", "s", "ms", "1000"),
        ("1", "ms", "us", "1000"),
        ("1", "V", "mV", "1000"),
        ("1", "turns", "deg", "360"),
        # One turn a minute is 360 degrees in 60 seconds.
        ("1", "rpm", "deg/s", "6"),
        ("1", "m/s", "mm/s", "1000"),
        ("1", "in/s", "mm/s", "25.4"),
        ("1", "ft/s", "in/s", "12"),
        ("1", "cm/s", "mm/s", "10"),
    ],
)
def test_conversion(number: str, unit: str, other: str, expected: str) -> None:
    """A unit converts into the others of its dimension exactly, as it is defined."""
    amount = Amount(Fraction(number), UNITS[unit])
    assert Fraction(expected) == amount.in_unit(UNITS[other])
    assert Fraction(number) == Amount(amount.in_unit(UNITS[other]), UNITS[other]).in_unit(
        UNITS[unit]
    )


def test_every_dimension_has_a_first_unit() -> None:
    """Each dimension counts in one of its own units, of size one."""
    sizes = [[UNITS[name].size for name in units_of(dimension)] for dimension in Dimension]
    assert [1] * len(Dimension) == [ones.count(Fraction(1)) for ones in sizes]
