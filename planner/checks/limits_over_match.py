"""What it finds
    A way through the plan on which the time limits add up to the routine's limit or more. A counted
    exit is taken as often as its count allows, a loop without a count once; a step without a time
    limit counts nothing. Since the robot looks at the clock once a pass, each limit may be noticed
    a longest pass late.

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

from collections import Counter
from collections.abc import Iterator

from planner.checks.advice import way_home
from planner.checks.case import Case, Found
from planner.checks.limits import limit_is_known
from planner.findings import Related
from planner.graph import Plan
from planner.graph.longest import LongestWay, longest_way
from planner.graph.owners import owners
from planner.model.routine import path_of
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
    if longest.total_us >= plan.routine.limit_us and limit_is_known(case):
        yield _found(plan, longest)


def _found(plan: Plan, longest: LongestWay) -> Found:
    limits, limit = seconds_text(longest.limits_us), seconds_text(plan.routine.limit_us)
    total, one_pass = seconds_text(longest.total_us), seconds_text(longest.pass_us)
    over = longest.limits_us >= plan.routine.limit_us
    times = Counter(step for step in longest.steps if step.lasts_us)
    longest_first = sorted(times, key=lambda step: -step.lasts_us * times[step])[:3]
    related = tuple(
        Related(after.place, "one of the longest limits on this way")
        for step in longest_first
        for owner in owners(plan.routine)
        for after in owner.afters
        if (owner.name, after.limit_us) == (step.name, step.lasts_us)
    )
    passes = "" if over else f" Each limit may be noticed a pass late, {one_pass} at most: {total}."
    return Found(
        plan.routine.place,
        f"the time limits can add up to {limits if over else total}, and the routine's limit is "
        f"{limit}",
        f"If nothing comes before its limit: {_sum(longest)} = {limits}.{passes} The robot is cut "
        "off before it is through.",
        "Shorten the longest limits, or let the match clock lead home in time.",
        paste=(_match_exit(plan, longest),),
        steps=tuple(step.name for step in dict.fromkeys(longest.steps)),
        related=related,
        weight=longest.total_us,
    )


def _match_exit(plan: Plan, longest: LongestWay) -> str:
    """A match-clock exit that keeps within the limit: the one on the way, earlier, or a new one."""
    limit_us, second_us = plan.routine.limit_us, 1_000_000
    at_us, target = limit_us - 4 * second_us, way_home(plan)
    if longest.from_us:
        at_us = longest.from_us - (longest.total_us - limit_us) - 1
        target = next(e.target for e in plan.routine.match_exits if e.at_us == longest.from_us)
    at_us = at_us // second_us * second_us
    target = path_of(target)[0]
    return f"at {seconds_text(at_us if at_us > 0 else limit_us // 2)} of match, go to {target}"


def _sum(longest: LongestWay) -> str:
    """The limits as a sum: ``3 x Approach 4 s + Raise 3 s``."""
    times = Counter(step for step in longest.steps if step.lasts_us)
    terms = [(_term(step.name, step.lasts_us, n), step.lasts_us * n) for step, n in times.items()]
    if longest.from_us:
        terms.insert(0, (f"{seconds_text(longest.from_us)} of match", longest.from_us))
    if len(terms) > MOST_SHOWN:
        middle = terms[MOST_SHOWN - 2 : -1]
        rest = seconds_text(sum(lasts_us for _, lasts_us in middle))
        terms[MOST_SHOWN - 2 : -1] = [(f"{len(middle)} more steps {rest}", 0)]
    return " + ".join(term for term, _ in terms)


def _term(name: str, lasts_us: int, times: int) -> str:
    return f"{f'{times} x ' if times > 1 else ''}{name} {seconds_text(lasts_us)}"
