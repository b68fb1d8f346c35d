"""What it finds
    A way through the plan on which the time limits add up to more than the routine's limit. Each
    loop is counted once; a step without a time limit counts nothing.

Why it matters on the field
    On a bad day several limits run out, one after the other. The robot is then cut off in the
    middle of a step, wherever it is, and what comes last in the plan is not done.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Raise
      after 20 s, go to BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Raise
      after 8 s, go to GiveUp
    step Raise
      arm to 1200 ticks
      when arm done, go to Lit
      after 5 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Raise
      after 6 s, go to BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Raise
      after 2 s, go to GiveUp
    step Raise
      arm to 1200 ticks
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import way_home
from planner.checks.case import Case, Found
from planner.checks.limits import limit_is_known
from planner.findings import Related
from planner.graph import Plan
from planner.graph.longest import LongestWay, longest_way
from planner.model.units import seconds_text

MOST_SHOWN = 12
"""How many limits of a sum are spelt out."""


def find(case: Case) -> Iterator[Found]:
    """The longest way, where it is longer than the match."""
    plan = case.plan
    # A line that could not be read may be a match-clock exit, which would cut the way short.
    if plan is None or plan.routine.incomplete or not plan.routine.start:
        return
    longest = longest_way(plan)
    if longest.total_us > plan.routine.limit_us and limit_is_known(case):
        yield _found(plan, longest)


def _found(plan: Plan, longest: LongestWay) -> Found:
    total, limit = seconds_text(longest.total_us), seconds_text(plan.routine.limit_us)
    timed = [(name, lasts_us) for name, lasts_us in longest.steps if lasts_us]
    longest_first = sorted(timed, key=lambda step: -step[1])
    related = tuple(
        Related(after.place, "one of the longest limits on this way")
        for name, lasts_us in longest_first[:3]
        for after in plan.step(name).afters
        if after.limit_us == lasts_us
    )
    return Found(
        plan.routine.place,
        f"the time limits can add up to {total}, and the routine's limit is {limit}",
        f"If nothing comes before its limit: {_sum(longest, timed)} = {total}. The robot is cut "
        "off before it is through.",
        "Shorten the longest limits, or let the match clock lead home in time.",
        paste=(_match_exit(plan, longest),),
        steps=tuple(name for name, _ in longest.steps),
        related=related,
    )


def _match_exit(plan: Plan, longest: LongestWay) -> str:
    """A match-clock exit that keeps within the limit: the one on the way, earlier, or a new one."""
    limit_us, second_us = plan.routine.limit_us, 1_000_000
    at_us, target = limit_us - 4 * second_us, way_home(plan)
    if longest.from_us:
        at_us, target = longest.from_us - (longest.total_us - limit_us), longest.steps[0][0]
    at_us = at_us // second_us * second_us
    return f"at {seconds_text(at_us if at_us > 0 else limit_us // 2)} of match, go to {target}"


def _sum(longest: LongestWay, timed: list[tuple[str, int]]) -> str:
    """The limits as a sum: ``Approach 4 s + Raise 3 s``."""
    terms = [f"{name} {seconds_text(lasts_us)}" for name, lasts_us in timed]
    if longest.from_us:
        terms.insert(0, f"{seconds_text(longest.from_us)} of match")
    if len(terms) > MOST_SHOWN:
        middle = terms[MOST_SHOWN - 2 : -1]
        rest = sum(lasts_us for _, lasts_us in timed[-len(middle) - 1 : -1])
        terms = [
            *terms[: MOST_SHOWN - 2],
            f"{len(middle)} more steps {seconds_text(rest)}",
            terms[-1],
        ]
    return " + ".join(terms)
