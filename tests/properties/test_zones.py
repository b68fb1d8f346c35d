"""Operations on random zones, judged by an optimiser that knows nothing of matrices.

The judge is Z3's optimiser over real numbers (L. de Moura, N. Bjørner, "Z3: an efficient SMT
solver", 2008): the bound between two clocks is the highest value that their difference can have,
and it is weak where the value itself is had.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations, product
from typing import TypeAlias

import hypothesis.strategies as st
import pytest
import z3
from hypothesis import example, given

from planner.reach.bound import INFINITY, at_most, below, number_of, plus
from planner.reach.search import Meet, Move, Reset, Wait
from planner.reach.zone import Constraint, Zone

CLOCKS = 3
Vector: TypeAlias = "list[z3.ArithRef]"

sizes = st.integers(0, CLOCKS)
constraints = st.builds(
    Constraint,
    sizes,
    sizes,
    st.builds(lambda n, weak: 2 * n + weak, st.integers(-6, 9), st.booleans()),
).filter(lambda constraint: constraint.left != constraint.right)
zones = st.lists(constraints, max_size=6).map(lambda c: Zone.everything(CLOCKS + 1).meet(c))
clocks = st.integers(1, CLOCKS)


def keeps(bound: int, value: z3.ArithRef) -> z3.BoolRef:
    """The bound in the judge's own words."""
    number = number_of(bound)
    return value <= number if bound & 1 else value < number


def inside(zone: Zone, values: Vector) -> z3.BoolRef:
    """The values lie in a zone."""
    size = zone.size
    return z3.And(
        values[0] == 0,
        *(
            keeps(zone.bounds[row * size + column], values[row] - values[column])
            for row, column in product(range(size), repeat=2)
            if zone.bounds[row * size + column] < INFINITY and row != column
        ),
        *(value >= 0 for value in values),
        *([z3.BoolVal(False)] if zone.is_empty else []),
    )


def named(letter: str) -> Vector:
    """One unknown for each clock."""
    return [z3.Real(f"{letter}{number}") for number in range(CLOCKS + 1)]


def judged(result: Zone, values: Vector, such_that: z3.BoolRef) -> None:
    """A zone holds just the values for which something is true, and its bounds are the tightest."""
    solver = z3.Solver()
    solver.add(such_that)
    if solver.check() == z3.unsat:
        assert result.is_empty
        return
    for row, column in permutations(range(result.size), 2):
        assert (
            tightest(values[row] - values[column], such_that)
            == result.bounds[row * result.size + column]
        )


def tightest(difference: z3.ArithRef, such_that: z3.BoolRef) -> int:
    """The tightest bound on a difference, by the judge's optimiser."""
    optimiser = z3.Optimize()
    optimiser.add(such_that)
    highest = optimiser.maximize(difference)
    assert optimiser.check() == z3.sat
    # The judge gives the value as: number of infinities, number, number of smallest steps.
    infinite, number, steps = optimiser.upper_values(highest)
    if infinite.as_long():
        return INFINITY
    whole = Fraction(str(number))
    assert 1 == whole.denominator
    return below(whole.numerator) if Fraction(str(steps)) < 0 else at_most(whole.numerator)


@given(st.lists(constraints, max_size=8))
def test_canonical_form(those: list[Constraint]) -> None:
    """Meeting constraints one by one, and closing a matrix of them, give the tightest bounds."""
    values = named("v")
    whole = z3.And(
        values[0] == 0,
        *(value >= 0 for value in values),
        *(keeps(c.bound, values[c.left] - values[c.right]) for c in those),
    )
    judged(Zone.everything(CLOCKS + 1).meet(those), values, whole)
    rows = [list(row) for row in Zone.everything(CLOCKS + 1).rows]
    for c in those:
        rows[c.left][c.right] = min(rows[c.left][c.right], c.bound)
    assert Zone.of(rows) == Zone.everything(CLOCKS + 1).meet(those)


@given(zones)
def test_time(zone: Zone) -> None:
    """`up` holds what some time leads to, and `down` what some time leads from."""
    values, d = named("v"), z3.Real("d")
    earlier = [values[0], *(value - d for value in values[1:])]
    later = [values[0], *(value + d for value in values[1:])]
    here = z3.And(values[0] == 0, d >= 0, *(value >= 0 for value in values))
    judged(zone.up(), values, z3.And(here, inside(zone, earlier)))
    judged(zone.down(), values, z3.And(here, inside(zone, later)))


@given(zones, clocks, st.integers(0, 5))
def test_one_clock(zone: Zone, clock: int, number: int) -> None:
    """`free` gives a clock any value, `reset` a certain one; the others keep theirs."""
    values, old = named("v"), named("o")
    others = z3.And(*(values[at] == old[at] for at in range(CLOCKS + 1) if at != clock))
    freed = z3.And(inside(zone, old), others, values[clock] >= 0)
    judged(zone.free(clock), values, freed)
    judged(zone.reset(clock, number), values, z3.And(freed, values[clock] == number))


changes = st.one_of(
    st.lists(constraints, max_size=2).map(lambda c: Meet(tuple(c))),
    st.just(Wait()),
    st.builds(Reset, clocks, st.integers(0, 4)),
)


@given(zones, st.lists(changes, max_size=4), zones)
def test_a_move_backwards(zone: Zone, those: list[Meet | Wait | Reset], goal: Zone) -> None:
    """What a move leads to meets a goal just where the zone meets what leads to that goal."""
    move = Move("", "", tuple(those))
    led = _both(move.after(zone), goal)
    leads = _both(zone, move.before(goal))
    assert led.is_empty == leads.is_empty


@given(zones, zones)
@example(Zone.everything(CLOCKS + 1), Zone.zero(CLOCKS + 1))
def test_inclusion(one: Zone, other: Zone) -> None:
    """A zone includes another where no value of the other lies outside of it."""
    values, solver = named("v"), z3.Solver()
    solver.add(inside(other, values), z3.Not(inside(one, values)))
    assert (solver.check() == z3.unsat) == one.includes(other)


@given(zones, st.lists(st.integers(0, 6), min_size=CLOCKS, max_size=CLOCKS))
def test_widening(zone: Zone, highest: list[int]) -> None:
    """A widened zone has all values it had, and none on the other side of a constant up to the
    highest."""
    wide = zone.widened((0, *highest))
    assert wide.includes(zone)
    for clock, most in enumerate(highest, 1):
        for number in range(most + 1):
            for c in (
                Constraint(clock, 0, at_most(number)),
                Constraint(0, clock, at_most(-number)),
                Constraint(clock, 0, below(number)),
                Constraint(0, clock, below(-number)),
            ):
                assert zone.meet([c]).is_empty == wide.meet([c]).is_empty


@pytest.mark.parametrize("bound", [at_most(3), below(3), at_most(-3)])
def test_infinity_stays(bound: int) -> None:
    """Nothing added to no bound makes one."""
    assert INFINITY == plus(bound, INFINITY) == plus(INFINITY, bound)


def _both(one: Zone, other: Zone) -> Zone:
    """The values that two zones share."""
    if other.is_empty:
        return other
    return one.meet(
        Constraint(row, column, other.bounds[row * other.size + column])
        for row, column in permutations(range(other.size), 2)
    )
