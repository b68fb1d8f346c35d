"""What it finds
    A run on which the routine's limit comes while the robot is outside of every finish. All runs
    are searched: whatever the sensors say and however the controller's passes fall, counted exits
    and match-clock exits included. The run that is shown has been played first. Of a plan in which
    a wait or a loop has no end at all, only that is told.

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
from dataclasses import replace

from planner.checks.advice import way_home
from planner.checks.case import Case, Found
from planner.checks.timing import Timing, finishes_in_time, timing_of
from planner.findings import Related
from planner.graph import Plan, unfold
from planner.graph.unfold import Exit
from planner.model.routine import AfterExit, MatchExit, path_of
from planner.model.units import seconds_text

_SECOND_US = 1_000_000
_TRIED_S = (2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25)
"""How long before the limit a match-clock exit is tried to come."""


def find(case: Case) -> Iterator[Found]:
    """The shortest run that is cut off, where there is one."""
    timing = timing_of(case)
    if timing and timing.run:
        yield _found(timing)


def _found(timing: Timing) -> Found:
    plan, limit = timing.plan, seconds_text(timing.plan.routine.limit_us)
    step = timing.run[-1].step
    limits = [exit_ for exit_ in timing.exits if isinstance(exit_.written, AfterExit)]
    line = _match_exit(plan)
    return Found(
        plan.routine.place,
        f"the robot can still be in `{step}` when the limit of {limit} comes",
        "The run below shows how. The robot is cut off there, and what comes after is not done.",
        "Shorten the longest waits on this run"
        + (", or let the match clock lead home in time." if line else "."),
        paste=(line,) if line else (),
        steps=tuple(dict.fromkeys(moment.step for moment in timing.run)),
        related=tuple(_related(limits)),
        run=timing.run,
        weight=sum(_lasts_us(exit_) for exit_ in limits),
    )


def _lasts_us(exit_: Exit) -> int:
    return exit_.written.limit_us if isinstance(exit_.written, AfterExit) else 0


def _related(limits: list[Exit]) -> Iterator[Related]:
    """The longest limits of the run, each once."""
    lasting = {exit_.place: _lasts_us(exit_) for exit_ in limits}
    for place in sorted(lasting, key=lambda place: -lasting[place])[:3]:
        yield Related(place, "one of the longest limits on this run")


def _match_exit(plan: Plan) -> str:
    """A match-clock exit with which every run finishes in time; empty where none was found."""
    routine = plan.routine
    targets = dict.fromkeys((*(exit_.target for exit_ in routine.match_exits), way_home(plan)))
    tries = [(target, seconds) for target in targets for seconds in _TRIED_S]
    for target, seconds in tries:
        at_us = (routine.limit_us // _SECOND_US - seconds) * _SECOND_US
        if at_us <= 0 or target not in routine.steps:
            continue
        more = MatchExit(at_us, target, routine.place)
        exits = sorted((*routine.match_exits, more), key=lambda exit_: exit_.at_us)
        if finishes_in_time(unfold(replace(routine, match_exits=tuple(exits)))):
            return f"at {seconds_text(at_us)} of match, go to {path_of(target)[0]}"
    return ""
