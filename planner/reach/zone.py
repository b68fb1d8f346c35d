"""Zones: all values of some clocks that keep bounds on the clocks and on their differences.

A zone is a difference-bound matrix in canonical form (J. Bengtsson, "DBM: Structures, Operations
and Implementation", in *Clocks, DBMs and States in Timed Systems*, Uppsala 2002, sections 2 and 3;
D. Dill, "Timing assumptions and verification of finite-state concurrent systems", 1989). Row i,
column j bounds ``clock i - clock j``; clock 0 always stands at 0. Clocks are never negative.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import compress, count
from operator import le, lt

from planner.reach.bound import AT_MOST_ZERO, INFINITY, at_most, number_of, plus


@dataclass(frozen=True, slots=True)
class Constraint:
    """``clock left - clock right`` keeps a bound."""

    left: int
    right: int
    bound: int

    @property
    def compares_clocks(self) -> bool:
        """Whether it compares two clocks with each other, not one with a number."""
        return bool(self.left and self.right)


@dataclass(frozen=True, slots=True)
class Zone:
    """A set of values of the clocks 1 to `size` - 1; every operation gives a new zone.

    Zones are equal if they hold the same values. The empty zone, and it alone, has a bound below 0
    in its first place; no operation makes it less empty.
    """

    size: int
    bounds: tuple[int, ...]
    """The matrix row by row, `size` times `size`."""

    @classmethod
    def zero(cls, size: int) -> Zone:
        """All clocks at 0."""
        return cls(size, (AT_MOST_ZERO,) * (size * size))

    @classmethod
    def everything(cls, size: int) -> Zone:
        """Every value of the clocks."""
        rows = [[INFINITY] * size for _ in range(size)]
        rows[0] = [AT_MOST_ZERO] * size
        for clock in range(size):
            rows[clock][clock] = AT_MOST_ZERO
        return cls(size, tuple(bound for row in rows for bound in row))

    @classmethod
    def of(cls, rows: Sequence[Sequence[int]]) -> Zone:
        """The values that keep the bounds of a matrix, which need not be in canonical form."""
        return _closed(len(rows), [bound for row in rows for bound in row])

    @property
    def rows(self) -> tuple[tuple[int, ...], ...]:
        """The matrix."""
        size = self.size
        return tuple(self.bounds[at : at + size] for at in range(0, size * size, size))

    @property
    def is_empty(self) -> bool:
        """Whether no values keep the bounds."""
        return self.bounds[0] < AT_MOST_ZERO

    def latest(self, clock: int) -> int:
        """The bound above a clock."""
        return self.bounds[clock * self.size]

    def least(self, clock: int) -> int:
        """The number that a clock is at or above; where it is never at it, strictly above."""
        return -number_of(self.bounds[clock])

    def most(self, clock: int) -> int:
        """The number that a clock is at or below.

        Raises `ValueError` where there is none.
        """
        if self.latest(clock) >= INFINITY:
            raise ValueError("nothing bounds this clock from above")
        return number_of(self.latest(clock))

    def includes(self, other: Zone) -> bool:
        """Whether all values of another zone are in this one too."""
        return other.is_empty or all(map(le, other.bounds, self.bounds))

    def united(self, other: Zone) -> Zone | None:
        """The zone of just the values of both; None where these are no zone.

        What the least zone around both has besides the values of one must lie in the other (A.
        David, "Merging DBMs efficiently", 2005; from memory).
        """
        size, theirs = self.size, other.bounds
        around = tuple(map(max, self.bounds, theirs))
        wider = [divmod(at, size) for at in compress(count(), map(lt, theirs, around))]
        for at in compress(count(), map(lt, self.bounds, around)):
            # What is beyond one of our bounds is in the other where the other's bounds follow.
            left, right = divmod(at, size)
            beyond = 1 - self.bounds[at]
            for row, column in wider:
                way_in, way_out = around[row * size + right], around[left * size + column]
                if plus(plus(way_in, beyond), way_out) > theirs[row * size + column]:
                    return None
        return Zone(size, around)

    def up(self) -> Zone:
        """What time makes of it: all clocks go on by the same, for any time."""
        bounds, size = list(self.bounds), self.size
        for clock in range(1, size):
            bounds[clock * size] = INFINITY
        return self if self.is_empty else Zone(size, tuple(bounds))

    def down(self) -> Zone:
        """What time makes it of: all values from which it can be reached by letting time pass."""
        if self.is_empty:
            return self
        bounds, size = list(self.bounds), self.size
        for clock in range(1, size):
            column = bounds[size + clock :: size]
            bounds[clock] = min(AT_MOST_ZERO, *column)
        return Zone(size, tuple(bounds))

    def free(self, clock: int) -> Zone:
        """All values, with any value of one clock."""
        if self.is_empty:
            return self
        bounds, size = list(self.bounds), self.size
        for other in range(size):
            if other != clock:
                bounds[clock * size + other] = INFINITY
                bounds[other * size + clock] = bounds[other * size]
        return Zone(size, tuple(bounds))

    def reset(self, clock: int, number: int = 0) -> Zone:
        """All values, with one clock set to a number."""
        if self.is_empty:
            return self
        bounds, size = list(self.bounds), self.size
        if not number:
            # It is then as far from each clock as clock 0 is.
            bounds[clock * size : (clock + 1) * size] = bounds[:size]
            bounds[clock::size] = bounds[::size]
            return Zone(size, tuple(bounds))
        above, under = at_most(number), at_most(-number)
        for other in range(size):
            if other != clock:
                bounds[clock * size + other] = plus(above, bounds[other])
                bounds[other * size + clock] = plus(bounds[other * size], under)
        return Zone(size, tuple(bounds))

    def meet(self, constraints: Iterable[Constraint]) -> Zone:
        """The values that keep some constraints as well."""
        if self.is_empty:
            return self
        bounds, size = list(self.bounds), self.size
        changed = False
        for constraint in constraints:
            left, right, bound = constraint.left, constraint.right, constraint.bound
            if bound >= bounds[left * size + right]:
                continue
            if plus(bounds[right * size + left], bound) < AT_MOST_ZERO:
                return _nothing(size)
            _tighten(bounds, size, left, right, bound)
            changed = True
        return Zone(size, tuple(bounds)) if changed else self

    def widened(self, highest: Sequence[int]) -> Zone:
        """The zone with the bounds forgotten that lie above each clock's highest constant.

        That is norm_k (Bengtsson 2002, section 3.3); it makes reachability end, and is sound only
        if no constraint compares two clocks (J. Bengtsson, W. Yi, "On clock difference constraints
        and termination in reachability analysis of timed automata", 2003). `highest` has one number
        for each clock, and a 0 for clock 0.
        """
        if self.is_empty:
            return self
        bounds, size = list(self.bounds), self.size
        for left in range(size):
            for right in range(size):
                at = left * size + right
                if left == right or bounds[at] >= INFINITY:
                    continue
                if bounds[at] > at_most(highest[left]):
                    bounds[at] = INFINITY
                elif bounds[at] < -2 * highest[right]:
                    bounds[at] = -2 * highest[right]
        return self if tuple(bounds) == self.bounds else _closed(size, bounds)


def _nothing(size: int) -> Zone:
    return Zone(size, (-1, *(AT_MOST_ZERO,) * (size * size - 1)))


def _tighten(bounds: list[int], size: int, left: int, right: int, bound: int) -> None:
    """Puts one tighter bound into a canonical matrix and makes it canonical again.

    A shorter way between two clocks can only be one over the new bound. Where that is no shorter
    way from `left` to a clock, or from a clock to `right`, the triangle inequality of the matrix
    says that it shortens no way to the one, or from the other.
    """
    ways_out = []
    for column in range(size):
        way_out = bounds[right * size + column]
        onward = bound + way_out - ((bound & 1) | (way_out & 1))
        if way_out < INFINITY and onward < bounds[left * size + column]:
            ways_out.append((column, onward))
    for row in range(0, size * size, size):
        way_in = bounds[row + left]
        if way_in >= INFINITY or plus(way_in, bound) >= bounds[row + right]:
            continue
        for column, onward in ways_out:
            total = way_in + onward - ((way_in & 1) | (onward & 1))
            if total < bounds[row + column]:
                bounds[row + column] = total


def _closed(size: int, bounds: list[int]) -> Zone:
    """The canonical form (R. Floyd, "Algorithm 97: shortest path", 1962)."""
    for clock in range(size):
        bounds[clock] = min(bounds[clock], AT_MOST_ZERO)
    for over in range(size):
        for row in range(0, size * size, size):
            for column in range(size):
                total = plus(bounds[row + over], bounds[over * size + column])
                if total < bounds[row + column]:
                    bounds[row + column] = total
    if any(bounds[clock * size + clock] < AT_MOST_ZERO for clock in range(size)):
        return _nothing(size)
    return Zone(size, tuple(bounds))
