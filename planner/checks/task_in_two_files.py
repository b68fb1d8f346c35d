"""What it finds
    Two tasks of one name: one in the routine and one in a file of tasks that it names, or one in
    each of two such files.

Why it matters on the field
    Nobody can tell which of them a `do` means. The one that was mended last week may not be the one
    that the robot does.

Example
    tasks posts
    robot moth
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
    task place(height ticks) ends placed, stuck
      step Lift
        arm to height
        when arm done, go to placed
        after 3 s, go to stuck

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
from planner.findings import Related, Slip


def find(case: Case) -> Iterator[Found]:
    """The tasks that a routine would have from two files."""
    for slip in case.slips_of("task-in-two-files"):
        other = slip.other
        yield Found(
            slip.place,
            _headline(slip),
            f"Nobody can tell which of them `do {slip.word}` means.",
            "Delete the one that is not meant, or give it another name.",
            related=(Related(other, f"`{slip.word}` is declared here too"),) if other else (),
        )


def _headline(slip: Slip) -> str:
    if "file" in slip.facts:
        return f"the task `{slip.word}` stands in {slip.facts['of']} and in {slip.facts['file']}"
    file = ".".join(slip.other.source.file) if slip.other else "a file of tasks"
    return f"the task `{slip.word}` stands here and in {file}"
