"""What it finds
    A counter that no line declares.

Why it matters on the field
    Nothing would be counted.

Example
    counter shots: 0 to 3, normally 3
    start Shoot
    step Shoot
      count shot down
      roller drop
      when tin_gate clear for 0.3 s, go to Next
      after 2 s, go to GiveUp
    step Next
      when counter shots > 0, go to Shoot
      when counter shots is 0, go to Lit
    finish Lit
    finish GiveUp

Instead
    counter shots: 0 to 3, normally 3
    start Shoot
    step Shoot
      count shots down
      roller drop
      when tin_gate clear for 0.3 s, go to Next
      after 2 s, go to GiveUp
    step Next
      when counter shots > 0, go to Shoot
      when counter shots is 0, go to Lit
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed


def find(case: Case) -> Iterator[Found]:
    """The names of counters that nothing declares."""
    for slip in case.slips_of("unknown-counter"):
        yield misnamed(
            slip,
            f"there is no counter `{slip.word}`",
            "Nothing is counted under that name.",
            f"Declare it above the steps, such as `counter {slip.word}: 0 to 3, normally 3`.",
        )
