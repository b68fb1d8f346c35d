"""What it finds
    A robot file that is not called as the robot in it.

Why it matters on the field
    A routine finds its robot by the name of the file. Two names for one robot, or a copied file
    with the old name inside, are how a team tests one robot file and plays with another.

Example
    robot examples
    hub main
      motor 0 left_wheels
    mechanism drive
      uses left_wheels
      command forward(power %) runs
        left_wheels at power

Instead
    robot example
    hub main
      motor 0 left_wheels
    mechanism drive
      uses left_wheels
      command forward(power %) runs
        left_wheels at power
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found


def find(case: Case) -> Iterator[Found]:
    """The name in a robot file, where its file has another."""
    for slip in case.slips_of("robot-of-another-file"):
        file = slip.facts["file"]
        yield Found(
            slip.place,
            f"the robot is called `{slip.word}` here, and its file {file}.bot",
            f"A routine that says `robot {file}` gets this file, one that says "
            f"`robot {slip.word}` does not.",
            f"Give the file the name {slip.word}.bot, or the robot the name of its file:",
            paste=(f"robot {file}",),
        )
