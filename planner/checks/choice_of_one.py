"""What it finds
    A choice with a single value.

Why it matters on the field
    There is nothing to choose.

Example
    choose side: left
    start First
    step First
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    choose side: left, right
    start First
    step First
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
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
