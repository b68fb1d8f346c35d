"""A run that shows a finding, as a scenario: it fails as long as the plan has that run.

The passes of a scenario are all of one length, so runs of such passes are searched anew. Where a
run goes by a hair it depends on the length, so several are tried.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.checks.proofs import broken_by, run_that_breaks
from planner.checks.run_said import said_in
from planner.checks.shown_run import PlayedRun, as_played
from planner.checks.timing import is_cut_off, late_run
from planner.graph import Plan, unfold
from planner.graph.owners import owners
from planner.graph.pass_time import longest_pass_us
from planner.graph.run import Event
from planner.model.choices import Variant
from planner.model.requirement import Requirement
from planner.model.scenario import DEFAULT_PASS_US, MustFinish, Scenario
from planner.reach.pace import QUICK_PASS_US
from planner.rehearsal import Played
from planner.rehearsal.showing import scenario_that_shows

MOST_LENGTHS = 5
"""How many lengths of a pass are tried."""


def saved_run(plan: Plan, requirement: Requirement | None, chosen: Variant) -> Scenario | None:
    """A scenario without a name that the plan of one variant fails; None where none was found.

    With a requirement it breaks that, without one it does not finish.
    """

    def shows(played: Played) -> bool:
        missed = [one.demand for one in played.differences]
        if requirement:
            return requirement in missed
        return any(isinstance(one, MustFinish) for one in missed)

    for pass_us in _lengths(plan):
        run = _run(_paced(plan, pass_us), requirement)
        touches = list(said_in(plan, run.passes)) if run else []
        scenario = scenario_that_shows(plan, touches, pass_us, chosen, shows) if run else None
        if scenario:
            return scenario
    return None


def _run(plan: Plan, requirement: Requirement | None) -> PlayedRun | None:
    """A run that was played and is late, or breaks the requirement."""

    def shows(events: Sequence[Event]) -> bool:
        if requirement:
            return broken_by(plan, requirement, events) is not None
        return is_cut_off(events)

    run = run_that_breaks(plan, requirement) if requirement else late_run(plan)
    return as_played(plan, run, shows, early=requirement is not None) if run else None


def _lengths(plan: Plan) -> Iterator[int]:
    """The usual length of a pass if the robot may have it, then those with which limits come late
    the most: at the first pass past them."""
    longest = longest_pass_us(plan)
    shortest = min(plan.routine.robot.pass_us or (QUICK_PASS_US, longest))
    # Whole milliseconds, where there are any, are easier to read.
    may = range(-(-shortest // 1_000) * 1_000, longest + 1, 1_000) or (longest,)
    limits = [after.limit_us for owner in owners(plan.routine) for after in owner.afters]
    late = sorted(may, key=lambda one: (-sum(-limit % one for limit in limits), -one))
    first = [DEFAULT_PASS_US] if DEFAULT_PASS_US in may else []
    yield from list(dict.fromkeys([*first, *late]))[:MOST_LENGTHS]


def _paced(plan: Plan, pass_us: int) -> Plan:
    """The plan for a robot whose passes all last that long."""
    robot = replace(plan.routine.robot, pass_us=(pass_us, pass_us))
    return unfold(replace(plan.routine, robot=robot))
