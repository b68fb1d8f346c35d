"""What it finds
    An outcome of a task that no exit of the task leads to.

Why it matters on the field
    Whoever does the task has planned for that outcome, and it never comes. Most often it is the
    one for bad days: the task then has no way to tell that it failed.

Example
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
        when arm done, go to Drop
        after 2 s, go to placed
      step Drop
        claw open
        after 0.6 s, go to placed

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
        when arm done, go to Drop
        after 2 s, go to stuck
      step Drop
        claw open
        after 0.6 s, go to placed
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.headings import words_not_read


def find(case: Case) -> Iterator[Found]:
    """The outcomes that no line of their task names."""
    perhaps = words_not_read(case)
    for slip in case.slips_of("outcome-never-reached"):
        if slip.word in perhaps:
            continue
        task = slip.facts["task"]
        yield Found(
            slip.place,
            f"the task `{task}` never ends `{slip.word}`",
            f"No exit of its steps leads to `{slip.word}`, so `when task ends {slip.word}` never "
            "comes true.",
            f"Let an exit in `{task}` lead there, for instance a time limit, or take the outcome "
            "out of the line of the task.",
            paste=(f"after 3 s, go to {slip.word}",),
        )
