"""Whether what a plan asks of a sensor can be true at all, and whether it can be false.

A condition on one number changes its answer only at its own thresholds. So it is asked at each
threshold, between them, and at the ends of what the sensor can give; that settles it exactly.
Only readable values count, unless the plan itself asks whether the reading is `unreadable`.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import dataclass

from planner.checks.meaning import meaning
from planner.graph.cells import Asked, asks, holds, values_of
from planner.model.condition import (
    All,
    Any,
    Compare,
    Condition,
    Held,
    MatchClock,
    Not,
    Within,
    leaves,
    parts,
)

MOST_TOGETHER = 40
"""Of more conditions on one sensor in one exit nothing is concluded: the work grows too fast."""


@dataclass(frozen=True, slots=True)
class Settled:
    """Conditions on one sensor whose answer is the same whatever the sensor says."""

    always: bool
    """True: the condition, or one of several, always holds. False: it, or all together, never."""
    asked: tuple[Condition, ...]
    """One, or the ones of an `and` or `or` that settle it between them."""
    negated: tuple[bool, ...] = (False,)
    """Which of them stand behind a `not`."""


def settled(condition: Condition, limit_us: int | None = None) -> Iterator[Settled]:
    """What is settled in a condition, in the order of the text.

    The match clock goes up to `limit_us`; where that is None, its conditions settle nothing.
    """
    alone: set[int] = set()
    behind_not = {id(part.part) for part in parts(condition) if isinstance(part, Not)}
    for leaf in leaves(condition):
        if isinstance(leaf, Compare | Within | MatchClock):
            answers = {holds(leaf, value) for value in values_of([leaf], limit_us)}
            if len(answers) == 1:
                alone.add(id(leaf))
                negated = id(leaf) in behind_not
                yield Settled(answers.pop() is not negated, (leaf,), (negated,))
    for part in parts(condition):
        if isinstance(part, All | Any):
            yield from _between(part, alone, limit_us)


def _between(part: All | Any, alone: set[int], limit_us: int | None) -> Iterator[Settled]:
    """What several conditions on one sensor settle between them, where none does so alone."""
    groups: dict[str, list[tuple[Asked, bool]]] = {}
    told = False
    for inner in part.parts:
        found = _asked(inner, held_too=isinstance(part, All))
        if found and id(found[0]) not in alone:
            groups.setdefault(asks(found[0]), []).append(found)
    for group in groups.values():
        if not 2 <= len(group) <= MOST_TOGETHER:
            continue
        asked = tuple(leaf for leaf, _ in group)
        negated = tuple(not wanted for _, wanted in group)
        together = [
            [holds(leaf, value) is wanted for leaf, wanted in group]
            for value in values_of(asked, limit_us)
        ]
        if isinstance(part, All) and together and not any(map(all, together)):
            yield Settled(False, asked, negated)
            told = True
        if isinstance(part, Any) and together and all(map(any, together)):
            yield Settled(True, asked, negated)
            told = True
    if not told:
        yield from _opposites(part)


def _opposites(part: All | Any) -> Iterator[Settled]:
    """A condition and its very opposite in one `and` or `or`, whatever they look at."""
    plain: dict[Hashable, Condition] = {}
    for inner in part.parts:
        if not isinstance(inner, Not):
            plain.setdefault(meaning(inner), inner)
    plain.pop(None, None)
    for inner in part.parts:
        if isinstance(inner, Not) and meaning(inner.part) in plain:
            both = (plain[meaning(inner.part)], inner.part)
            yield Settled(isinstance(part, Any), both, (False, True))
            return


def _asked(condition: Condition, held_too: bool) -> tuple[Asked, bool] | None:
    """The question that a condition is, and the answer it wants; None for anything longer.

    What has been true for a time is true now, which counts for `and` (`held_too`), not for `or`.
    """
    match condition:
        case Held(part) if held_too:
            return _asked(part, held_too)
        case Not(part) if isinstance(part, Asked):
            return part, False
        case _ if isinstance(condition, Asked):
            return condition, True
        case _:
            return None
