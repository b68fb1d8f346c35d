"""What every run of a plan keeps: when each step is entered, and whether all finish in time."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from planner.graph import Plan
from planner.reach.bound import at_most
from planner.reach.cut_off import SoonestCutOff, is_cut_off
from planner.reach.pace import Pace
from planner.reach.position import CUT_OFF, MATCH, Leaving, Position, knows_all_it_holds
from planner.reach.quieter import quieter
from planner.reach.search import (
    Bounds,
    Explored,
    Fails,
    Holds,
    Move,
    Run,
    State,
    Stopped,
    explore,
    run_to,
    shorter,
)
from planner.reach.timed_plan import TimedPlan
from planner.reach.zone import Constraint, Zone

REMEMBERED = "remembered numbers, or words that sensors have said"
"""Why a run that was found is no proof: a remembered number, or a word that a sensor has said, may
be anything in any pass here, so that more runs are searched than there are (M13). What all of them
keep is certain."""


@dataclass(frozen=True, slots=True)
class Window:
    """The earliest and the latest time on the match clock, in microseconds."""

    earliest_us: int
    latest_us: int


def spanning(windows: Iterable[Window]) -> Window | None:
    """From the earliest of all to the latest of all; None where there are none."""
    some = list(windows)
    if not some:
        return None
    return Window(min(one.earliest_us for one in some), max(one.latest_us for one in some))


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is known of all runs of a plan, for what was chosen."""

    timed: TimedPlan
    entries: dict[str, Window]
    """When each step is entered, finishes too; steps that no run enters are left out."""
    taken: frozenset[tuple[str, int]]
    """The exits that some run takes, each by its step and its number."""
    in_time: Holds | Fails[Position] | Stopped
    """Whether every run is in a finish before the routine's limit; else a short one that is
    not."""
    stopped: Stopped | None
    """Where the search did not come to its end; then the rest is what it found so far."""
    states: int
    explored: Explored[Position]
    proposed: Run[Position] | None = None
    """A run that is cut off, if it can be played at all."""

    @property
    def finishes(self) -> dict[str, Window]:
        """When each finish is entered."""
        routine = self.timed.plan.routine
        return {name: w for name, w in self.entries.items() if routine.steps[name].is_finish}

    def latest_finish(self) -> Run[Position] | None:
        """The run that comes to a finish last; None where none does."""
        ends = [s for s in self.explored.states if self._is_finish(s.location)]
        last = max(ends, key=lambda state: state.zone.most(MATCH), default=None)
        return run_at(last, last.zone.most(MATCH)) if last else None

    def _is_finish(self, position: Position) -> bool:
        return position.step != CUT_OFF and self.timed.is_over(position)


def verdict(
    plan: Plan,
    bounds: Bounds | None = None,
    pace: Pace | None = None,
    as_chosen: bool = False,
) -> Verdict:
    """Searches all runs of a plan; with some memories more than all (`REMEMBERED`).

    A limit chosen from a range before the start is any of it, or `as_chosen` in the plan. The plan
    must have a start. Raises `ValueError` where it has none.
    """
    if not plan.routine.start:
        raise ValueError("a routine without a start has no runs")
    bounds = bounds or Bounds()
    timed = TimedPlan(plan, pace, as_chosen)
    noted = _Noted(timed)
    explored = explore(timed, bounds, note=noted.note)
    in_time: Holds | Fails[Position] | Stopped = explored.stopped or Holds()
    proposed = None
    found = next((state for state in explored.states if is_cut_off(state.location)), None)
    if found:
        soonest = SoonestCutOff(plan, pace, as_chosen)
        proposed = quieter(timed, shorter(soonest, is_cut_off, found, bounds))
        in_time = Fails(proposed)
        if not knows_all_it_holds(plan):
            in_time = Stopped(REMEMBERED, len(explored.states), 0)
    return Verdict(
        timed,
        noted.windows(timed),
        frozenset(noted.taken),
        in_time,
        explored.stopped,
        len(explored.states),
        explored,
        proposed,
    )


def all_finish(plan: Plan, bounds: Bounds) -> bool:
    """Whether it is certain that every run is in a finish before the routine's limit; what is asked
    of a verdict, but the search ends with the first run that is not."""
    explored = explore(TimedPlan(plan), bounds, is_cut_off)
    return explored.found is None and explored.stopped is None


def run_at(state: State[Position], tick: int) -> Run[Position]:
    """The run that comes to a state at a time on the match clock, in ticks."""
    exactly = (Constraint(MATCH, 0, at_most(tick)), Constraint(0, MATCH, at_most(-tick)))
    return run_to(state, state.zone.meet(exactly))


class _Noted:
    """When steps are entered and which exits are taken, as the search goes on."""

    def __init__(self, timed: TimedPlan) -> None:
        self._entries = dict.fromkeys(timed.begin()[0].steps, (0, 0))
        self.taken: set[tuple[str, int]] = set()

    def note(self, move: Move[Position], zone: Zone) -> None:
        """Takes in one move that can be made, and what the clocks say after it."""
        leaving = move.label
        assert isinstance(leaving, Leaving)
        self.taken.update((one.step, one.exit.number) for one in leaving.taken if one.exit)
        low, high = zone.least(MATCH), zone.most(MATCH)
        for step in leaving.entered:
            before = self._entries.get(step, (low, high))
            self._entries[step] = (min(before[0], low), max(before[1], high))

    def windows(self, timed: TimedPlan) -> dict[str, Window]:
        """The entries in the order of the text, in microseconds."""
        time_us, found = timed.pace.time_us, self._entries
        return {
            name: Window(time_us(found[name][0]), time_us(found[name][1]))
            for name in timed.plan.routine.steps
            if name in found
        }
