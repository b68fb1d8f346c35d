"""Requirements proved: whether every run of a plan keeps to them (M15).

A run is searched together with an observer, which remembers what `planner.graph.monitor` does: of
each happening whether it is on, and for a time limit a clock of its own (L. Aceto, A. Burgueno, K.
Larsen, "Model checking via reachability testing for timed automata", 1998; from memory). A
requirement is broken in the pass that a move ends with, since in a pass in which nothing moves
nothing begins, and a time that runs out before the next move has run out in its pass as well.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from planner.graph import Plan
from planner.graph.monitor import happening_after
from planner.graph.owners import given_in, owners
from planner.graph.run import Event, Finished, LimitReached
from planner.model.memory import Computed
from planner.model.requirement import (
    FinishedBy,
    Happening,
    LeadsTo,
    NeverWhile,
    OnlyAfter,
    Requirement,
    Told,
    happenings,
)
from planner.reach.bound import at_most
from planner.reach.pace import Pace
from planner.reach.position import MATCH, Leaving, Position, knows_all_it_holds
from planner.reach.quieter import quieter
from planner.reach.search import (
    Bounds,
    Change,
    Fails,
    Holds,
    Meet,
    Move,
    Reset,
    Run,
    Stopped,
    explore,
    shorter,
)
from planner.reach.sent import Sending
from planner.reach.timed_plan import TimedPlan
from planner.reach.verdict import REMEMBERED
from planner.reach.zone import Constraint, Zone

Answer: TypeAlias = "Holds | Fails[Position] | Stopped"
SIDE_RULES = "side rules that command what it speaks of"
"""Why a requirement was not searched: such commands come in any pass, whether or not one moves."""


def proved(
    plan: Plan,
    requirement: Requirement,
    bounds: Bounds | None = None,
    pace: Pace | None = None,
    as_chosen: bool = False,
) -> Answer:
    """Whether every run of a plan keeps to a requirement; else a run of as few moves as any that
    does not. The plan must have a start."""
    if _ruled(plan, requirement):
        return Stopped(SIDE_RULES, 0, 0)
    if _worked_out(plan, requirement):
        return Stopped(REMEMBERED, 0, 0)
    bounds = bounds or Bounds()
    watched = _Watched(plan, requirement, pace, as_chosen)
    explored = explore(watched, bounds, _is_broken)
    if not explored.found:
        return explored.stopped or Holds()
    if not knows_all_it_holds(plan):
        return Stopped(REMEMBERED, len(explored.states), 0)
    # What was found first is some run; a short one is easier to follow.
    shortest = _Shortest(plan, requirement, pace, as_chosen)
    short = shorter(shortest, _is_broken, explored.found, bounds)
    return Fails(_of_positions(quieter(shortest, short)))


class Watching(NamedTuple):
    """Where a run is, and what the observer remembers."""

    position: Position
    running: tuple[tuple[str, str], ...]
    """Of the mechanisms that the requirement speaks of, those that run, and until which step."""
    on: tuple[frozenset[str], ...]
    came: bool
    """Of `only after`: whether the earlier happening was on in some pass."""
    pending: bool
    """Whether something must come in time."""
    broken: bool


def _is_broken(watching: Watching) -> bool:
    return watching.broken


def _ruled(plan: Plan, requirement: Requirement) -> bool:
    """Whether a side rule commands what the requirement speaks of in a way that matters.

    A rule that tells a mechanism something else only ends what it did, or is sent in its place.
    Without the rule there is more of what must not be, so that what holds then holds with it.
    """
    given = [rule.given for owner in owners(plan.routine) for rule in owner.rules]
    match requirement:
        case FinishedBy():
            unwanted: tuple[Happening, ...] = ()
        case NeverWhile(one, other):
            unwanted = (one, other)
        case OnlyAfter(one, _) | LeadsTo(one, _):
            unwanted = (one,)
    return any(
        rule.mechanism.name == one.mechanism
        and not (one in unwanted and not one.fits(rule.command.name, rule.arguments))
        for rule in given
        for one in happenings(requirement)
        if isinstance(one, Told)
    )


def _worked_out(plan: Plan, requirement: Requirement) -> bool:
    """Whether it speaks of numbers that a command is given as the memory has them (M13)."""
    numbered = {
        one.mechanism
        for one in happenings(requirement)
        if isinstance(one, Told) and one.arguments is not None
    }
    return any(
        given.mechanism.name in numbered and isinstance(number, Computed)
        for given, _ in given_in(plan.routine)
        for number in given.arguments
    )


def _mechanisms(requirement: Requirement) -> frozenset[str]:
    return frozenset(one.mechanism for one in happenings(requirement) if isinstance(one, Told))


def _of_positions(run: Run[Watching]) -> Run[Position]:
    moves = tuple(Move(m.label, m.target.position, m.changes) for m in run.moves)
    return Run(tuple(one.position for one in run.locations), moves, run.zones)


@dataclass(frozen=True, slots=True)
class _Judged:
    """What the observer makes of a pass."""

    came: bool
    pending: bool
    broken: bool


class _Watched:
    """The runs of a plan with an observer of one requirement."""

    def __init__(
        self, plan: Plan, requirement: Requirement, pace: Pace | None, as_chosen: bool
    ) -> None:
        self._plan, self._requirement = plan, requirement
        self._timed = TimedPlan(plan, pace, as_chosen)
        self._spoken_of = _mechanisms(requirement)
        self._clock, self._most_us = MATCH, 0
        match requirement:
            case FinishedBy(by_us):
                self._most_us = by_us
            case LeadsTo(within_us=within_us):
                self._clock, self._most_us = self._timed.size, within_us
            case _:
                pass

    def begin(self) -> tuple[Watching, Zone]:
        """The first pass (M2)."""
        position, _ = self._timed.begin()
        sending = Sending(self._plan, {})
        events = sending.begin(position.steps)
        off = tuple(frozenset[str]() for _ in happenings(self._requirement))
        pending = isinstance(self._requirement, FinishedBy)
        before = Watching(position, (), off, False, pending, False)
        return self._after(before, position, sending, events), Zone.zero(self._timed.size + 1)

    def moves(self, watching: Watching, zone: Zone) -> Iterator[Move[Watching]]:
        """The moves of the plan, each as it comes in time and, if it can, as it comes too late."""
        for move in self._timed.moves(watching.position, zone):
            leaving = move.label
            assert isinstance(leaving, Leaving)
            sending = Sending(self._plan, dict(watching.running))
            events = sending.move(watching.position.steps, leaving)
            target = self._after(watching, move.target, sending, events)
            changes: list[Change] = [*move.changes]
            if watching.pending:
                late = target._replace(broken=True)
                yield Move(leaving, late, (*move.changes, Meet((self._past(),))))
                changes.append(Meet((self._in_time(),)))
            if self._clock != MATCH and not (watching.pending and target.pending):
                changes.append(Reset(self._clock))
            yield Move(leaving, target, tuple(changes))

    def highest(self, _watching: Watching) -> Sequence[int] | None:
        """None: the routine's limit bounds all clocks."""
        return None

    def rank(self, watching: Watching, zone: Zone, moves: int) -> int:
        """As for the plan alone."""
        return self._timed.rank(watching.position, zone, moves)

    def _past(self) -> Constraint:
        return Constraint(0, self._clock, at_most(-(self._last_tick() + 1)))

    def _in_time(self) -> Constraint:
        return Constraint(self._clock, 0, at_most(self._last_tick()))

    def _last_tick(self) -> int:
        """The last tick that is not past the time of the requirement."""
        return self._most_us // self._timed.pace.unit_us

    def _after(
        self, before: Watching, position: Position, sending: Sending, events: tuple[Event, ...]
    ) -> Watching:
        parts = [
            happening_after(self._plan, one, on, events)
            for one, on in zip(happenings(self._requirement), before.on, strict=True)
        ]
        on = tuple(part for part, _ in parts)
        judged = self._judge(before, on, [event is not None for _, event in parts], events)
        running = tuple(
            (name, owner)
            for name, owner in sorted(sending.running.items())
            if name in self._spoken_of
        )
        return Watching(position, running, on, judged.came, judged.pending, judged.broken)

    def _judge(
        self,
        before: Watching,
        on: tuple[frozenset[str], ...],
        began: list[bool],
        events: tuple[Event, ...],
    ) -> _Judged:
        cut_off = any(isinstance(event, LimitReached) for event in events)
        finished = any(isinstance(event, Finished) for event in events)
        match self._requirement:
            case FinishedBy():
                return _Judged(False, True, cut_off)
            case NeverWhile():
                return _Judged(False, False, all(on))
            case OnlyAfter():
                came = before.came or bool(on[1])
                return _Judged(came, False, began[0] and not before.came)
            case LeadsTo():
                pending = (before.pending or began[0]) and not on[1]
                return _Judged(False, pending, pending and (cut_off or finished))


class _Shortest(_Watched):
    """The same runs, those of fewer moves first."""

    def rank(self, _watching: Watching, _zone: Zone, _moves: int) -> int:
        """The same for all: breadth first."""
        return 0
