"""What it finds
    A task with no step in it.

Why it matters on the field
    There is nothing to do, and so no way for it to end.

Example
    task place(height ticks) ends placed, stuck
    start First
    step First
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

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
    """The tasks that hold no step."""
    for slip in case.slips_of("task-without-steps"):
        yield Found(
            slip.place,
            f"the task `{slip.word}` has no step",
            "There is nothing to do in it, and so no way for it to end.",
            "Put steps under it, indented; it begins with the first.",
            paste=("step Raise", "  after 2 s, go to stuck"),
            steps=steps_of(slip),
        )
