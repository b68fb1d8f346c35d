"""What it finds
    A plan of which it could not be settled whether every run finishes before the routine's limit:
    the search met a bound, or the run it found could not be played. That is no verdict, neither
    good nor bad, and `planner check` ends with exit status 3.

Why it matters on the field
    A plan that nobody could prove may be late on a bad day. What a tool does not know it should not
    pass as sound.

Example
    memory high = 200 ticks
    start Approach
    step Approach
      drive forward 40 %
      remember 200 ticks as high
      when bumper pressed, go to Raise
      after 6 s, go to Raise
    step Raise
      arm to high
      when memory high > 300 ticks, go to Hold
      when arm done, go to Lit
      after 3 s, go to Lit
    step Hold
      arm to 100 ticks
      when arm done, go to Lit
      after 25 s, go to Lit
    finish Lit

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Raise
      after 6 s, go to Raise
    step Raise
      arm to 200 ticks
      when arm done, go to Lit
      after 3 s, go to Lit
    finish Lit
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.timing import timing_of


def find(case: Case) -> Iterator[Found]:
    """Says so where the search came to no answer."""
    timing = timing_of(case)
    if timing and timing.stopped:
        yield Found(
            timing.plan.routine.place,
            "it could not be settled whether every run finishes in time",
            f"The search of all runs {timing.stopped}.",
            "Write the plan more plainly, or rehearse what you are unsure of; a match-clock exit "
            "to a finish, some seconds before the limit, settles it whatever else happens.",
        )
