"""What it finds
    A match-clock exit that takes a healthy robot away from its work: where what the steps expect
    comes late, though not later than expected, the exit comes first. Steps on a loop are left out:
    there the clock says how many rounds there are. Where no time is left on the best of days
    either, only that is told; and where sensors lead to several places that nobody expects,
    nothing is said.

Why it matters on the field
    The exit is there for the run in which something went wrong. Here it ends a run in which nothing
    did, on a day when the battery is low and the carpet is rough, and what comes after is not done.

Example
    routine example
    robot moth
    limit 12 s
    at 10 s of match, go to Still
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, expect 4 s to 6 s, go to Raise
      after 7 s, go to Still
    step Raise
      arm to 1200 ticks
      when arm done, expect 4.5 s to 5 s, go to Lit
      after 7 s, go to Still
    finish Lit
    finish Still

Instead
    routine example
    robot moth
    limit 12 s
    at 10 s of match, go to Still
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, expect 3 s to 4 s, go to Raise
      after 7 s, go to Still
    step Raise
      arm to 1200 ticks
      when arm done, expect 4.5 s to 5 s, go to Lit
      after 7 s, go to Still
    finish Lit
    finish Still
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks import no_time_when_healthy
from planner.checks.case import Case, Found
from planner.checks.healthy_cuts import Cut, cuts_of, expected_in, in_tenths
from planner.model.routine import MatchExit, Routine
from planner.model.units import seconds_text
from planner.text import Place


def find(case: Case) -> Iterator[Found]:
    """The match-clock exits that come before what is expected."""
    cuts = [(cut, cut.written) for cut in cuts_of(case) if isinstance(cut.written, MatchExit)]
    if case.plan is None or not cuts or any(True for _ in no_time_when_healthy.find(case)):
        return
    told: set[Place] = set()
    for cut, exit_ in cuts:
        if exit_.place not in told:
            told.add(exit_.place)
            yield _found(case.plan.routine, cut, exit_)


def _found(routine: Routine, cut: Cut, exit_: MatchExit) -> Found:
    at = seconds_text(exit_.at_us)
    why = f"If all comes as late as it is expected, the robot is still in `{cut.step}` then."
    way_out = "Leave out a step, make one faster, or correct what is expected."
    if cut.takes:
        _, high = in_tenths(cut.takes)
        why += f" Without this exit it could finish as late as {high}."
        if cut.takes.latest_us < routine.limit_us:
            way_out = (
                f"Let the exit come after {high}, make a step faster, or correct what is expected."
            )
    return Found(
        exit_.place,
        f"the exit at {at} of match may come too soon when all goes well but slowly",
        why,
        way_out,
        steps=(cut.step,),
        related=expected_in(routine, cut.step),
    )
