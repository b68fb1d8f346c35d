"""What it finds
    A scenario that must finish in a step which is no finish.

Why it matters on the field
    Nothing on the field: the scenario could never pass, whatever the plan does.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    scenario good_run
      at 1 s, bumper pressed
      must finish in Approach

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    scenario good_run
      at 1 s, bumper pressed
      must finish in Lit
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import listed, mended_line


def find(case: Case) -> Iterator[Found]:
    """The names behind `must finish in` that are steps and no finishes."""
    for slip in case.slips_of("not-a-finish"):
        yield Found(
            slip.place,
            f"`{slip.word}` is no finish",
            "A run ends in a finish or is cut off, so the scenario could never pass.",
            f"Name a finish: {listed(slip.known)}. If the way through `{slip.word}` is what "
            f"counts, say `must visit {slip.word}`.",
            paste=tuple(mended_line(slip.place, name) for name in slip.known[:1]),
        )
