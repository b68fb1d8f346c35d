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
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    choose c0: a, b
    choose c1: a, b
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
    """The choices that make more variants than are checked."""
    for slip in case.slips_of("too-many-variants"):
        yield Found(
            slip.place,
            f"with `{slip.word}` there are more than 64 variants",
            "Every combination of choices is checked, and so many are more than a team can try.",
            "Leave out a choice, or write a routine of its own for one of its values.",
            steps=steps_of(slip),
        )
