"""What a condition may still be while not all that it looks at is known: sets of truth values.

The three values are those of Kleene's strong logic (S. C. Kleene, Introduction to Metamathematics,
1952, §64; the section from memory). A set of them is a number with a bit for each, so that `and`,
`or` and `not` of sets give all that the values in them can give.
"""

from __future__ import annotations

from typing import TypeAlias

Mask: TypeAlias = int
"""A set of truth values; 0 for none."""

TRUE: Mask = 1
UNKNOWN: Mask = 2
FALSE: Mask = 4
ANY: Mask = TRUE | UNKNOWN | FALSE


def of(value: bool | None) -> Mask:
    """The one truth value, None being unknown."""
    return UNKNOWN if value is None else TRUE if value else FALSE


def negation(mask: Mask) -> Mask:
    """`not` of each."""
    return (mask & UNKNOWN) | (FALSE if mask & TRUE else 0) | (TRUE if mask & FALSE else 0)


def both(one: Mask, other: Mask) -> Mask:
    """`and` of each with each: the less true of the two."""
    found = (one | other) & FALSE | (one & other & TRUE)
    if (one & UNKNOWN and other & ~FALSE) or (other & UNKNOWN and one & ~FALSE):
        found |= UNKNOWN
    return found


def either(one: Mask, other: Mask) -> Mask:
    """`or` of each with each: the truer of the two."""
    return negation(both(negation(one), negation(other)))
