"""What it finds
    A number outside of what can be chosen.

Why it matters on the field
    It can never be chosen.

Example
    choose park: near, far
    choose delay: 0 s to 5 s, normally 6 s
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
    """The numbers that lie outside of their choice's range."""
    for slip in case.slips_of("choice-out-of-range"):
        yield Found(
            slip.place,
            f"`{slip.word}` is not between {slip.facts['low']} and {slip.facts['high']}",
            "It can never be chosen.",
            "Choose a number in the range, or make the range wider.",
            steps=steps_of(slip),
        )
