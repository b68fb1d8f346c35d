"""What a sensor can say, cut where the answers to a plan's questions change.

A condition on one number changes its answer only at its own thresholds. So it is asked at each
threshold, between them, and at the ends of what the sensor can give; that settles it exactly.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import floor
from typing import TypeAlias

from planner.model.condition import (
    Answers,
    Compare,
    CounterCompare,
    MatchClock,
    MemoryIs,
    Source,
    Unreadable,
    Within,
)
from planner.model.robot import Reading
from planner.model.units import Dimension

Asked: TypeAlias = (
    Compare | Within | Answers | MatchClock | Unreadable | MemoryIs | CounterCompare
)  # fmt: skip
"""The conditions that one look settles: a value of their sensor, of the match clock, a counter or a
memory's word. What a number memory holds is not bounded, so nothing is settled about it."""
Value: TypeAlias = Fraction | str | None
"""What a sensor says; None where nothing readable comes from it."""

_TURN = 360


def range_of(source: Source) -> tuple[Fraction | None, Fraction | None]:
    """The lowest and highest number a reading gives, in the first unit of its dimension."""
    if source.bounds is None:
        return (Fraction(-_TURN, 2), Fraction(_TURN, 2)) if source.wraps else (None, None)
    low, high = source.bounds.low.base, source.bounds.high.base
    if isinstance(source, Reading) and source.from_step_start:
        # Counted from the step's start, it is the difference of two values in its range.
        return min(low, low - high), max(high, high - low)
    return low, high


def asks(leaf: Asked) -> str:
    """What a condition looks at; conditions of one name are settled by the same value."""
    match leaf:
        case MatchClock():
            return "match"
        case Answers(sensor):
            return sensor.spoken
        case MemoryIs(memory):
            return f"memory {memory.name}"
        case CounterCompare(counter):
            return f"counter {counter.name}"
        case _:
            return leaf.source.spoken


def holds(leaf: Asked, value: Value) -> bool | None:
    """Whether a condition is true of a value; None where it is unknown (M6)."""
    match leaf:
        case Unreadable():
            return value is None
        case _ if value is None:
            return None
        case Answers(_, wanted) | MemoryIs(_, wanted):
            return value == wanted
        case CounterCompare(_, operator, number):
            return _compares(value, operator, Fraction(number))
        case Compare(_, operator, threshold):
            return _compares(value, operator, threshold.base)
        case MatchClock(operator, at_us):
            return _compares(value, operator, Fraction(at_us))
        case Within(source, tolerance, centre):
            assert isinstance(value, Fraction)
            away = value - centre.base
            if source.wraps:
                away = (away + _TURN // 2) % _TURN - _TURN // 2
            return abs(away) <= tolerance.base


def values_of(asked: Sequence[Asked], limit_us: int | None = None) -> list[Value]:
    """The values that tell all answers to questions about one sensor apart.

    A number that wraps at anything but a full turn is told nothing about: it gives no values.
    """
    first = next((leaf for leaf in asked if not isinstance(leaf, Unreadable)), asked[0])
    unreadable: list[Value] = [None] if any(isinstance(a, Unreadable) for a in asked) else []
    if isinstance(first, Answers):
        return [*first.sensor.values, *unreadable]
    if isinstance(first, MemoryIs):
        return list(first.memory.words)
    if isinstance(first, CounterCompare):
        return [Fraction(n) for n in range(first.counter.low, first.counter.high + 1)]
    if isinstance(first, MatchClock):
        # Exits are asked from the second pass on, and not any more at the limit (M3, M11).
        low, high = Fraction(1), None if limit_us is None else Fraction(max(1, limit_us - 1))
        return _whole(_numbers(asked, low, high)) if high else []
    source = first.source
    if source.wraps and (source.unit is None or source.unit.dimension is not Dimension.ANGLE):
        return []
    return [*_numbers(asked, *range_of(source)), *unreadable]


def edges_of(asked: Sequence[Asked]) -> frozenset[Value]:
    """The single numbers among the values that tell answers apart: thresholds, ends of ranges."""
    ends: set[Value] = set()
    for leaf in asked:
        if isinstance(leaf, Compare | Within):
            ends.update(range_of(leaf.source))
    ends.update(point for leaf in asked for point in _thresholds(leaf))
    return frozenset(ends)


def _compares(value: Fraction | str, operator: str, limit: Fraction) -> bool:
    assert isinstance(value, Fraction)
    return {
        "<": value < limit,
        "<=": value <= limit,
        ">": value > limit,
        ">=": value >= limit,
        "is": value == limit,
    }[operator]


def _numbers(asked: Sequence[Asked], low: Fraction | None, high: Fraction | None) -> list[Value]:
    """The thresholds, numbers between and beyond them, and the ends of the range."""
    ends = [end for end in (low, high) if end is not None]
    points = sorted({*ends, *(point for leaf in asked for point in _thresholds(leaf))})
    between = [(one + other) / 2 for one, other in pairwise(points)]
    beyond = [points[0] - 1, points[-1] + 1] if points else []
    return [
        value
        for value in (*points, *between, *beyond)
        if (low is None or value >= low) and (high is None or value <= high)
    ]


def _whole(numbers: list[Value]) -> list[Value]:
    """Times, which are whole microseconds; none lies between two that follow each other."""
    known = set(numbers)
    found: list[Value] = []
    for number in numbers:
        assert isinstance(number, Fraction)
        whole = Fraction(floor(number))
        if whole == number or whole not in known:
            found.append(whole)
    return found


def _thresholds(leaf: Asked) -> Iterator[Fraction]:
    if isinstance(leaf, MatchClock):
        yield Fraction(leaf.at_us)
    elif isinstance(leaf, Compare):
        yield leaf.threshold.base
    elif isinstance(leaf, Within):
        centre, reach = leaf.centre.base, leaf.tolerance.base
        for edge in (centre - reach, centre + reach):
            if leaf.source.wraps:
                yield from (edge % _TURN + turn for turn in (-2 * _TURN, -_TURN, 0, _TURN))
            else:
                yield edge
