"""What it finds
    A line `tasks from NAME` whose file is nowhere to be found.

Why it matters on the field
    Nobody can tell what the robot does in the steps that do a task of that file.

Example
    tasks from post
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
from planner.checks.misnamed import misnamed


def find(case: Case) -> Iterator[Found]:
    """The files of tasks that a routine names, where they were not found."""
    for slip in case.slips_of("missing-tasks"):
        file = f"{slip.word}.tasks"
        yield misnamed(
            slip,
            f"there is no file of tasks `{file}`",
            "What the robot does in a step that does one of its tasks is not known.",
            f"Put `{file}` into the folder of this routine or the one above. Its first line "
            f"is `tasks {slip.word}`.",
        )
