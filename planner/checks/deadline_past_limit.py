"""What it finds
    A finish that is required, or demanded of a scenario, by a time at or past the routine's limit.

Why it matters on the field
    At the limit the plan is cut off wherever it is, so a run that is not finished before it never
    finishes. A later time promises seconds that no match has.

Example
    require finished by 30 s
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    require finished by 29 s
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.limits import limit_is_known
from planner.model.requirement import FinishedBy
from planner.model.scenario import MustFinish
from planner.model.units import seconds_text
from planner.text import Place


def find(case: Case) -> Iterator[Found]:
    """The times to be finished by that the limit comes before."""
    if case.plan is None or not limit_is_known(case):
        return
    routine = case.plan.routine
    for place, by_us, front in _deadlines(case):
        if by_us >= routine.limit_us:
            limit = seconds_text(routine.limit_us)
            earlier = seconds_text(_earlier_us(routine.limit_us))
            yield Found(
                place,
                f"nothing is finished by {seconds_text(by_us)} that is not finished before {limit}",
                f"The routine's limit of {limit} cuts off whatever is not finished by then.",
                "Name a time before the limit.",
                paste=(f"{front} by {earlier}",),
            )


def _deadlines(case: Case) -> Iterator[tuple[Place, int, str]]:
    """Place, time and the words in front of `by`."""
    assert case.plan is not None
    # The routine's own lines are told with the routine, not with a file of its scenarios.
    for requirement in case.plan.routine.requirements if case.scenario_file is None else ():
        if isinstance(requirement, FinishedBy):
            yield requirement.place, requirement.by_us, "require finished"
    for scenario in case.scenarios:
        for demand in scenario.demands:
            if isinstance(demand, MustFinish) and demand.by_us is not None:
                where = f" in {demand.finish}" if demand.finish else ""
                yield demand.place, demand.by_us, f"must finish{where}"


def _earlier_us(limit_us: int) -> int:
    """A second before the limit, or half of a shorter one."""
    return limit_us - 1_000_000 if limit_us > 2_000_000 else limit_us // 2
