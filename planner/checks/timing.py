"""Whether all runs finish in time, with a run that has been played where they do not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.checks import (
    dead_end,
    endless_loop,
    idle_loop,
    lane_never_ends,
    no_way_to_finish,
    start_is_finish,
    wait_without_limit,
)
from planner.checks.case import Case
from planner.checks.limits import limit_is_known
from planner.checks.shown_run import not_played, shown_run
from planner.findings import Moment
from planner.graph import Plan
from planner.graph.owners import owners
from planner.graph.run import Event, LimitReached
from planner.graph.unfold import Exit
from planner.reach.position import Position
from planner.reach.ranges import at_ends, has_ranges
from planner.reach.search import Bounds, Holds, Run, Stopped
from planner.reach.timed_plan import TimedPlan
from planner.reach.verdict import verdict

PLAINER = (
    start_is_finish,
    dead_end,
    endless_loop,
    idle_loop,
    lane_never_ends,
    no_way_to_finish,
    wait_without_limit,
)
"""The checks that say more plainly why runs have no end."""
MOST_STATES = 20_000
"""How far a search goes while a plan is checked."""


@dataclass(frozen=True, slots=True)
class Timing:
    """What is known of all runs of a plan: one that is cut off, or why nothing is known."""

    plan: Plan
    run: tuple[Moment, ...] = ()
    exits: tuple[Exit, ...] = ()
    """The exits of the run."""
    events: tuple[Event, ...] = ()
    """What happens in it, up to where it is cut off."""
    stopped: str = ""
    """Why it is not known whether a run is cut off; empty where it is."""


def timing_of(case: Case) -> Timing | None:
    """What is known of all runs of a case's plan; None where that is not the question yet.

    It is worked out once for each case.
    """
    if "timing" not in case.worked_out:
        case.worked_out["timing"] = _timing(case)
    found = case.worked_out["timing"]
    assert found is None or isinstance(found, Timing)
    return found


def is_plain(case: Case) -> bool:
    """Whether no check says more plainly that runs have no end."""
    return not any(True for one in PLAINER for _ in one.find(case))


def finishes_in_time(plan: Plan) -> bool:
    """Whether it is soon certain that every run of a plan finishes before the routine's limit."""
    return isinstance(verdict(plan, Bounds(MOST_STATES // 10)).in_time, Holds)


def _timing(case: Case) -> Timing | None:
    plan = case.plan
    if plan is None or case.tasks_alone or not _is_whole(plan) or not limit_is_known(case):
        return None
    bounds = Bounds(MOST_STATES)
    found = verdict(plan, bounds)
    if isinstance(found.in_time, Holds) or not is_plain(case):
        return None
    if found.proposed is None:
        assert isinstance(found.in_time, Stopped), "what fails has a run"
        return Timing(plan, stopped=f"came to no answer: it ended at {found.in_time.bound}")
    if has_ranges(plan):
        # A limit that is chosen before the start is one number on a run that is shown.
        found = verdict(plan, bounds, as_chosen=True)
    if found.proposed:
        return _shown(found.timed, found.proposed)
    if any(verdict(one, bounds, as_chosen=True).proposed for one in at_ends(plan)):
        # Another variant of the plan is late, and says so.
        return None
    return Timing(
        plan,
        stopped="found a run that is late for some number of a range, and for neither of its ends",
    )


def _is_whole(plan: Plan) -> bool:
    """Whether nothing of a plan is missing that could change its runs."""
    routine = plan.routine
    partly = routine.incomplete or routine.robot.missing or not routine.start
    return not partly and not any(owner.incomplete for owner in owners(routine))


def _shown(timed: TimedPlan, run: Run[Position]) -> Timing:
    shown = shown_run(timed, run, _is_cut_off)
    if shown is None:
        return Timing(timed.plan, stopped=not_played(timed, run))
    return Timing(timed.plan, shown.moments, shown.exits, shown.events)


def _is_cut_off(events: Sequence[Event]) -> bool:
    return any(isinstance(event, LimitReached) and event.cut_off for event in events)
