"""Timed automata, alone and several that move together, as what the search is fed with.

R. Alur, D. Dill, "A theory of timed automata", 1994: a location may be stayed in while its
invariant holds; an edge may be taken while its guard holds, and resets clocks. A symbolic state
holds all values that a location can have while time passes in it (J. Bengtsson, W. Yi, "Timed
Automata: Semantics, Algorithms and Tools", LNCS 3098, 2004, section 3.2).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product

from planner.reach.bound import at_most, below, number_of
from planner.reach.search import Change, Meet, Move, Reset, Wait
from planner.reach.zone import Constraint, Zone


@dataclass(frozen=True, slots=True)
class Limit:
    """A clock, or the difference of two, against a number: ``Limit("x", "<", 3)``.

    `sign` is one of ``<``, ``<=``, ``=``, ``>=``, ``>``; `less` is the clock that is taken away.
    """

    clock: str
    sign: str
    number: int
    less: str = ""


@dataclass(frozen=True, slots=True)
class Edge:
    """A way from one location to another. Automata that share an action take it together."""

    source: str
    target: str
    action: str
    guard: tuple[Limit, ...] = ()
    resets: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Automaton:
    """A timed automaton; `start` is where all clocks are 0."""

    start: str
    edges: tuple[Edge, ...]
    invariants: Mapping[str, tuple[Limit, ...]] = field(default_factory=dict)


class Network:
    """Several automata; a location is the tuple of theirs. It is a system that can be searched.

    An action is taken by all automata that have an edge for it anywhere, at once. Where some
    constraint compares two clocks, zones are not widened, since that would not be sound; then a
    search may be `Stopped` where it would have ended, but never wrong.
    """

    def __init__(self, *automata: Automaton) -> None:
        self._automata = automata
        limits = [limit for automaton in automata for limit in _limits(automaton)]
        resets = [c for automaton in automata for edge in automaton.edges for c in edge.resets]
        names = [name for limit in limits for name in (limit.clock, limit.less)]
        self._clocks = {name: at for at, name in enumerate(dict.fromkeys(["", *names, *resets]))}
        constraints = [c for limit in limits for c in constraints_of(limit, self._clocks)]
        self._highest = highest_of(constraints, len(self._clocks))
        self._actions = [{edge.action for edge in automaton.edges} for automaton in automata]

    def begin(self) -> tuple[tuple[str, ...], Zone]:
        """All automata where they start, for as long as their invariants let them."""
        location = tuple(automaton.start for automaton in self._automata)
        inside = self._invariant(location)
        return location, Zone.zero(len(self._clocks)).meet(inside).up().meet(inside)

    def moves(self, location: tuple[str, ...], _zone: Zone) -> Iterator[Move[tuple[str, ...]]]:
        """The actions that all who share them have an edge for."""
        for action in dict.fromkeys(a for actions in self._actions for a in sorted(actions)):
            ways = [
                [edge for edge in automaton.edges if (edge.source, edge.action) == (here, action)]
                for automaton, here, actions in zip(
                    self._automata, location, self._actions, strict=True
                )
                if action in actions
            ]
            for edges in product(*ways):
                yield self._move(location, action, edges)

    def highest(self, _location: tuple[str, ...]) -> Sequence[int] | None:
        """The highest number that each clock is compared with anywhere."""
        return self._highest

    def rank(self, _location: tuple[str, ...], _zone: Zone, _moves: int) -> int:
        """The same for all: breadth first."""
        return 0

    def _move(
        self, location: tuple[str, ...], action: str, edges: tuple[Edge, ...]
    ) -> Move[tuple[str, ...]]:
        moving = iter(edges)
        target = tuple(
            next(moving).target if action in actions else here
            for here, actions in zip(location, self._actions, strict=True)
        )
        inside = Meet(self._invariant(target))
        guard = Meet(tuple(c for edge in edges for c in self._constraints(edge.guard)))
        resets = [Reset(self._clocks[clock]) for edge in edges for clock in edge.resets]
        changes: list[Change] = [guard, *resets, inside, Wait(), inside]
        return Move(action, target, tuple(changes))

    def _invariant(self, location: tuple[str, ...]) -> tuple[Constraint, ...]:
        return tuple(
            constraint
            for automaton, here in zip(self._automata, location, strict=True)
            for constraint in self._constraints(automaton.invariants.get(here, ()))
        )

    def _constraints(self, limits: tuple[Limit, ...]) -> Iterator[Constraint]:
        for limit in limits:
            yield from constraints_of(limit, self._clocks)


def constraints_of(limit: Limit, clocks: Mapping[str, int]) -> Iterator[Constraint]:
    """A limit as bounds on clocks by their numbers; ``=`` makes two of them."""
    left, right = clocks[limit.clock], clocks[limit.less]
    bound = below if limit.sign in ("<", ">") else at_most
    if limit.sign in ("<", "<=", "="):
        yield Constraint(left, right, bound(limit.number))
    if limit.sign in (">", ">=", "="):
        yield Constraint(right, left, bound(-limit.number))


def highest_of(constraints: Sequence[Constraint], size: int) -> list[int] | None:
    """The highest number that each clock is compared with.

    None where two clocks are compared with each other: `Zone.widened` is not sound then, whatever
    the numbers.
    """
    highest = [0] * size
    for constraint in constraints:
        if constraint.compares_clocks:
            return None
        clock = constraint.left or constraint.right
        highest[clock] = max(highest[clock], abs(number_of(constraint.bound)))
    return highest


def _limits(automaton: Automaton) -> Iterator[Limit]:
    for limits in automaton.invariants.values():
        yield from limits
    for edge in automaton.edges:
        yield from edge.guard
