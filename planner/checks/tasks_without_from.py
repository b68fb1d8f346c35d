"""What it finds
    A routine that names a file of tasks without `from`.

Why it matters on the field
    `tasks NAME` is how a file of tasks begins. In a routine nothing comes of it, and the steps that
    count on those tasks have nothing to do.

Example
    tasks posts
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


def find(case: Case) -> Iterator[Found]:
    """The lines of a routine that begin as a file of tasks does."""
    for slip in case.slips_of("tasks-without-from"):
        yield Found(
            slip.place,
            f"`tasks {slip.word}` is how a file of tasks begins",
            "This file is a routine, so nothing comes of the line.",
            "To do tasks that stand in such a file, say where they come from:",
            paste=(f"tasks from {slip.word}",),
        )
