"""Forward reachability over zones, and its three answers.

The search goes from one symbolic state, a location with a zone, to those that one move leads to,
and leaves out a state whose zone lies in one that the same location has already (J. Bengtsson, W.
Yi, "Timed Automata: Semantics, Algorithms and Tools", LNCS 3098, 2004, sections 3.2 and 4); two
zones of a location whose values together are a zone go on as that one. States wait in a stated
order: by the system's rank of them, then by the number of moves, then as found. So the same system
gives the same answer on every machine.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass, field, replace
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

    def rank(self, location: Location, zone: Zone, moves: int) -> int:
        """What is gone on from first: the lower ones. `moves` is how many led there."""
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
    made_of: tuple[State[Location], ...] = ()
    """The states whose values together are its own; none where a move led to it."""


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


SHORT_ENOUGH = 2_000
"""How many states a shorter run is looked for among."""


def shorter(
    system: System[Location],
    wanted: Callable[[Location], bool],
    found: State[Location],
    bounds: Bounds,
) -> Run[Location]:
    """A run of as few moves as any to a wanted location, for ranks as `explore` wants them.

    Where it is not among the first states, the run to the one found before is short enough.
    """
    few = replace(bounds, states=min(SHORT_ENOUGH, bounds.states))
    return run_to(explore(system, few, wanted, as_found=True).found or found)


def explore(
    system: System[Location],
    bounds: Bounds | None = None,
    wanted: Callable[[Location], bool] = lambda _location: False,
    note: Callable[[Move[Location], Zone], None] = lambda _move, _zone: None,
    as_found: bool = False,
) -> Explored[Location]:
    """Searches until a wanted location is found, nothing is left or a bound is met.

    `note` is told of each move that can be made, with what it leads to, also where that is nothing
    new. With `as_found` states stay as moves led to them: none are united, and none is left out for
    one that more moves led to. Where besides no rank is higher than the number of moves of any run
    through a state to a wanted one, the run to the first one found has as few moves as any (P.
    Hart, N. Nilsson, B. Raphael, "A formal basis for the heuristic determination of minimum cost
    paths", 1968).
    """
    bounds = bounds or Bounds()
    search = _Search(system, as_found)
    while search.waiting:
        state = heapq.heappop(search.waiting)[-1]
        if state.outdone:
            continue
        if wanted(state.location):
            return Explored(tuple(search.found), state, None)
        if met := _met(bounds, search):
            stopped = Stopped(met, len(search.found), len(search.waiting) + 1)
            return Explored(tuple(search.found), None, stopped)
        along = _Along(state.zone)
        for move in system.moves(state.location, state.zone):
            zone = along.after(move.changes)
            if not zone.is_empty:
                note(move, zone)
                search.add(State(move.target, zone, state.moves + 1, state, move))
    return Explored(tuple(search.found), None, None)


def run_to(state: State[Location], within: Zone | None = None) -> Run[Location]:
    """The run that led to a state; `within` narrows down the values it ends with.

    Raises `ValueError` where no run of these moves ends with such values.
    """
    zone = meeting(state.zone, within) if within else state.zone
    if zone.is_empty:
        raise ValueError("no run of these moves ends with such values")
    state, zone = _part(state, zone)
    locations, zones, moves = [state.location], [zone], []
    while state.parent and state.move:
        moves.append(state.move)
        state, zone = _part(state.parent, meeting(state.move.before(zone), state.parent.zone))
        locations.append(state.location)
        zones.append(zone)
    for backward in (locations, zones, moves):
        backward.reverse()
    for number, move in enumerate(moves):
        zones[number + 1] = meeting(move.after(zones[number]), zones[number + 1])
    return Run(tuple(locations), tuple(moves), tuple(zones))


def _part(state: State[Location], zone: Zone) -> tuple[State[Location], Zone]:
    """A state that a move led to and that has some values of a zone, and these values."""
    while state.made_of:
        both = ((part, meeting(part.zone, zone)) for part in state.made_of)
        state, zone = next((part, values) for part, values in both if not values.is_empty)
    return state, zone


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


class _Along:
    """What the moves out of one zone lead to; what one begins with like the one before is not done
    again. Moves of several lanes have most in common."""

    def __init__(self, zone: Zone) -> None:
        self._changes: list[Change] = []
        self._zones = [zone]

    def after(self, changes: Sequence[Change]) -> Zone:
        """The zone after some changes."""
        same = 0
        for ours, theirs in zip(self._changes, changes, strict=False):
            if ours is not theirs:
                break
            same += 1
        del self._changes[same:]
        del self._zones[same + 1 :]
        zone = self._zones[-1]
        for change in changes[same:]:
            zone = change.after(zone)
            self._changes.append(change)
            self._zones.append(zone)
        return zone


class _Search(Generic[Location]):
    """The states found so far: those of each location, and those not yet gone on from."""

    def __init__(self, system: System[Location], as_found: bool) -> None:
        self.system, self._as_found = system, as_found
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
        if any(self._outdoes(other, state) for other in others):
            return
        if not self._as_found:
            state = self._united(state, others)
        kept = []
        for other in others:
            other.outdone = self._outdoes(state, other)
            if not other.outdone:
                kept.append(other)
        self.at[state.location] = [*kept, state]
        self.found.append(state)
        rank = self.system.rank(state.location, state.zone, state.moves)
        heapq.heappush(self.waiting, (rank, state.moves, len(self.found), state))

    def _united(self, state: State[Location], others: Iterable[State[Location]]) -> State[Location]:
        """The state with the values of others too, as far as these together are a zone."""
        for other in others:
            zone = state.zone.united(other.zone)
            if zone:
                moves = min(state.moves, other.moves)
                parts = (state, other) if state.moves < other.moves else (other, state)
                state = State(state.location, zone, moves, made_of=parts)
        return state

    def _outdoes(self, one: State[Location], other: State[Location]) -> bool:
        return one.zone.includes(other.zone) and not (self._as_found and one.moves > other.moves)


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
