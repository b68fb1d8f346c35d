"""What it finds
    Two exits for the same outcome of a task.

Why it matters on the field
    Only one of them can be meant.

Example
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to GiveUp
      when task ends stuck, go to Lit
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
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """The second exit for an outcome."""
    for slip in case.slips_of("outcome-twice"):
        yield Found(
            slip.place,
            f"the outcome `{slip.word}` has two exits",
            "A task that ends leads to one place.",
            "Delete one of the two lines.",
            steps=steps_of(slip),
        )
