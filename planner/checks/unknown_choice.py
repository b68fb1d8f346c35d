"""What it finds
    A choice that no line declares.

Why it matters on the field
    What depends on it would never happen.

Example
    choose park: near, far
    choose delay: 0 s to 5 s, normally 0 s
    setting first_drive by park
      near 40 %
      far 60 %
    start First
    step First
      when choice prak is near and bumper pressed, go to Lit
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
from planner.checks.words import mended, steps_of, suggestion


def find(case: Case) -> Iterator[Found]:
    """The names of choices that nothing declares."""
    for slip in case.slips_of("unknown-choice"):
        yield Found(
            slip.place,
            f"there is no choice `{slip.word}`",
            "What depends on it would never happen.",
            suggestion(slip, f"Declare it above the steps with `choose {slip.word}: one, other`."),
            paste=mended(slip),
            steps=steps_of(slip),
        )
