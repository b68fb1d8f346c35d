"""What it finds
    A file of tasks that is not called as its first line says.

Why it matters on the field
    A routine finds the tasks by the name of the file. A copied file with the old name inside is how
    a team mends one file and plays with another.

Example
    tasks post
    robot moth
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
    """The name in a file of tasks, where its file has another."""
    for slip in case.slips_of("tasks-of-another-file"):
        file = slip.facts["file"]
        yield Found(
            slip.place,
            f"the tasks are called `{slip.word}` here, and their file {file}.tasks",
            f"A routine that says `tasks from {file}` gets this file, one that says "
            f"`tasks from {slip.word}` does not.",
            f"Give the file the name {slip.word}.tasks, or the tasks the name of their file:",
            paste=(f"tasks {file}",),
        )
