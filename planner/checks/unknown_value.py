"""What it finds
    A value that a choice does not have.

Why it matters on the field
    It can never be chosen, so what depends on it never happens.

Example
    choose park: near, far
    choose delay: 0 s to 5 s, normally 0 s
    setting first_drive by park
      near 40 %
      far 60 %
    start First
    step First
      when choice park is middle and bumper pressed, go to Lit
      when choice park is far and bumper pressed, go to Lit
      drive forward first_drive
      after 3 s, go to Wait
    step Wait
      after delay, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    choose park: near, far
    choose delay: 0 s to 5 s, normally 0 s
    setting first_drive by park
      near 40 %
      far 60 %
    start First
    step First
      when choice park is near and bumper pressed, go to Lit
      when choice park is far and bumper pressed, go to Lit
      drive forward first_drive
      after 3 s, go to Wait
    step Wait
      after delay, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import listed, mended, steps_of, suggestion


def find(case: Case) -> Iterator[Found]:
    """The values that a choice does not have."""
    for slip in case.slips_of("unknown-value"):
        yield Found(
            slip.place,
            f"`{slip.facts['choice']}` is never `{slip.word}`",
            "It can never be chosen, so what depends on it never happens.",
            suggestion(slip, f"It can be {listed(slip.known)}."),
            paste=mended(slip),
            steps=steps_of(slip),
        )
