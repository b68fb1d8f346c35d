"""Kleene's strong logic of three values (S. C. Kleene, Introduction to Metamathematics, 1952, §64;
the section from memory), as numbers: `and` is the least, `or` the greatest, `not` changes the sign.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, TypeAlias

Truth: TypeAlias = Literal[-1, 0, 1]

TRUE: Truth = 1
UNKNOWN: Truth = 0
FALSE: Truth = -1


def truth(value: bool) -> Truth:
    """A plain answer as a truth value."""
    return TRUE if value else FALSE


def all_of(values: Iterable[Truth]) -> Truth:
    """`and`: the least true of the values."""
    return min(values, default=TRUE)


def any_of(values: Iterable[Truth]) -> Truth:
    """`or`: the truest of the values."""
    return max(values, default=FALSE)


def negation(value: Truth) -> Truth:
    """`not`: unknown stays unknown."""
    return TRUE if value < 0 else FALSE if value > 0 else UNKNOWN
