"""What it finds
    A count of tries that is no whole number from 1 to 1000.

Why it matters on the field
    An exit that may be taken no times, or half a time, can never be taken.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to BackOff, at most 0 times, then Lit
      after 3 s, go to Lit
    step BackOff
      drive forward -40 %
      when drive travelled < -20 cm, go to Approach
      after 2 s, go to Lit
    finish Lit

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to BackOff, at most 2 times, then Lit
      after 3 s, go to Lit
    step BackOff
      drive forward -40 %
      when drive travelled < -20 cm, go to Approach
      after 2 s, go to Lit
    finish Lit
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import mended_line, steps_of


def find(case: Case) -> Iterator[Found]:
    """Counts that cannot be counted."""
    for slip in case.slips_of("wrong-count"):
        yield Found(
            slip.place,
            f"an exit cannot be taken at most `{slip.word}` times",
            "A count is a whole number from 1 to 1000.",
            "Write how often it may be tried, such as `2`. To never take the exit, delete it.",
            paste=(mended_line(slip.place, "2"),),
            steps=steps_of(slip),
        )
