"""Whether what a plan asks of its sensors can be true at all, and whether it can be false.

Decided by `planner.graph.possible` for every value that tells answers apart. Only readable values
count, unless the plan itself asks whether a reading is `unreadable`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from planner.graph.atoms import Asking, Assumed, counts_from_entry
from planner.graph.cells import holds, values_of
from planner.graph.possible import always_true, can_be_true, together
from planner.graph.visits import remembers
from planner.model.condition import (
    All,
    Any,
    Compare,
    Condition,
    CounterCompare,
    Held,
    Looks,
    MatchClock,
    Not,
    Once,
    Within,
    leaves,
)


@dataclass(frozen=True, slots=True)
class Settled:
    """Conditions whose answer is the same whatever the sensors say."""

    always: bool
    """True: the condition, or one of several, always holds. False: it, or all together, never."""
    asked: tuple[Condition, ...]
    """One, or the fewest of an `and` or `or` that settle it between them."""


def settled(condition: Condition, limit_us: int | None = None) -> Iterator[Settled]:
    """What is settled in a condition, in the order of the text, the smallest parts of it.

    The match clock goes up to `limit_us`; where that is None, its conditions settle nothing.
    """
    return iter(_settled(condition, limit_us, negated=False))


def begins_true(condition: Condition, owner: str, limit_us: int | None = None) -> bool:
    """Whether a condition is true at the first look of a step or group, whatever is read: before
    what counts from the entry has counted anything, and before anything has lasted."""
    counting = any(counts_from_entry(leaf) for leaf in leaves(condition))
    if not owner or not (counting or remembers(condition)):
        return False
    at_start = Assumed(limit_us, readable=True, at_start=True)
    return together((), [Asking(condition, owner)], (owner,), at_start).never


def is_settled(condition: Condition, owner: str, limit_us: int | None = None) -> bool:
    """Whether a condition has a finding of its own, so that nothing more is said of its exit."""
    return any(settled(condition, limit_us)) or begins_true(condition, owner, limit_us)


def _settled(condition: Condition, limit_us: int | None, negated: bool) -> list[Settled]:
    match condition:
        case Compare() | Within() | MatchClock() | CounterCompare():
            return _alone(condition, limit_us, negated)
        case Not(part):
            return _settled(part, limit_us, not negated)
        case Held(part) | Once(part) | Looks(part):
            return _settled(part, limit_us, negated=False)
        case All(parts) | Any(parts):
            inside = [_settled(part, limit_us, negated=False) for part in parts]
            found = [one for of_part in inside for one in of_part]
            # What one part settles alone would settle it for all of them.
            rest = tuple(part for part, told in zip(parts, inside, strict=True) if not told)
            return found + _between(condition, rest, limit_us)
        case _:
            return []


def _alone(
    leaf: Compare | Within | MatchClock | CounterCompare, limit_us: int | None, negated: bool
) -> list[Settled]:
    answers = {holds(leaf, value) for value in values_of([leaf], limit_us)}
    if len(answers) != 1:
        return []
    told = Not(leaf) if negated else leaf
    return [Settled(answers.pop() is not negated, (told,))]


def _between(
    condition: All | Any, rest: tuple[Condition, ...], limit_us: int | None
) -> list[Settled]:
    """What the parts of an `and` or `or` settle between them, where none does so alone."""
    if len(rest) < 2:
        return []
    if isinstance(condition, All):
        if not can_be_true(All(rest), limit_us).never:
            return []
        fewest = _fewest(rest, lambda some: can_be_true(All(some), limit_us).never)
        return [Settled(False, fewest)]
    if not always_true(Any(rest), limit_us):
        return []
    return [Settled(True, _fewest(rest, lambda some: always_true(Any(some), limit_us)))]


def _fewest(
    parts: tuple[Condition, ...], settles: Callable[[tuple[Condition, ...]], bool]
) -> tuple[Condition, ...]:
    """Some of the parts that still settle it, none of which could be left out."""
    kept = parts
    for part in parts:
        without = tuple(other for other in kept if other is not part)
        if without and settles(without):
            kept = without
    return kept
