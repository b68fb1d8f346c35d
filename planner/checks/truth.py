"""Whether what a plan asks of a sensor can be true at all, and whether it can be false.

A condition on one number changes its answer only at its own thresholds. So it is asked at each
threshold, between them, and at the ends of what the sensor can give; that settles it exactly.
Only readable values count: a reading outside of its range is unknown, and neither (M6).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import TypeAlias

from planner.model.condition import (
    All,
    Answers,
    Any,
    Compare,
    Condition,
    Held,
    Leaf,
    Not,
    Source,
    Within,
    leaves,
    parts,
)
from planner.model.robot import Reading
from planner.model.units import Dimension

Asked: TypeAlias = Compare | Within | Answers
Value: TypeAlias = Fraction | str

MOST_TOGETHER = 40
"""Of more conditions on one sensor in one exit nothing is concluded: the work grows too fast."""

_TURN = 360


@dataclass(frozen=True, slots=True)
class Settled:
    """Conditions on one sensor whose answer is the same whatever the sensor says."""

    always: bool
    """True: the condition, or one of several, always holds. False: it, or all together, never."""
    asked: tuple[Asked, ...]
    """One, or the ones of an `and` or `or` that settle it between them."""
    negated: tuple[bool, ...] = (False,)
    """Which of them stand behind a `not`, where there are several."""


def settled(condition: Condition) -> Iterator[Settled]:
    """What is settled in a condition, in the order of the text."""
    alone: set[int] = set()
    for leaf in leaves(condition):
        if isinstance(leaf, Compare | Within):
            answers = {_holds(leaf, value) for value in _values([leaf])}
            if len(answers) == 1:
                alone.add(id(leaf))
                yield Settled(answers.pop(), (leaf,))
    for part in parts(condition):
        if isinstance(part, All | Any):
            yield from _between(part, alone)


def range_of(source: Source) -> tuple[Fraction | None, Fraction | None]:
    """The lowest and highest number a reading gives, in the first unit of its dimension."""
    if source.bounds is None:
        return (Fraction(-_TURN, 2), Fraction(_TURN, 2)) if source.wraps else (None, None)
    low, high = source.bounds.low.base, source.bounds.high.base
    if isinstance(source, Reading) and source.from_step_start:
        # Counted from the step's start, it is the difference of two values in its range.
        return min(low, low - high), max(high, high - low)
    return low, high


def _between(part: All | Any, alone: set[int]) -> Iterator[Settled]:
    """What several conditions on one sensor settle between them, where none does so alone."""
    groups: dict[str, list[tuple[Asked, bool]]] = {}
    for inner in part.parts:
        found = _asked(inner, held_too=isinstance(part, All))
        if found and id(found[0]) not in alone:
            groups.setdefault(_source(found[0]).spoken, []).append(found)
    for group in groups.values():
        if not 2 <= len(group) <= MOST_TOGETHER:
            continue
        asked = tuple(leaf for leaf, _ in group)
        negated = tuple(not wanted for _, wanted in group)
        together = [
            [_holds(leaf, value) is wanted for leaf, wanted in group] for value in _values(asked)
        ]
        if isinstance(part, All) and not any(map(all, together)):
            yield Settled(False, asked, negated)
        if isinstance(part, Any) and all(map(any, together)):
            yield Settled(True, asked, negated)


def _asked(condition: Condition, held_too: bool) -> tuple[Asked, bool] | None:
    """The question that a condition is, and the answer it wants; None for anything longer.

    What has been true for a time is true now, which counts for `and` (`held_too`), not for `or`.
    """
    match condition:
        case Held(part) if held_too:
            return _asked(part, held_too)
        case Not(part) if isinstance(part, Compare | Within | Answers):
            return part, False
        case Compare() | Within() | Answers():
            return condition, True
        case _:
            return None


def _source(leaf: Asked) -> Source:
    return leaf.sensor if isinstance(leaf, Answers) else leaf.source


def _holds(leaf: Leaf, value: Value) -> bool:
    match leaf:
        case Answers(_, wanted):
            return value == wanted
        case Compare(_, operator, threshold):
            assert isinstance(value, Fraction)
            limit = threshold.base
            return {
                "<": value < limit,
                "<=": value <= limit,
                ">": value > limit,
                ">=": value >= limit,
            }[operator]
        case Within(source, tolerance, centre):
            assert isinstance(value, Fraction)
            away = value - centre.base
            if source.wraps:
                away = (away + _TURN // 2) % _TURN - _TURN // 2
            return abs(away) <= tolerance.base
    raise AssertionError(f"{leaf} asks for no value")


def _values(asked: Sequence[Asked]) -> list[Value]:
    """The values that tell all answers to questions about one sensor apart.

    A number that wraps at anything but a full turn is told nothing about: it gives no values.
    """
    first = asked[0]
    if isinstance(first, Answers):
        return list(first.sensor.values)
    source = first.source
    if source.wraps and (source.unit is None or source.unit.dimension is not Dimension.ANGLE):
        return []
    low, high = range_of(source)
    ends = [end for end in (low, high) if end is not None]
    points = sorted({*ends, *(point for leaf in asked for point in _thresholds(leaf))})
    between = [(one + other) / 2 for one, other in pairwise(points)]
    beyond = [points[0] - 1, points[-1] + 1]
    return [
        value
        for value in (*points, *between, *beyond)
        if (low is None or value >= low) and (high is None or value <= high)
    ]


def _thresholds(leaf: Asked) -> Iterator[Fraction]:
    if isinstance(leaf, Compare):
        yield leaf.threshold.base
    elif isinstance(leaf, Within):
        centre, reach = leaf.centre.base, leaf.tolerance.base
        for edge in (centre - reach, centre + reach):
            if leaf.source.wraps:
                yield from (edge % _TURN + turn for turn in (-2 * _TURN, -_TURN, 0, _TURN))
            else:
                yield edge
