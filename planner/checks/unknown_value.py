"""What it finds
    A value that a choice or a memory does not have.

Why it matters on the field
    It can never be chosen, so what depends on it never happens.

Example
    choose park: near, far
    start Pick
    step Pick
      when choice park is middle, go to Lit
      after 1 s, go to Still
    finish Lit
    finish Still

Instead
    choose park: near, far
    start Pick
    step Pick
      when choice park is near, go to Lit
      after 1 s, go to Still
    finish Lit
    finish Still
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed
from planner.checks.words import listed


def find(case: Case) -> Iterator[Found]:
    """The values that a choice does not have."""
    for slip in case.slips_of("unknown-value"):
        done = "remembered" if slip.facts.get("kind") == "memory" else "chosen"
        yield misnamed(
            slip,
            f"`{slip.facts['choice']}` is never `{slip.word}`",
            f"It can never be {done}, so what depends on it never happens.",
            f"It can be {listed(slip.known)}.",
        )
