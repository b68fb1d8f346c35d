"""What it finds
    A memory that no line declares.

Why it matters on the field
    The plan would look up, or write down, something that it has no place for.

Example
    memory far = 60 cm
    start Approach
    step Approach
      drive forward 40 %
      remember drive travelled as fra
      when bumper pressed, go to Back
      after 3 s, go to GiveUp
    step Back
      drive forward -30 %
      when drive travelled < -far, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    memory far = 60 cm
    start Approach
    step Approach
      drive forward 40 %
      remember drive travelled as far
      when bumper pressed, go to Back
      after 3 s, go to GiveUp
    step Back
      drive forward -30 %
      when drive travelled < -far, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed


def find(case: Case) -> Iterator[Found]:
    """The names of memories that nothing declares."""
    for slip in case.slips_of("unknown-memory"):
        asked = slip.place.line_text.split()[0] != "remember"
        declared = f"`memory {slip.word}: no, yes`" if asked else f"`memory {slip.word} = 60 cm`"
        yield misnamed(
            slip,
            f"there is no memory `{slip.word}`",
            "Nothing is remembered under that name.",
            f"Declare it above the steps, such as {declared}.",
        )
