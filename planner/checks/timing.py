"""Whether all runs finish in time, with a run that has been played where they do not."""

from __future__ import annotations

from collections.abc import Iterator
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
from planner.checks.words import listed
from planner.findings import Moment
from planner.graph import Plan
from planner.graph.owners import owners
from planner.graph.run import Event, Left, LimitReached
from planner.graph.unfold import Exit
from planner.model.units import seconds_text
from planner.reach.picked import PickedPass, picked
from planner.reach.position import MATCH, Leaving, Position, Taken, knows_all_it_holds
from planner.reach.ranges import at_ends, has_ranges
from planner.reach.search import Bounds, Holds, Run, Stopped
from planner.reach.timed_plan import TimedPlan
from planner.reach.verdict import verdict
from planner.rehearsal import Machine
from planner.rehearsal.facts import fact, readings_of_exit, reason

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
    stopped: str = ""
    """Why it is not known whether a run is cut off; empty where it is."""


def timing_of(case: Case) -> Timing | None:
    """What is known of all runs of a case's plan; None where that is not the question yet.

    It is worked out once for each case.
    """
    if not case.worked_out:
        case.worked_out.append(_timing(case))
    found = case.worked_out[0]
    assert found is None or isinstance(found, Timing)
    return found


def finishes_in_time(plan: Plan) -> bool:
    """Whether it is soon certain that every run of a plan finishes before the routine's limit."""
    return isinstance(verdict(plan, Bounds(MOST_STATES // 10)).in_time, Holds)


def _timing(case: Case) -> Timing | None:
    plan = case.plan
    if plan is None or case.tasks_alone or not _is_whole(plan) or not limit_is_known(case):
        return None
    bounds = Bounds(MOST_STATES)
    found = verdict(plan, bounds)
    if isinstance(found.in_time, Holds) or any(True for one in PLAINER for _ in one.find(case)):
        return None
    if found.proposed is None:
        assert isinstance(found.in_time, Stopped), "what fails has a run"
        return Timing(plan, stopped=f"ended at {found.in_time.bound}")
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
    """The run in moments, once the reference machine has gone that way."""
    taken = [one for move in run.moves for one in _leaving(move.label).taken]
    for passes in picked(timed, run):
        if _played(timed.plan, taken, passes):
            exits = tuple(one.exit for one in taken if one.exit)
            return Timing(timed.plan, tuple(_moments(timed, run, passes)), exits)
    through = listed(dict.fromkeys(one.step for one in taken), "and")
    if knows_all_it_holds(timed.plan):
        because = "it takes some things to be possible together that are not"
    else:
        because = "it takes remembered numbers, and words that sensors have said, to be anything"
    return Timing(
        timed.plan, stopped=f"found a run through {through} that cannot be played; {because}"
    )


def _played(plan: Plan, taken: list[Taken], passes: tuple[PickedPass, ...]) -> bool:
    """Whether the reference machine takes just these exits, and is cut off then."""
    machine = Machine(plan)
    events: list[Event] = []
    for one in passes:
        events += machine.pass_(one.at_us, one.said)
    left = [(event.step, event.exit.number) for event in events if isinstance(event, Left)]
    cut_off = any(isinstance(event, LimitReached) and event.cut_off for event in events)
    return cut_off and left == [(one.step, one.exit.number) for one in taken if one.exit]


def _moments(
    timed: TimedPlan, run: Run[Position], passes: tuple[PickedPass, ...]
) -> Iterator[Moment]:
    time_us = timed.pace.time_us
    for move, zone in zip(run.moves, run.zones[1:], strict=True):
        low, high = time_us(zone.least(MATCH)), time_us(zone.most(MATCH))
        for one in _leaving(move.label).taken:
            if one.exit is None:
                limit = seconds_text(timed.plan.routine.limit_us)
                yield Moment(low, high, one.step, f"cut off by the limit of {limit}")
                continue
            # What is said in the pass that was picked for it.
            at = next(p for p in reversed(passes) if low <= p.at_us <= high)
            names = dict.fromkeys(readings_of_exit(one.exit))
            seen = tuple(fact(timed.plan, n, at.shown[n]) for n in names if n in at.shown)
            yield Moment(low, high, one.step, reason(one.exit), seen)


def _leaving(label: object) -> Leaving:
    assert isinstance(label, Leaving)
    return label
