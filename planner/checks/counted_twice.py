"""What it finds
    An exit that is counted where it stands and again where it leads.

Why it matters on the field
    Nobody could say how often it is taken.

Example
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to First, at most 2 times, then GiveUp
    finish Lit
    finish GiveUp
    task place(height ticks) ends placed, stuck
      step Raise
        arm to height
        when arm done, go to placed
        after 2 s, go to stuck, at most 1 time, then placed

Instead
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to First, at most 2 times, then GiveUp
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
    """The exits with two counts."""
    for slip in case.slips_of("counted-twice"):
        yield Found(
            slip.place,
            "this exit is counted twice",
            "It has a count here, and the outcome that it leads to has one where the task is "
            "called.",
            "Keep one of the two counts.",
            steps=steps_of(slip),
        )
