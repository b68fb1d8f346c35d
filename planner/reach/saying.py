"""What a sensor can say, as far as some conditions tell it apart, and what they make of it.

A condition on one number changes its answer at its own thresholds only. So each number that a
sensor can give answers them as a threshold does, or a number between two of them or beyond them
all; what cannot be had is one more thing that a sensor can say (M6).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise
from typing import TypeAlias

from planner.model.condition import (
    Answers,
    Compare,
    Done,
    Leaf,
    Source,
    Steady,
    Unreadable,
    Unresolved,
    Within,
)
from planner.model.robot import Reading

TRUE, UNKNOWN, FALSE = 1, 0, -1
"""Kleene's three values: `and` is the least, `or` the greatest, `not` the other sign (M6)."""

Value: TypeAlias = Fraction | str | bool | None
"""What a sensor says, a number in its own unit; None where it cannot be had."""


def reading_of(leaf: Leaf) -> str:
    """The name by which readings are handed to a machine; empty for what is no reading."""
    match leaf:
        case Compare(source) | Within(source) | Steady(source) | Unreadable(source):
            return source.spoken
        case Answers(sensor):
            return sensor.name
        case Done(mechanism):
            return f"{mechanism.name} done"
        case _:
            return ""


def counts_from_entry(leaf: Leaf) -> bool:
    """Whether what it looks at counts from the entry to its step or group."""
    source = getattr(leaf, "source", None)
    return isinstance(source, Reading) and source.from_step_start


def values_for(asked: Iterable[Leaf]) -> list[Value]:
    """Values of one reading that give all the answers which any value of it gives."""
    leaves = list(asked)
    first = next((leaf for leaf in leaves if not isinstance(leaf, Unreadable)), leaves[0])
    match first:
        case Answers(sensor):
            return [*sensor.values, None]
        case Done() | Unresolved():
            return [True, False, None]
        case Unreadable(source) if source.unit is None:
            return ["", None]
        case Compare(source) | Within(source) | Steady(source) | Unreadable(source):
            return [*_numbers(source, leaves), None]
        case _:
            raise ValueError("a condition on no reading")


def answer(leaf: Leaf, value: Value) -> int:
    """What a condition on one reading makes of a value of it."""
    if isinstance(leaf, Unreadable):
        return TRUE if value is None else FALSE
    if value is None:
        return UNKNOWN
    return TRUE if _holds(leaf, value) else FALSE


def full_turn(source: Source) -> Fraction:
    """A full turn in a source's own unit."""
    return Fraction(360) / source.unit.size if source.unit else Fraction(360)


def range_of(source: Source) -> tuple[Fraction | None, Fraction | None]:
    """The lowest and the highest number that a source gives, in its own unit."""
    if source.bounds is None or source.unit is None:
        if source.wraps and isinstance(source, Reading) and source.from_step_start:
            return -full_turn(source) / 2, full_turn(source) / 2
        return None, None
    return source.bounds.low.in_unit(source.unit), source.bounds.high.in_unit(source.unit)


def _holds(leaf: Leaf, value: Value) -> bool:
    match leaf:
        case Answers(_, wanted):
            return value == wanted
        case Compare(source, sign, threshold):
            assert isinstance(value, Fraction)
            assert source.unit is not None
            limit = threshold.in_unit(source.unit)
            return {
                "<": value < limit,
                "<=": value <= limit,
                ">": value > limit,
                ">=": value >= limit,
            }[sign]
        case Within(source, tolerance, centre):
            assert isinstance(value, Fraction)
            assert source.unit is not None
            away = value - centre.in_unit(source.unit)
            if source.wraps:
                half = full_turn(source) / 2
                away = (away + half) % full_turn(source) - half
            return abs(away) <= tolerance.in_unit(source.unit)
        case Steady():
            # That it can be had; whether it moved, one pass does not say.
            return True
        case _:
            return bool(value)


def _numbers(source: Source, leaves: list[Leaf]) -> list[Value]:
    low, high = range_of(source)
    ends = [end for end in (low, high) if end is not None]
    points = sorted({*ends, *(point for leaf in leaves for point in _thresholds(leaf))})
    between = [(one + other) / 2 for one, other in pairwise(points)]
    beyond = [points[0] - 1, points[-1] + 1] if points else [Fraction(0)]
    return [
        value
        for value in (*between, *beyond, *points)
        if (low is None or value >= low) and (high is None or value <= high)
    ]


def _thresholds(leaf: Leaf) -> Iterator[Fraction]:
    if isinstance(leaf, Compare) and leaf.source.unit:
        yield leaf.threshold.in_unit(leaf.source.unit)
    elif isinstance(leaf, Within) and leaf.source.unit:
        centre, reach = (part.in_unit(leaf.source.unit) for part in (leaf.centre, leaf.tolerance))
        turn = full_turn(leaf.source)
        for edge in (centre - reach, centre + reach):
            if leaf.source.wraps:
                yield from (edge % turn + number * turn for number in (-2, -1, 0, 1))
            else:
                yield edge
