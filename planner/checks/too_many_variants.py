"""What it finds
    More combinations of choices than can be checked one by one.

Why it matters on the field
    A variant that nobody checked is a plan that nobody checked.

Example
    choose c0: a, b
    choose c1: a, b
    choose c2: a, b
    choose c3: a, b
    choose c4: a, b
    choose c5: a, b
    choose c6: a, b
    start First
    step First
      when bumper pressed, go to Lit
      when arm_floor pressed, go to Lit
      drive forward 40 %
      after 3 s, go to Wait
    step Wait
      after 1 s, go to GiveUp
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
    """The choices that make more variants than are checked."""
    for slip in case.slips_of("too-many-variants"):
        yield Found(
            slip.place,
            f"with `{slip.word}` there are more than 64 variants",
            "Every combination of choices is checked, and so many are more than a team can try.",
            "Leave out a choice, or write a routine of its own for one of its values.",
            steps=steps_of(slip),
        )
