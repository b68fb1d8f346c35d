"""What it finds
    A second line of a kind that may stand in a file only once, such as `start` or `limit`.

Why it matters on the field
    Only the first one counts. Whoever changes the second one at the field changes nothing.

Example
    start Approach
    start Lit
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related


def find(case: Case) -> Iterator[Found]:
    """Second and further lines of a kind that stands once."""
    for slip in case.slips_of("line-twice"):
        first = (Related(slip.other, "the first one"),) if slip.other else ()
        above = f" in line {slip.other.line}" if slip.other else ""
        yield Found(
            slip.place,
            f"a second `{slip.word}` line; the first one stands{above or ' above'}",
            "Only the first one counts, so changing this one changes nothing.",
            "Keep the one you mean, and delete the other.",
            related=first,
        )
