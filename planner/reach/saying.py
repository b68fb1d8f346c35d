"""What a sensor can say, as far as some conditions tell it apart, and what they make of it."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import TypeAlias

from planner.graph.cells import Asked, edges_of, holds, values_of
from planner.model.condition import (
    Answers,
    Compare,
    CounterCompare,
    Done,
    Leaf,
    MemoryCompare,
    MemoryIs,
    Steady,
    Unreadable,
    Within,
)
from planner.model.meaning import meaning
from planner.model.robot import Reading
from planner.model.units import Dimension

TRUE, UNKNOWN, FALSE = 1, 0, -1
"""Kleene's three values: `and` is the least, `or` the greatest, `not` the other sign (M6)."""

Value: TypeAlias = Fraction | str | bool | None
"""What a sensor says, a number in the first unit of its dimension; None where it cannot be had."""


def reading_of(leaf: Leaf) -> str:
    """The name by which readings are handed to a machine; empty for what can be anything."""
    match leaf:
        case Answers(sensor):
            return sensor.name
        case Done(mechanism):
            return f"{mechanism.name} done"
        case MemoryIs(memory):
            return f"memory {memory.name}"
        case MemoryCompare():
            return f"memory {meaning(leaf)}"
        case CounterCompare(counter):
            return f"counter {counter.name}"
        case Compare(source) | Within(source) | Steady(source) | Unreadable(source):
            unit = source.unit
            odd = source.wraps and (unit is None or unit.dimension is not Dimension.ANGLE)
            return "" if odd else source.spoken
        case _:
            return ""


def counts_from_entry(leaf: Leaf) -> bool:
    """Whether what it looks at counts from the entry to its step or group."""
    source = getattr(leaf, "source", None)
    return isinstance(source, Reading) and source.from_step_start


def values_for(asked: Iterable[Leaf]) -> list[Value]:
    """Values of one reading that give all the answers which any value of it gives.

    Numbers between thresholds come first, and what cannot be had last (M6).
    """
    every = list(asked)
    if isinstance(every[0], MemoryIs):
        return list(every[0].memory.words)
    if isinstance(every[0], CounterCompare):
        counter = every[0].counter
        return [Fraction(number) for number in range(counter.low, counter.high + 1)]
    if isinstance(every[0], MemoryCompare):
        # A number that is remembered is never unknown (M13).
        return [True, False]
    leaves = [leaf for leaf in every if isinstance(leaf, Asked)]
    if all(isinstance(leaf, Unreadable) for leaf in leaves):
        return [True, False, None]
    edges = edges_of(leaves)
    numbers = sorted((v for v in values_of(leaves) if v is not None), key=lambda v: v in edges)
    return [*numbers, None]


def answer(leaf: Leaf, value: Value) -> int:
    """What a condition on one reading makes of a value of it."""
    if isinstance(leaf, Unreadable):
        return TRUE if value is None else FALSE
    if value is None:
        return UNKNOWN
    if isinstance(leaf, Steady):
        # That it can be had; whether it moved, one pass does not say.
        return TRUE
    if isinstance(leaf, MemoryIs):
        return TRUE if value == leaf.value else FALSE
    if isinstance(leaf, CounterCompare) and isinstance(value, Fraction):
        return TRUE if counts_so(leaf, int(value)) else FALSE
    if isinstance(leaf, Asked) and not isinstance(value, bool):
        return TRUE if holds(leaf, value) else FALSE
    return TRUE if value else FALSE


def counts_so(leaf: CounterCompare, number: int) -> bool:
    """Whether a counter that stands at a number is as the condition has it."""
    return {
        "is": number == leaf.number,
        "<": number < leaf.number,
        "<=": number <= leaf.number,
        ">": number > leaf.number,
        ">=": number >= leaf.number,
    }[leaf.operator]
