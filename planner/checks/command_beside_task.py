"""What it finds
    A command in a step that does a task.

Why it matters on the field
    It would not be clear which comes first, the command or those of the task.

Example
    start First
    step First
      claw close
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
    """The commands beside a `do`."""
    for slip in case.slips_of("command-beside-task"):
        yield Found(
            slip.place,
            f"`{slip.word}` stands beside a task",
            "A step that does a task gives no commands of its own.",
            "Give the command in a step before this one, or in the first step of the task.",
            steps=steps_of(slip),
        )
