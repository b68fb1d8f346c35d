"""What it finds
    An exit or a start that leads to a step which no line declares.

Why it matters on the field
    The robot would have nowhere to go. Most often it is a slip of the finger, and the step that
    was meant is then never reached.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Liit
      after 3 s, go to Lit
    finish Lit

Instead
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
from planner.checks.words import mended, steps_of, suggestion


def find(case: Case) -> Iterator[Found]:
    """The names in exits and in `start` that are no step."""
    for slip in case.slips_of("unknown-step"):
        yield Found(
            slip.place,
            f"there is no step `{slip.word}`",
            "The robot would have nowhere to go from here.",
            suggestion(slip, f"Declare it with `step {slip.word}`, or name a step that is there."),
            paste=mended(slip),
            steps=steps_of(slip),
        )
