"""What it finds
    A time limit, or a match-clock exit, that comes sooner than the robot looks again: its time is
    shorter than the longest pass that the robot file states, or than 40 ms where it states none.

Why it matters on the field
    The controller looks at clock and sensors once a pass. The step is over before its sensors were
    asked more than once, and a match-clock exit right after the start skips the whole plan. Most
    often the unit is wrong: `4 ms` for `4 s`. A step that only gives commands may go on at once,
    with `after 0 s`.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 4 ms, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 4 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.graph.longest import longest_pass_us
from planner.graph.owners import Owner, owners
from planner.model.routine import AfterExit, MatchExit
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The times below one pass, but for a plain `after 0 s` in a step that waits for nothing."""
    if case.plan is None or case.robot.missing:
        return
    pass_us = longest_pass_us(case.plan)
    for owner in owners(case.plan.routine):
        for after in owner.afters:
            at_once = not after.limit_us and not owner.whens and not owner.is_group
            if after.limit_us < pass_us and not at_once and not owner.incomplete:
                yield _limit(owner, after, pass_us)
        for exit_ in owner.match_exits:
            if exit_.at_us < pass_us:
                yield _clock(owner, exit_, pass_us)


def _limit(owner: Owner, after: AfterExit, pass_us: int) -> Found:
    return Found(
        after.place,
        f"the limit of {seconds_text(after.limit_us)} in `{owner.name}` is shorter than a pass",
        f"The robot looks again after up to {seconds_text(pass_us)}; by then the time is over, "
        "and the sensors were asked once.",
        "Check the unit. To give the sensors a moment, write some tenths of a second at least.",
        steps=owner.steps,
    )


def _clock(owner: Owner, exit_: MatchExit, pass_us: int) -> Found:
    what = f"the group `{owner.name}`" if owner.name else "the whole plan"
    return Found(
        exit_.place,
        f"the match-clock exit at {seconds_text(exit_.at_us)} skips what comes before it",
        f"In the second pass, after up to {seconds_text(pass_us)}, it is true already and takes "
        f"the robot out of {what}.",
        f"Check the time; if the plan is to begin in `{exit_.target}`, say so with `start`.",
        steps=(exit_.target,),
    )
