"""What it finds
    A file of tasks for one robot in a routine for another.

Why it matters on the field
    The two robots have other mechanisms and sensors, or the same names with other ways to move. A
    height that is right for one arm breaks the other.

Example
    tasks posts
    robot beetle
    task place(height ticks) ends placed, stuck
      step Raise
        arm to height
        when arm done, go to placed
        after 2 s, go to stuck
    routine example
    robot moth
    limit 30 s
    tasks from posts
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    tasks from posts
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related


def find(case: Case) -> Iterator[Found]:
    """The files of tasks that are for another robot than the routine that names them."""
    for slip in case.slips_of("tasks-for-another-robot"):
        robot, other = slip.facts["robot"], slip.facts["other"]
        label = f"`{slip.word}` is for `{other}`"
        yield Found(
            slip.place,
            f"the tasks of `{slip.word}` are for `{other}`, and this routine is for `{robot}`",
            "What one robot can be told another cannot, or it moves another way.",
            f"Keep tasks for `{robot}` in a file of their own, and name that file here.",
            related=(Related(slip.other, label),) if slip.other else (),
        )
