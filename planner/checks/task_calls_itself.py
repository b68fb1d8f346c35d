"""What it finds
    A task that does itself, directly or through other tasks.

Why it matters on the field
    It would never come to an end.

Example
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to GiveUp
    finish Lit
    finish GiveUp
    task place(height ticks) ends placed, stuck
      step Again
        do place 100 ticks
        when task ends placed, go to placed
        when task ends stuck, go to Raise
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
    """The calls that lead back to a task that is being done."""
    for slip in case.slips_of("task-calls-itself"):
        yield Found(
            slip.place,
            f"the task `{slip.word}` would do itself",
            "Each time it is done it would begin again, and never end.",
            "To do something several times, say so where the task is called, or count an exit "
            "that leads back.",
            paste=(f"do {slip.word}, 3 times",),
            steps=steps_of(slip),
        )
