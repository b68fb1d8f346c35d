"""Whether what a plan remembers makes some exit true, whatever the sensors say."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import product
from math import prod

from planner.graph.broken import outcomes, simplified
from planner.graph.cells import Value, asks, holds, values_of
from planner.graph.owners import in_lane, owners_around
from planner.graph.unfold import Exit, Plan
from planner.model.condition import (
    Condition,
    CounterCompare,
    Fixed,
    Leaf,
    MemoryIs,
    each,
    leaves,
)
from planner.model.memory import Counter
from planner.model.routine import WhenExit

MOST_CASES = 4096
"""Of more combinations of words and counts nothing is concluded."""


def one_is_true(conditions: Sequence[Condition]) -> bool:
    """Whether, for every combination of what memories and counters hold, one of some conditions is
    true. What is concluded is certain; beyond `MOST_CASES` nothing is."""
    asked = [
        leaf
        for condition in conditions
        for leaf in leaves(condition)
        if isinstance(leaf, MemoryIs | CounterCompare)
    ]
    values = {asks(leaf): values_of([leaf]) for leaf in asked}
    if not values or prod(map(len, values.values())) > MOST_CASES:
        return False
    for case in product(*values.values()):
        held = dict(zip(values, case, strict=True))
        if not any(_is_true(condition, held) for condition in conditions):
            return False
    return True


def _is_true(condition: Condition, held: Mapping[str, Value]) -> bool:
    return outcomes(_settled(condition, held)) == {True}


def _settled(condition: Condition, held: Mapping[str, Value]) -> Condition:
    """The condition with what it asks of memories and counters answered where that is known."""

    def settle(leaf: Leaf) -> Condition:
        if isinstance(leaf, MemoryIs | CounterCompare) and asks(leaf) in held:
            return Fixed(leaf, holds(leaf, held[asks(leaf)]))
        return leaf

    return simplified(each(condition, settle))


def can_be_true(condition: Condition, counter: Counter, number: int) -> bool:
    """Whether a condition can be true while a counter stands at a number."""
    return True in outcomes(_settled(condition, {f"counter {counter.name}": Fraction(number)}))


def counted_out(plan: Plan, inside: Sequence[Exit]) -> tuple[list[Exit], list[Exit]] | None:
    """How a counter ends a loop whose exits these are; None where none does.

    A run that stays in the loop comes to the steps that count again and again, or at some time no
    more. In the first case the counter gets to the end of its range, and exits that ask for more
    are not taken any more; what is left then are the first exits. The others are what is left in
    the second case.
    """
    steps = {exit_.source for exit_ in inside}
    for counter, way in _one_way(plan, steps).items():
        end = counter.low if way < 0 else counter.high
        open_still = [
            exit_
            for exit_ in inside
            if not isinstance(exit_.written, WhenExit)
            or can_be_true(exit_.written.condition, counter, end)
        ]
        if len(open_still) < len(inside):
            counting = {
                name
                for name in steps
                if any(line.counter == counter for line in plan.step(name).counts)
            }
            return open_still, [exit_ for exit_ in inside if exit_.target not in counting]
    return None


def _one_way(plan: Plan, steps: set[str]) -> dict[Counter, int]:
    """The counters that some of the steps count, and all that may change them count one way.

    What other lanes do meanwhile is not known, so there all of the plan must.
    """
    ways: dict[Counter, set[int]] = {}
    by_steps = {line.counter for name in steps for line in plan.step(name).counts}
    beside = any(in_lane(plan.routine, name) for name in steps)
    for name in plan.routine.steps if beside else steps:
        for owner in owners_around(plan.routine, name):
            for line in owner.counts:
                ways.setdefault(line.counter, set()).add(0 if line.to is not None else line.by)
    return {
        counter: way
        for counter, found in ways.items()
        for way in found
        if len(found) == 1 and way and counter in by_steps
    }
