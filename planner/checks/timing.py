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
from planner.checks.shown_run import PlayedRun, run_that_shows
from planner.findings import ShownRun
from planner.graph import Plan
from planner.graph.run import Event, LimitReached
from planner.graph.unfold import Exit
from planner.reach.position import Position, clocks_of
from planner.reach.search import Bounds, Holds, Run, Stopped
from planner.reach.verdict import Verdict, all_finish, verdict

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
"""How far a search goes while a plan is checked, with up to `CLOCKS_OF_TWO_LANES`."""
CLOCKS_OF_TWO_LANES = 6
"""Clock 0, the match's, that since the latest entry, the block's, and one for each lane."""


@dataclass(frozen=True, slots=True)
class Timing:
    """What is known of all runs of a plan: one that is cut off, or why nothing is known."""

    plan: Plan
    run: ShownRun | None = None
    exits: tuple[Exit, ...] = ()
    """The exits of the run."""
    events: tuple[Event, ...] = ()
    """What happens in it, up to where it is cut off."""
    stopped: str = ""
    """Why it is not known whether a run is cut off; empty where it is."""
    searched_all: bool = True
    """Whether all runs were searched: else no change can be proved to mend the plan either."""


def timing_of(case: Case) -> Timing | None:
    """What is known of all runs of a case's plan; None where that is not the question yet.

    It is worked out once for each case.
    """
    return case.once(_timing)


def verdict_of(case: Case) -> Verdict | None:
    """What the search of all runs says of a case's plan; None where it cannot be asked.

    It is worked out once for each case.
    """
    return case.once(_verdict)


def is_plain(case: Case) -> bool:
    """Whether no check says more plainly that runs have no end."""
    return case.once(_is_plain)


def bounds_for(plan: Plan) -> Bounds:
    """How far a search of a plan's runs goes while it is checked.

    Nobody waits long for no answer: it is given up within about ten seconds on a plain machine, as
    `tests/benchmarks` shows. What a state costs grows with the square of the clocks for its zone,
    and with the moves out of it, of which each lane makes more; so with more clocks there are fewer
    states, by their cube.
    """
    clocks = max(clocks_of(plan), CLOCKS_OF_TWO_LANES)
    states = MOST_STATES * CLOCKS_OF_TWO_LANES**3 // clocks**3
    return Bounds(states // 100 * 100)


def finishes_in_time(plan: Plan) -> bool:
    """Whether it is soon certain that every run of a plan finishes before the routine's limit."""
    return all_finish(plan, Bounds(MOST_STATES // 20))


def late_run(plan: Plan) -> Run[Position] | None:
    """A run of a plan as chosen that is cut off, if it can be played at all; None where the search
    finds none."""
    return verdict(plan, bounds_for(plan), as_chosen=True).proposed


def is_cut_off(events: Sequence[Event]) -> bool:
    """Whether the routine's limit comes outside of every finish."""
    return any(isinstance(event, LimitReached) and event.cut_off for event in events)


def _is_plain(case: Case) -> bool:
    return not any(True for one in PLAINER for _ in one.find(case))


def _verdict(case: Case) -> Verdict | None:
    plan = case.whole_plan
    if plan is None or case.tasks_alone or not limit_is_known(case):
        return None
    return verdict(plan, bounds_for(plan))


def _timing(case: Case) -> Timing | None:
    found = verdict_of(case)
    if found is None or isinstance(found.in_time, Holds) or not is_plain(case):
        return None
    plan = found.timed.plan
    if found.proposed is None:
        assert isinstance(found.in_time, Stopped), "what fails has a run"
        return Timing(plan, stopped=f"came to no answer: it ended at {found.in_time.bound}")
    shown = run_that_shows(plan, found.proposed, late_run, is_cut_off)
    if isinstance(shown, PlayedRun):
        whole = found.stopped is None
        return Timing(plan, shown.shown, shown.exits, shown.events, searched_all=whole)
    return Timing(plan, stopped=shown) if shown else None
