"""What it finds
    A `when task ends` with an outcome that the task does not have.

Why it matters on the field
    The exit would never be taken, and the outcome that was meant leads nowhere.

Example
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to GiveUp
      when task ends dropped, go to GiveUp
    finish Lit
    finish GiveUp
    task place(height ticks) ends placed, stuck
      step Raise
        arm to height
        when arm done, go to placed
        after 2 s, go to stuck

Instead
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to GiveUp
    finish Lit
    finish GiveUp
    task place(height ticks) ends placed, stuck
      step Raise
        arm to height
        when arm done, go to placed
        after 2 s, go to stuck
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed
from planner.checks.words import listed


def find(case: Case) -> Iterator[Found]:
    """The outcomes that the called task does not have."""
    for slip in case.slips_of("unknown-outcome"):
        yield misnamed(
            slip,
            f"the task `{slip.facts['task']}` never ends `{slip.word}`",
            "So this exit is never taken.",
            f"It ends {listed(slip.known)}; name one of these, or add the "
            f"outcome behind `ends` in the line of the task.",
        )
