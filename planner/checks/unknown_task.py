"""What it finds
    A `do` with a task that no line declares.

Why it matters on the field
    The robot would have nothing to do in that step.

Example
    start First
    step First
      do plaec 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to GiveUp
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


def find(case: Case) -> Iterator[Found]:
    """The names behind `do` that are no task."""
    for slip in case.slips_of("unknown-task"):
        yield misnamed(
            slip,
            f"there is no task `{slip.word}`",
            "The robot would have nothing to do in this step.",
            f"Declare it with `task {slip.word} ends done_well, stuck`.",
        )
