"""What several active steps find in one pass: each reading says the same to all of them (M1).

Steps of different lanes may look at one sensor. What a step finds is told along with what such
readings say then, as far as the conditions of all these steps tell that apart; together they find
only what some saying allows. Readings that count from an entry are left out: what they say to
another step depends on when that was entered.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeAlias

from planner.model.condition import (
    Answers,
    Compare,
    Condition,
    Done,
    Leaf,
    Steady,
    Unreadable,
    Within,
    leaves,
)
from planner.reach.saying import Value, counts_from_entry, reading_of

Saying: TypeAlias = "tuple[tuple[str, Value], ...]"
"""What each shared reading says, in the order of their names."""
Sayings: TypeAlias = frozenset[Saying]

ANYTHING: Sayings = frozenset({()})
"""That shared readings may say what they like."""

Shared: TypeAlias = Mapping[str, tuple[Leaf, ...]]
"""By reading that several steps look at, all that they ask of it, in the order of the steps."""


def looks_of(conditions: Iterable[Condition]) -> dict[str, tuple[Leaf, ...]]:
    """What conditions ask of each reading that says the same to every step."""
    found: dict[str, list[Leaf]] = {}
    for condition in conditions:
        for leaf in leaves(condition):
            sensed = isinstance(leaf, Answers | Done | Compare | Within | Steady | Unreadable)
            name = reading_of(leaf) if sensed and not counts_from_entry(leaf) else ""
            if name:
                found.setdefault(name, []).append(leaf)
    return {name: tuple(asked) for name, asked in found.items()}


def shared_by(looks: Sequence[Mapping[str, tuple[Leaf, ...]]]) -> dict[str, tuple[Leaf, ...]]:
    """The readings that more than one of some steps looks at."""
    found: dict[str, tuple[Leaf, ...]] = {}
    for number, of_step in enumerate(looks):
        for name, asked in of_step.items():
            if name in found:
                found[name] += asked
            elif any(name in other for other in looks[number + 1 :]):
                found[name] = asked
    return found


def agreeing(one: Sayings, other: Sayings) -> Sayings:
    """What is said where both can be found; empty where they cannot be found in one pass."""
    if one == ANYTHING:
        return other
    if other == ANYTHING:
        return one
    found = set()
    for saying in one:
        for more in other:
            said = dict(saying)
            if all(said.setdefault(name, value) == value for name, value in more):
                found.add(tuple(sorted(said.items(), key=lambda item: item[0])))
    return frozenset(found)


def any_of(sayings: Iterable[Sayings]) -> Sayings:
    """What is said where one of several things is found."""
    found = frozenset(saying for some in sayings for saying in some)
    return ANYTHING if () in found else found
