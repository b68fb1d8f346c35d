"""What it finds
    A task that no step does.

Why it matters on the field
    What is planned in it never happens. Most often the step that should do it names another task,
    or was never written.

Example
    start First
    step First
      claw open
      after 0.6 s, go to Lit
    finish Lit
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
from planner.checks.headings import words_not_read


def find(case: Case) -> Iterator[Found]:
    """The tasks that nothing does; where a name of a task is unknown, it may be meant there."""
    if any(case.slips_of("unknown-task")):
        return
    perhaps = words_not_read(case)
    for slip in case.slips_of("unused-task"):
        if slip.word in perhaps:
            continue
        yield Found(
            slip.place,
            f"no step does the task `{slip.word}`",
            "What is planned in it never happens.",
            f"Let a step do it, with `do {slip.word}` and an exit for each of its outcomes, or "
            "delete it.",
        )
