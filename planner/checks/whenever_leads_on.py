"""What it finds
    A `whenever` that ends in `go to`.

Why it matters on the field
    A side rule gives a command and the step goes on; it leads nowhere.

Example
    start First
    step First
      drive forward 40 %
      whenever bumper pressed, go to Lit
      when arm_floor pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start First
    step First
      drive forward 40 %
      when bumper pressed, go to Lit
      when arm_floor pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """The side rules that end in `go to`."""
    for slip in case.slips_of("whenever-leads-on"):
        yield Found(
            slip.place,
            "a `whenever` gives a command, and leads nowhere",
            "The step would go on as if the line were not there.",
            "To leave the step, write `when`:",
            paste=(slip.word.replace("whenever", "when", 1),),
            steps=steps_of(slip),
        )
