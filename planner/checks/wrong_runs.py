"""What it finds
    Numbers of runs behind `expect` that do not fit each other: none at all, or more that went well
    than there were runs.

Why it matters on the field
    The odds of a plan are reckoned from these numbers.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, expect 0.8 s to 1.4 s, 20 of 19 runs, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, expect 0.8 s to 1.4 s, 19 of 20 runs, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import mended_line, steps_of


def find(case: Case) -> Iterator[Found]:
    """The `N of M runs` whose numbers do not fit each other."""
    for slip in case.slips_of("wrong-runs"):
        yield Found(
            slip.place,
            f"`{slip.word}` runs cannot have been",
            "The first number says in how many runs the exit came in that time, the second how "
            "many runs were tried.",
            "Write two whole numbers, the first from 1 up to the second, the second up to 1000:",
            paste=(mended_line(slip.place, "19 of 20"),),
            steps=steps_of(slip),
        )
