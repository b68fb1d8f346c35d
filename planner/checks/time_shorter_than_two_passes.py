"""What it finds
    A time limit, a match-clock exit, or a time that something must be held for, that is shorter
    than two passes: two of the longest that the robot file states or, where it states none, of the
    longest that the step may take, estimated from what it reads and tells.

Why it matters on the field
    The controller looks at clock and sensors once a pass. A step is over before its sensors were
    asked more than once, a match-clock exit right after the start skips the whole plan, and what
    must be held for less than two passes is held by any two looks, a bouncing switch included. Most
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
from planner.graph.owners import Owner, owners
from planner.graph.pass_time import longest_passes_us
from planner.model.condition import Held, Steady, leaves, parts
from planner.model.routine import AfterExit, MatchExit
from planner.model.spoken import spoken_condition
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The times below two passes, but for a plain `after 0 s` in a step that waits for nothing."""
    if case.plan is None or case.robot.missing:
        return
    passes_us = longest_passes_us(case.plan)
    estimated = not case.robot.pass_us
    for owner in owners(case.plan.routine):
        pass_us = max((passes_us[step] for step in owner.steps), default=0)
        for after in owner.afters:
            at_once = not after.limit_us and not owner.whens and not owner.is_group
            if after.limit_us < 2 * pass_us and not at_once and not owner.incomplete:
                yield _limit(owner, after, pass_us, estimated)
        for exit_ in owner.match_exits:
            if exit_.at_us < 2 * pass_us:
                yield _clock(owner, exit_, pass_us, estimated)
        for condition, _ in owner.conditions:
            for part in parts(condition):
                if isinstance(part, Held | Steady) and part.duration_us < 2 * pass_us:
                    yield _held(owner, part, pass_us, estimated)


def _limit(owner: Owner, after: AfterExit, pass_us: int, estimated: bool) -> Found:
    return Found(
        after.place,
        f"the limit of {seconds_text(after.limit_us)} in `{owner.name}` is shorter than two passes",
        f"The robot looks again after up to {seconds_text(pass_us)}; by the second look the time "
        f"is over, and the sensors were asked once.{_by_estimate(estimated)}",
        "Check the unit. To give the sensors a moment, write some tenths of a second at least.",
        steps=owner.steps,
    )


def _clock(owner: Owner, exit_: MatchExit, pass_us: int, estimated: bool) -> Found:
    what = f"the group `{owner.name}`" if owner.name else "the whole plan"
    return Found(
        exit_.place,
        f"the match-clock exit at {seconds_text(exit_.at_us)} skips what comes before it",
        f"A pass may last {seconds_text(pass_us)}, so that it is true one or two passes after the "
        f"start, and takes the robot out of {what}.{_by_estimate(estimated)}",
        f"Check the time; if the plan is to begin in `{exit_.target}`, say so with `start`.",
        steps=(exit_.target,),
    )


def _held(owner: Owner, part: Held | Steady, pass_us: int, estimated: bool) -> Found:
    spoken = spoken_condition(part)
    return Found(
        next(leaves(part)).place,
        f"`{spoken}` asks for less than two passes",
        f"The robot looks again after up to {seconds_text(pass_us)}, so that two looks are enough, "
        f"however short the moment: it is hardly held at all.{_by_estimate(estimated)}",
        f"Check the unit, or write a longer time, {seconds_text(3 * pass_us)} at least.",
        steps=owner.steps if owner.name else (),
    )


def _by_estimate(estimated: bool) -> str:
    if not estimated:
        return ""
    return " The length of a pass is estimated; a `pass` line in the robot file says it."
