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

from planner.checks.case import Case, Found
from planner.checks.late_mends import Mend, clock_mend, rounds_mend
from planner.checks.late_waits import waits_of
from planner.checks.timing import Timing, timing_of
from planner.findings import ShownRun
from planner.model.routine import AfterExit
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The shortest run that is cut off, where there is one."""
    timing = timing_of(case)
    if timing and timing.run:
        yield _found(timing, timing.run)


def _found(timing: Timing, run: ShownRun) -> Found:
    plan, limit = timing.plan, seconds_text(timing.plan.routine.limit_us)
    clock = clock_mend(plan) if timing.searched_all else None
    rounds = rounds_mend(plan, timing.exits) if timing.searched_all else None
    return Found(
        plan.routine.place,
        f"the robot can still be in `{run.moments[-1].step}` when the limit of {limit} comes",
        "The run below shows how: when each step ends, and by what. Then the robot is cut off, "
        "and what comes after is not done.",
        _way_out(clock, rounds),
        paste=(clock.line,) if clock else (),
        steps=tuple(dict.fromkeys(moment.step for moment in run.moments)),
        related=tuple(waits_of(timing)),
        run=run,
        weight=sum(
            exit_.written.limit_us for exit_ in timing.exits if isinstance(exit_.written, AfterExit)
        ),
    )


def _way_out(clock: Mend | None, rounds: Mend | None) -> str:
    """What to change: what is proved to be enough, after what only the team can tell."""
    said = "Shorten what lasts longest on this run"
    if clock and clock.instead_of:
        said += (
            f", or let the match clock lead home sooner: with the line below, in the place of line "
            f"{clock.instead_of.line}, every run finishes in time"
        )
    elif clock:
        said += (
            ", or let the match clock lead home: with the line below, above the steps, every run "
            "finishes in time"
        )
    if rounds and rounds.instead_of:
        said += f". Fewer rounds are enough, too: `{rounds.line}` in line {rounds.instead_of.line}"
    return f"{said}." if clock or rounds else f"{said}, or leave something out."
