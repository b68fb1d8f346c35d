"""What it finds
    A number outside of what can be chosen.

Why it matters on the field
    It can never be chosen.

Example
    choose delay: 0 s to 5 s, normally 6 s
    start Wait
    step Wait
      after delay, go to Lit
    finish Lit

Instead
    choose delay: 0 s to 5 s, normally 1 s
    start Wait
    step Wait
      after delay, go to Lit
    finish Lit
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
