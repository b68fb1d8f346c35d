"""What it finds
    A sensor or a reading in a number that something else is measured against.

Why it matters on the field
    A number of a step is fixed when the step begins. A reading goes on changing, and which
    moment was meant is what a plan must say.

Example
    start Look
    step Look
      drive forward 40 %
      when drive travelled > 0.5 * range_front, go to Lit
      after 4 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    memory way = 80 cm
    start Look
    step Look
      remember range_front as way
      when not range_front unreadable, go to Approach
      after 0.5 s, go to Approach
    step Approach
      drive forward 40 %
      when drive travelled > 0.5 * way, go to Lit
      after 4 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """Readings in the numbers of a step."""
    for slip in case.slips_of("reading-in-number"):
        unit = slip.facts["unit"]
        yield Found(
            slip.place,
            f"`{slip.word}` is a reading, and a number must be known when it is needed",
            "A reading goes on changing; the plan must say at which moment it counts.",
            f"Remember it first: declare `memory found = 0 {unit}` at the top, write "
            f"`remember {slip.word} as found` in the step that ends at that moment, and `found` "
            "here.",
            steps=steps_of(slip),
        )
