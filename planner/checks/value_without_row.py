"""What it finds
    A setting that goes by a choice and leaves a value out.

Why it matters on the field
    When that value is chosen the plan would have no number to go by.

Example
    choose park: near, far
    setting speed by park
      near 40 %
    start First
    step First
      drive forward speed
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    choose park: near, far
    setting speed by park
      near 40 %
      far 60 %
    start First
    step First
      drive forward speed
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
    """The settings by choice with a row missing."""
    for slip in case.slips_of("value-without-row"):
        yield Found(
            slip.place,
            f"`{slip.facts['setting']}` has no number for `{slip.word}`",
            f"When `{slip.facts['choice']}` is `{slip.word}`, the plan would not know which number "
            "to take.",
            "Add a row for each value that is missing:",
            paste=tuple(f"{value} 40 %" for value in slip.known),
            steps=steps_of(slip),
        )
