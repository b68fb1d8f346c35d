"""What it finds
    A number of looks that no run of looks can give: none, more than there are looks, or more looks
    than the controller should keep in mind.

Why it matters on the field
    The exit would never be taken, or only after so many passes that a time says it better.

Example
    start Approach
    step Approach
      drive forward 40 %
      when floor_eye sees red for 5 of 3 looks, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when floor_eye sees red for 3 of 5 looks, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """The `for N of M looks` whose numbers do not fit each other."""
    for slip in case.slips_of("wrong-looks"):
        yield Found(
            slip.place,
            f"`{slip.word}` looks cannot be had",
            "The first number says how many of the last looks must agree, the second how many "
            "looks those are.",
            "Write two whole numbers, the first from 1 up to the second, the second up to 1000. "
            "For more looks, give a time instead.",
            paste=("for 3 of 5 looks", "for 0.5 s"),
            steps=steps_of(slip),
        )
