"""Bounds on the difference of two clocks, each packed into one whole number.

A bound says that a difference is below `n`, or at most `n`. It is kept as ``2 n`` or ``2 n + 1``,
so that the tighter of two bounds is the smaller number (J. Bengtsson, "DBM: Structures, Operations
and Implementation", in *Clocks, DBMs and States in Timed Systems*, Uppsala 2002, section 4.1).
"""

from __future__ import annotations

INFINITY = 1 << 80
"""The bound that everything keeps. No sum of real bounds comes near it."""
AT_MOST_ZERO = 1


def at_most(number: int) -> int:
    """The bound ``<= number``."""
    return 2 * number + 1


def below(number: int) -> int:
    """The bound ``< number``."""
    return 2 * number


def plus(one: int, other: int) -> int:
    """The bound that the sum of two differences keeps; ``<`` on either side makes it ``<``."""
    if one >= INFINITY or other >= INFINITY:
        return INFINITY
    return one + other - ((one & 1) | (other & 1))


def negated(bound: int) -> int:
    """The bound that the opposite difference keeps exactly where this one is broken."""
    return 1 - bound


def number_of(bound: int) -> int:
    """The number in a bound that is not `INFINITY`."""
    return bound >> 1


def is_weak(bound: int) -> bool:
    """Whether the number itself keeps the bound."""
    return bool(bound & 1)


def spoken(bound: int) -> str:
    """A bound as it is written: ``<=3``, ``<3`` or ``inf``."""
    if bound >= INFINITY:
        return "inf"
    return f"{'<=' if is_weak(bound) else '<'}{number_of(bound)}"
