"""What it finds
    A choice that no line declares.

Why it matters on the field
    What depends on it would never happen.

Example
    choose park: near, far
    start Pick
    step Pick
      when choice prak is near, go to Lit
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


def find(case: Case) -> Iterator[Found]:
    """The names of choices that nothing declares."""
    for slip in case.slips_of("unknown-choice"):
        yield misnamed(
            slip,
            f"there is no choice `{slip.word}`",
            "What depends on it would never happen.",
            f"Declare it above the steps with `choose {slip.word}: one, other`.",
        )
