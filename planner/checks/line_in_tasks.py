"""What it finds
    A line of a routine in a file of tasks.

Why it matters on the field
    Many routines share the file. What they do first, how long they may take and what is chosen
    before the start are matters of each routine; here nothing would come of such a line.

Example
    tasks posts
    robot moth
    limit 30 s
    task place(height ticks) ends placed, stuck
      step Raise
        arm to height
        when arm done, go to placed
        after 2 s, go to stuck

Instead
    tasks posts
    robot moth
    task place(height ticks) ends placed, stuck
      step Raise
        arm to height
        when arm done, go to placed
        after 2 s, go to stuck
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found


def find(case: Case) -> Iterator[Found]:
    """The lines of a file of tasks that belong in a routine."""
    for slip in case.slips_of("line-in-tasks"):
        yield Found(
            slip.place,
            f"`{slip.word}` does not belong in a file of tasks",
            "Such a file holds the lines `tasks NAME` and `robot NAME`, settings that are plain "
            "numbers, and tasks. Nothing comes of any other line.",
            "Move the line, and those under it, to the routine.",
        )
