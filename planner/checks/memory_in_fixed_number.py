"""What it finds
    A memory in a time, or in another number that must be known before the start.

Why it matters on the field
    That a plan gets through its match in time can be proved only where its times are known
    before the start.

Example
    memory patience = 2 s
    start Wait
    step Wait
      remember 1 s as patience
      when bumper pressed, go to Lit
      after patience, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    setting patience = 2 s
    start Wait
    step Wait
      when bumper pressed, go to Lit
      after patience, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """Memories where the number must be known before the start."""
    for slip in case.slips_of("memory-in-fixed-number"):
        what = "a time" if slip.facts["time"] else "this number"
        why = (
            "Whether the plan is over in time can be proved only where its times are fixed."
            if slip.facts["time"]
            else "It must be known before the start."
        )
        yield Found(
            slip.place,
            f"`{slip.facts['memory']}` changes in the match, and {what} must be fixed",
            why,
            "Write the number, or make it a setting. Where it depends on what was remembered, use "
            "one exit for each case, with a condition on the memory.",
            steps=steps_of(slip),
        )
