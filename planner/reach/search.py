"""Forward reachability over zones, and its three answers.

The search goes from one symbolic state, a location with a zone, to those that one move leads to,
and leaves out a state whose zone lies in one that the same location has already (J. Bengtsson, W.
Yi, "Timed Automata: Semantics, Algorithms and Tools", LNCS 3098, 2004, sections 3.2 and 4). States
wait in a stated order: by the system's rank of their location, then by the number of moves, then as
found. So the same system gives the same answer on every machine; where all ranks are equal the
search is breadth first, and the run to the first state found has as few moves as any.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Generic, Protocol, TypeAlias, TypeVar

from planner.reach.zone import Constraint, Zone

Location = TypeVar("Location", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Meet:
    """The clocks keep some constraints."""

    constraints: tuple[Constraint, ...]

    def after(self, zone: Zone) -> Zone:
        """What it makes of a zone."""
        return zone.meet(self.constraints)

    before = after
    """What it makes a zone of."""


@dataclass(frozen=True, slots=True)
class Wait:
    """Time passes, as much as it likes."""

    def after(self, zone: Zone) -> Zone:
        """What it makes of a zone."""
        return zone.up()

    def before(self, zone: Zone) -> Zone:
        """What it makes a zone of."""
        return zone.down()


@dataclass(frozen=True, slots=True)
class Reset:
    """A clock is set to a number."""

    clock: int
    number: int = 0

    def after(self, zone: Zone) -> Zone:
        """What it makes of a zone."""
        return zone.reset(self.clock, self.number)

    def before(self, zone: Zone) -> Zone:
        """What it makes a zone of."""
        here = (
            Constraint(self.clock, 0, 2 * self.number + 1),
            Constraint(0, self.clock, -2 * self.number + 1),
        )
        return zone.meet(here).free(self.clock)


Change: TypeAlias = Meet | Wait | Reset


@dataclass(frozen=True, slots=True)
class Move(Generic[Location]):
    """A way from one location to another: what happens to the clocks, in order."""

    label: object
    target: Location
    changes: tuple[Change, ...]

    def after(self, zone: Zone) -> Zone:
        """The values of the clocks after the move, from those before it."""
        for change in self.changes:
            zone = change.after(zone)
        return zone

    def before(self, zone: Zone) -> Zone:
        """The values of the clocks before the move from which it leads to these."""
        for change in reversed(self.changes):
            zone = change.before(zone)
        return zone


class System(Protocol[Location]):
    """What can be searched."""

    def begin(self) -> tuple[Location, Zone]:
        """Where runs start."""
        ...

    def moves(self, location: Location, zone: Zone) -> Iterable[Move[Location]]:
        """The moves out of a location; those that no value in the zone can make may be among them,
        but no move that some value can make may be missing."""
        ...

    def highest(self, location: Location) -> Sequence[int] | None:
        """The highest constant each clock is compared with from there on, for `Zone.widened`.

        None where widening would not be sound, or zones are bounded anyway.
        """
        ...

    def rank(self, location: Location) -> int:
        """Which locations are gone on from first: the lower ones."""
        ...


@dataclass(eq=False, slots=True)
class State(Generic[Location]):
    """A symbolic state, and how the search came to it."""

    location: Location
    zone: Zone
    moves: int = 0
    """How many moves led to it."""
    parent: State[Location] | None = None
    move: Move[Location] | None = None
    outdone: bool = False
    """Whether a state found later has all its values and more."""


@dataclass(frozen=True, slots=True)
class Run(Generic[Location]):
    """A run: the locations it goes through, the moves between them, and the zones it has there.

    Every value in a zone is reached from the zone before it and leads on to the zone after it.
    """

    locations: tuple[Location, ...]
    moves: tuple[Move[Location], ...]
    zones: tuple[Zone, ...]


@dataclass(frozen=True, slots=True)
class Holds:
    """No run leads there."""


@dataclass(frozen=True, slots=True)
class Fails(Generic[Location]):
    """A run leads there."""

    run: Run[Location]


@dataclass(frozen=True, slots=True)
class Stopped:
    """The search ended before it knew: `bound` names what ended it, `states` how far it was."""

    bound: str
    states: int
    waiting: int


@dataclass(frozen=True, slots=True)
class Bounds:
    """How far a search may go."""

    states: int = 200_000
    megabytes: int = 1_000
    """Of zones, as reckoned from their size."""
    is_time_up: Callable[[], bool] = field(default=lambda: False)
    """Asked now and then; a search whose end is not to depend on the machine has none."""


@dataclass(frozen=True, slots=True)
class Explored(Generic[Location]):
    """All symbolic states that a search found, as found."""

    states: tuple[State[Location], ...]
    found: State[Location] | None
    """The first one looked for, with which the search ended."""
    stopped: Stopped | None
    """None where nothing is missing, or the one looked for was found."""


def reach(
    system: System[Location], wanted: Callable[[Location], bool], bounds: Bounds | None = None
) -> Holds | Fails[Location] | Stopped:
    """Whether no run leads to a location that is wanted."""
    explored = explore(system, bounds, wanted)
    if explored.found:
        return Fails(run_to(explored.found))
    return explored.stopped or Holds()


def explore(
    system: System[Location],
    bounds: Bounds | None = None,
    wanted: Callable[[Location], bool] = lambda _location: False,
    note: Callable[[Move[Location], Zone], None] = lambda _move, _zone: None,
) -> Explored[Location]:
    """Searches until a wanted location is found, nothing is left or a bound is met.

    `note` is told of each move that can be made, with what it leads to, also where that is nothing
    new.
    """
    bounds = bounds or Bounds()
    search = _Search(system)
    while search.waiting:
        state = heapq.heappop(search.waiting)[-1]
        if state.outdone:
            continue
        if wanted(state.location):
            return Explored(tuple(search.found), state, None)
        if met := _met(bounds, search):
            stopped = Stopped(met, len(search.found), len(search.waiting) + 1)
            return Explored(tuple(search.found), None, stopped)
        for move in system.moves(state.location, state.zone):
            zone = move.after(state.zone)
            if not zone.is_empty:
                note(move, zone)
                search.add(State(move.target, zone, state.moves + 1, state, move))
    return Explored(tuple(search.found), None, None)


def run_to(state: State[Location], within: Zone | None = None) -> Run[Location]:
    """The run that led to a state; `within` narrows down the values it ends with.

    Raises `ValueError` where no run of these moves ends with such values.
    """
    states = [state]
    while states[-1].parent:
        states.append(states[-1].parent)
    states.reverse()
    moves = tuple(later.move for later in states if later.move)
    zones = [meeting(state.zone, within) if within else state.zone]
    for move, earlier in zip(reversed(moves), reversed(states[:-1]), strict=True):
        zones.append(meeting(move.before(zones[-1]), earlier.zone))
    zones.reverse()
    for number, move in enumerate(moves):
        zones[number + 1] = meeting(move.after(zones[number]), zones[number + 1])
    if zones[-1].is_empty:
        raise ValueError("no run of these moves ends with such values")
    return Run(tuple(state.location for state in states), moves, tuple(zones))


def meeting(one: Zone, other: Zone) -> Zone:
    """The values that two zones share."""
    size = other.size
    if other.is_empty:
        return other
    return one.meet(
        Constraint(at // size, at % size, bound)
        for at, bound in enumerate(other.bounds)
        if at // size != at % size
    )


class _Search(Generic[Location]):
    """The states found so far: those of each location, and those not yet gone on from."""

    def __init__(self, system: System[Location]) -> None:
        self.system = system
        self.found: list[State[Location]] = []
        self.at: dict[Location, list[State[Location]]] = {}
        self.waiting: list[tuple[int, int, int, State[Location]]] = []
        self.add(State(*system.begin()))

    def add(self, state: State[Location]) -> None:
        """Takes a state in, unless it adds nothing to those of its location."""
        highest = self.system.highest(state.location)
        if highest is not None:
            state.zone = state.zone.widened(highest)
        others = self.at.setdefault(state.location, [])
        if any(other.zone.includes(state.zone) for other in others):
            return
        kept = []
        for other in others:
            other.outdone = state.zone.includes(other.zone)
            if not other.outdone:
                kept.append(other)
        self.at[state.location] = [*kept, state]
        self.found.append(state)
        rank = self.system.rank(state.location)
        heapq.heappush(self.waiting, (rank, state.moves, len(self.found), state))


def _met(bounds: Bounds, search: _Search[Location]) -> str:
    """The bound that a search has come to; empty where it may go on."""
    states = len(search.found)
    if states >= bounds.states:
        return f"{bounds.states} states"
    # A bound and its place in the matrix take about 36 bytes, a state with its move 500.
    size = search.found[0].zone.size
    if states * (500 + 36 * size * size) >= bounds.megabytes * 1_000_000:
        return f"{bounds.megabytes} MB of memory"
    return "time" if states % 64 == 0 and bounds.is_time_up() else ""
