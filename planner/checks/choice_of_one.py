"""What it finds
    A choice with a single value.

Why it matters on the field
    There is nothing to choose.

Example
    choose side: left
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
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """The choices that leave no choice."""
    for slip in case.slips_of("choice-of-one"):
        yield Found(
            slip.place,
            f"`{slip.word}` leaves no choice",
            "With one value there is nothing to choose before the start.",
            "Name another value, or delete the line.",
            paste=(f"choose {slip.word}: one, other",),
            steps=steps_of(slip),
        )
