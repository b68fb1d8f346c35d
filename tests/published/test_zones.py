"""Zones, their operations and timed reachability against published examples.

"Thesis" is J. Bengtsson, "DBM: Structures, Operations and Implementation", paper A of *Clocks, DBMs
and States in Timed Systems*, Uppsala 2002. "LNCS" is J. Bengtsson, W. Yi, "Timed Automata:
Semantics, Algorithms and Tools", LNCS 3098, 2004. Both were read as re-typed copies. Rows are
clocks 0, x, y, z.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import pytest

from planner.reach.automaton import Automaton, Edge, Limit, Network, highest_of
from planner.reach.bound import INFINITY, at_most, below, plus, spoken
from planner.reach.search import Bounds, Holds, Stopped, explore, reach
from planner.reach.zone import Constraint, Zone


def bound_of(word: str) -> int:
    """A bound as it is printed: ``<=3``, ``<3``, ``inf``."""
    if word == "inf":
        return INFINITY
    return at_most(int(word[2:])) if word.startswith("<=") else below(int(word[1:]))


def rows(text: str) -> tuple[tuple[int, ...], ...]:
    """A printed matrix, its rows between slashes."""
    return tuple(tuple(bound_of(word) for word in row.split()) for row in text.split("/"))


def printed(zone: Zone) -> str:
    """A zone's matrix as it is printed."""
    return " / ".join(" ".join(spoken(bound) for bound in row) for row in zone.rows)


# Thesis, section 2.1 and figure 1: x < 20, y <= 20, y - x <= 10, x - y <= -10. The copy says x < 10
# follows; the bound on y is weak, so it is x <= 10.
RAW = "<=0 <=0 <=0 / <20 <=0 <=-10 / <=20 <=10 <=0"
CLOSED = "<=0 <=0 <=-10 / <=10 <=0 <=-10 / <=20 <=10 <=0"
X_AT_LEAST_5 = "<=0 <=-5 <=-15 / <=10 <=0 <=-10 / <=20 <=10 <=0"

CANONICAL = {
    # Thesis, section 2: x < 20, y <= 20, y - x <= 10, x - y <= -10 and z above -5. No clock is
    # below 0, which is tighter.
    "thesis section 2": (
        "<=0 <=0 <=0 <5 / <20 <=0 <=-10 inf / <=20 <=10 <=0 inf / inf inf inf <=0",
        "<=0 <=0 <=-10 <=0 / <=10 <=0 <=-10 <=10 / <=20 <=10 <=0 <=20 / inf inf inf <=0",
    ),
    "thesis figure 1": (RAW, CLOSED),
    # Thesis, section 2.2: x - y <= 0, y - z <= 0, z - x <= 0, 2 <= x <= 3.
    "thesis section 2.2": (
        "<=0 <=-2 <=0 <=0 / <=3 <=0 <=0 inf / inf inf <=0 <=0 / inf <=0 inf <=0",
        "<=0 <=-2 <=-2 <=-2 / <=3 <=0 <=0 <=0 / <=3 <=0 <=0 <=0 / <=3 <=0 <=0 <=0",
    ),
    # A problem statement, "HDU 3305", from E. Clarke, O. Grumberg, D. Peled, "Model Checking",
    # chapter 17 (the book from memory): x1 - x2 < 2, 0 < x2 <= 2, 1 <= x1.
    "model checking chapter 17": (
        "<=0 <=-1 <0 / inf <=0 <2 / <=2 inf <=0",
        "<=0 <=-1 <0 / <4 <=0 <2 / <=2 <=1 <=0",
    ),
}


@pytest.mark.parametrize("name", CANONICAL)
def test_canonical_form(name: str) -> None:
    """The canonical form of a matrix is the published one."""
    raw, closed = CANONICAL[name]
    assert closed == printed(Zone.of(rows(raw)))


def meet(left: int, right: int, bound: int) -> Callable[[Zone], Zone]:
    """Meeting one constraint."""
    return lambda zone: zone.meet([Constraint(left, right, bound)])


# Thesis, sections 3.2 and 3.3, on the zone of figure 1.
OPERATIONS: dict[str, tuple[Callable[[Zone], Zone], str]] = {
    "up": (Zone.up, "<=0 <=0 <=-10 / inf <=0 <=-10 / inf <=10 <=0"),
    "reset x to 0": (
        lambda zone: zone.reset(1),
        "<=0 <=0 <=-10 / <=0 <=0 <=-10 / <=20 <=20 <=0",
    ),
    "reset y to 3": (lambda zone: zone.reset(2, 3), "<=0 <=0 <=-3 / <=10 <=0 <=7 / <=3 <=3 <=0"),
    "free x": (lambda zone: zone.free(1), "<=0 <=0 <=-10 / inf <=0 inf / <=20 <=20 <=0"),
    "x at least 5": (meet(0, 1, at_most(-5)), X_AT_LEAST_5),
    "x at least 10": (
        meet(0, 1, at_most(-10)),
        "<=0 <=-10 <=-20 / <=10 <=0 <=-10 / <=20 <=10 <=0",
    ),
    # y keeps its lower bound of 10, since x was never below 0.
    "down from x at least 5": (lambda zone: meet(0, 1, at_most(-5))(zone).down(), CLOSED),
    "widened by 4 and 12": (
        lambda zone: zone.widened((0, 4, 12)),
        "<=0 <=0 <=-10 / inf <=0 <=-10 / inf <=10 <=0",
    ),
    "widened by 10 and 20": (lambda zone: zone.widened((0, 10, 20)), CLOSED),
    # LNCS prints the guard after the reset, r(D) and g; it belongs before it.
    "reset x after x at least 5": (
        lambda zone: meet(0, 1, at_most(-5))(zone).reset(1),
        "<=0 <=0 <=-15 / <=0 <=0 <=-15 / <=20 <=20 <=0",
    ),
}


@pytest.mark.parametrize("name", OPERATIONS)
def test_operation(name: str) -> None:
    """An operation gives the published matrix, which is canonical."""
    operation, expected = OPERATIONS[name]
    result = operation(Zone.of(rows(RAW)))
    assert expected == printed(result)
    assert result == Zone.of(result.rows)


def test_a_strict_bound_at_the_border_leaves_nothing() -> None:
    """The zone of figure 1 holds x = 10 and nothing above; x is not below 5 once reset."""
    zone = Zone.of(rows(RAW))
    assert meet(0, 1, below(-10))(zone).is_empty
    assert meet(0, 1, at_most(-5))(zone.reset(1)).is_empty


def test_the_sum_of_bounds() -> None:
    """Bounds add as the thesis says (section 2): the numbers add, and `<` in either makes `<`."""
    for one, other in product(range(-30, 31), repeat=2):
        assert at_most(one + other) == plus(at_most(one), at_most(other))
        assert below(one + other) == plus(at_most(one), below(other))
        assert below(one + other) == plus(below(one), below(other))


def test_widening_is_not_sound_where_clocks_are_compared() -> None:
    """J. Bengtsson, W. Yi, 2003, figure 1: a guard on differences that no value meets is met by the
    widened zone; so no constants are given for such guards."""
    zone = Zone.everything(4).meet([Constraint(2, 1, below(-2)), Constraint(0, 1, below(-2))])
    guard = [Constraint(1, 3, below(1)), Constraint(3, 2, below(1))]
    assert zone.meet(guard).is_empty
    assert not zone.widened((0, 1, 1, 1)).meet(guard).is_empty
    assert highest_of(guard, 4) is None


# LNCS, figures 4 and 5; the automaton is recalled from the text.
LOOP = Automaton(
    "start",
    (
        Edge("start", "loop", "begin", resets=("x", "y")),
        Edge("loop", "loop", "again", (Limit("x", "=", 10),), ("x",)),
        Edge("loop", "end", "leave", (Limit("y", ">=", 20),), ("x", "y")),
    ),
    {"loop": (Limit("x", "<=", 10),)},
)


def test_an_infinite_zone_graph_is_made_finite() -> None:
    """Widened by 10 and 20, the example of LNCS figure 5 has just its six symbolic states."""
    states = explore(Network(LOOP), as_found=True).states
    found = {(state.location[0], printed(state.zone)) for state in states}
    any_time = "<=0 <=0 <=0 / inf <=0 <=0 / inf <=0 <=0"
    assert {
        ("start", any_time),
        ("end", any_time),
        ("loop", "<=0 <=0 <=0 / <=10 <=0 <=0 / <=10 <=0 <=0"),
        ("loop", CLOSED),
        ("loop", "<=0 <=0 <=-20 / <=10 <=0 <=-20 / <=30 <=20 <=0"),
        ("loop", "<=0 <=0 <-20 / <=10 <=0 <-20 / inf inf <=0"),
    } == found


def test_the_same_graph_without_widening_is_stopped() -> None:
    """Where clocks are compared nothing is widened: the search of LNCS figure 4 ends by a bound,
    and says so."""
    compared = Edge("loop", "nowhere", "never", (Limit("x", ">", 99, less="y"),))
    endless = Network(Automaton(LOOP.start, (*LOOP.edges, compared), LOOP.invariants))
    stopped = reach(endless, lambda location: location == ("nowhere",), Bounds(states=100))
    assert isinstance(stopped, Stopped)
    assert "100 states" == stopped.bound


# R. Alur, D. Dill, "A theory of timed automata", 1994, section 7; the numbers as G. Gupta and
# E. Pontelli have them in a program of 1997. The invariants are added: equal to the upper bounds.
def crossing(
    *, enters: str = "> 2", down: str = "< 1", lowers: int = 1, weak: bool = False
) -> Network:
    """Train, gate and controller; mutants change one number or sign."""
    less = "<=" if weak else "<"
    enter_sign, enter_at = enters.split()
    down_sign, down_at = down.split()
    far = Limit("x", less, 5)
    closing = Limit("y", less if weak else down_sign, int(down_at))
    train = Automaton(
        "away",
        (
            Edge("away", "near", "approach", resets=("x",)),
            Edge("near", "in", "enter", (Limit("x", enter_sign, int(enter_at)),)),
            Edge("in", "past", "out"),
            Edge("past", "away", "exit", (far,)),
        ),
        dict.fromkeys(("near", "in", "past"), (far,)),
    )
    gate = Automaton(
        "up",
        (
            Edge("up", "lowering", "lower", resets=("y",)),
            Edge("lowering", "down", "shut", (closing,)),
            Edge("down", "raising", "raise", resets=("y",)),
            Edge("raising", "up", "open", (Limit("y", ">", 1), Limit("y", "<", 2))),
        ),
        {"lowering": (closing,), "raising": (Limit("y", less, 2),)},
    )
    controller = Automaton(
        "0",
        (
            Edge("0", "1", "approach", resets=("z",)),
            Edge("1", "2", "lower", (Limit("z", "=", lowers),)),
            Edge("2", "3", "exit", resets=("z",)),
            Edge("3", "0", "raise", (Limit("z", less, 1),)),
        ),
        {"1": (Limit("z", "<=", lowers),), "3": (Limit("z", less, 1),)},
    )
    return Network(train, gate, controller)


def unsafe(location: tuple[str, ...]) -> bool:
    """The train is on the crossing and the gate is not down."""
    return location[0] == "in" and location[1] != "down"


def test_the_train_never_meets_an_open_gate() -> None:
    """The published crossing is safe, and has nine locations."""
    assert Holds() == reach(crossing(), unsafe)
    assert 9 == len({state.location for state in explore(crossing()).states})


@pytest.mark.parametrize(
    "mutant",
    [crossing(enters="> 1"), crossing(down="< 2"), crossing(lowers=2)],
    ids=["enters early", "gate is slow", "lowers late"],
)
def test_an_unsafe_crossing_is_found_out(mutant: Network) -> None:
    """With one number changed the train meets a gate that is being lowered."""
    explored = explore(mutant, wanted=unsafe)
    assert explored.found is not None
    assert ("in", "lowering", "2") == explored.found.location


def test_strictness_decides() -> None:
    """With weak bounds everywhere, a train that comes after more than 2 is safe, and one that may
    come at 2 meets the gate in the very moment in which it shuts (C. Baier, J.-P. Katoen,
    "Principles of Model Checking", 2008, chapter 9, from memory)."""
    assert Holds() == reach(crossing(enters="> 2", weak=True), unsafe)
    found = explore(crossing(enters=">= 2", weak=True), wanted=unsafe).found
    assert found is not None


def test_two_steps_by_hand() -> None:
    """A student's solution for R. Alur, "Timed Automata", 2000, figure 1."""
    begin = Zone.everything(3).meet([Constraint(1, 0, at_most(4))])
    once = begin.up().meet([Constraint(1, 0, below(1))]).reset(1)
    assert "<=0 <=0 <=0 / <=0 <=0 <=0 / inf inf <=0" == printed(once)
    inside = [Constraint(1, 0, below(1))]
    twice = once.up().meet(inside).reset(2)
    assert "<=0 <=0 <=0 / <1 <=0 <1 / <=0 <=0 <=0" == printed(twice)
