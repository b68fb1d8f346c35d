"""Runs that the search has found, played on the reference machine."""

from __future__ import annotations

from planner.graph.run import Left, LimitReached
from planner.reach.picked import PickedPass, picked
from planner.reach.position import CUT_OFF, Leaving, Position
from planner.reach.search import Run
from planner.reach.timed_plan import TimedPlan
from planner.rehearsal import Machine


def plays(timed: TimedPlan, run: Run[Position]) -> bool:
    """Whether passes were picked in which the machine takes just the exits of the run, and is cut
    off where the run is."""
    return any(_plays(timed, run, passes) for passes in picked(timed, run))


def _plays(timed: TimedPlan, run: Run[Position], passes: tuple[PickedPass, ...]) -> bool:
    machine = Machine(timed.plan)
    events = [event for one in passes for event in machine.pass_(one.at_us, one.said)]
    leavings = [move.label for move in run.moves if isinstance(move.label, Leaving)]
    ways = [(one.step, one.exit.number) for at in leavings for one in at.taken if one.exit]
    taken = [(event.step, event.exit.number) for event in events if isinstance(event, Left)]
    cut_off = any(isinstance(event, LimitReached) and event.cut_off for event in events)
    return (ways, run.locations[-1].step == CUT_OFF) == (taken, cut_off)
