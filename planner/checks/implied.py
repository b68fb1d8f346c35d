"""Whether one condition is true whenever another is.

What is concluded is certain; where nothing is concluded, it may be so all the same. Conditions on
one sensor are compared at all values that tell them apart, as in `truth`.
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.checks.meaning import meaning
from planner.checks.truth import MOST_TOGETHER
from planner.graph.cells import Asked, Value, asks, holds, values_of
from planner.model.condition import (
    All,
    Any,
    Compare,
    Condition,
    Held,
    Looks,
    Not,
    Once,
    Reckoned,
    Steady,
    Within,
    leaves,
)
from planner.model.robot import Reading

_LATEST_US = 10**12
"""Later than any time that a plan asks the match clock for."""


def implies(first: Condition, then: Condition) -> bool:
    """Whether `then` is true in every pass in which `first` is."""
    if meaning(first) is None or meaning(then) is None:
        return False
    return meaning(first) == meaning(then) or _implies(first, then)


def from_step_start(condition: Condition) -> bool:
    """Whether it looks at a reading that counts from the entry of whatever asks it."""
    return any(
        isinstance(leaf, Compare | Within | Steady | Reckoned)
        and isinstance(leaf.source, Reading)
        and leaf.source.from_step_start
        for leaf in leaves(condition)
    )


def _implies(first: Condition, then: Condition) -> bool:
    if meaning(first) == meaning(then) or _by_values(first, then):
        return True
    match first, then:
        case Any(parts), _:
            return all(_implies(part, then) for part in parts)
        case _, All(parts):
            return all(_implies(first, part) for part in parts)
        case Held(part, held_us), Held(inner, least_us) if least_us <= held_us:
            return _implies(part, inner)
        case Looks(part, least, looks), Looks(inner, fewer, more) if (
            fewer <= least and more >= looks
        ):
            return _implies(part, inner)
        case Once(part), Once(inner):
            return _implies(part, inner)
        case All(parts), _ if any(_implies(part, then) for part in parts):
            return True
        case _, Any(parts) if any(_implies(first, part) for part in parts):
            return True
        case _, Once(inner) if _implies(first, inner):
            return True
        case Held(part, _), _:
            # What has been true for a time is true now.
            return _implies(part, then)
        case _:
            return False


def _by_values(first: Condition, then: Condition) -> bool:
    """For conditions that one look at one sensor settles; of an `and` only what looks at it."""
    about = _sources(then)
    if about is None or len(about) != 1:
        return False
    if isinstance(first, All):
        parts = tuple(part for part in first.parts if _sources(part) == about)
        if not parts:
            return False
        first = All(parts)
    if _sources(first) != about:
        return False
    asked = [*_asked(first), *_asked(then)]
    values = values_of(asked, _LATEST_US) if len(asked) <= MOST_TOGETHER else []
    fulfilled = [value for value in values if _holds(first, value) is True]
    return bool(fulfilled) and all(_holds(then, value) is True for value in fulfilled)


def _sources(condition: Condition) -> set[str] | None:
    """What it looks at; None where one look does not settle it."""
    match condition:
        case Not(part):
            return _sources(part)
        case All(parts) | Any(parts):
            found: set[str] = set()
            for part in parts:
                inner = _sources(part)
                if inner is None:
                    return None
                found |= inner
            return found
        case _ if isinstance(condition, Asked):
            return {asks(condition)}
        case _:
            return None


def _asked(condition: Condition) -> Sequence[Asked]:
    return [leaf for leaf in leaves(condition) if isinstance(leaf, Asked)]


def _holds(condition: Condition, value: Value) -> bool | None:
    """Kleene's logic of three values (M6)."""
    match condition:
        case Not(part):
            inner = _holds(part, value)
            return None if inner is None else not inner
        case All(parts):
            answers = [_holds(part, value) for part in parts]
            return False if False in answers else None if None in answers else True
        case Any(parts):
            answers = [_holds(part, value) for part in parts]
            return True if True in answers else None if None in answers else False
        case _:
            assert isinstance(condition, Asked), f"{condition} is no single look"
            return holds(condition, value)
