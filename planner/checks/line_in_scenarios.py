"""What it finds
    A line of a routine in a file of scenarios.

Why it matters on the field
    A plan has its steps in one place. What stands in the file of scenarios is not in the plan, so
    the robot would never do it.

Example
    # first_lamp.scenario
    routine first_lamp
    start Approach
    scenario good_run
      in Approach, after 1 s, bumper pressed
      must visit Approach, Raise

Instead
    # first_lamp.scenario
    routine first_lamp
    scenario good_run
      in Approach, after 1 s, bumper pressed
      must visit Approach, Raise
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found


def find(case: Case) -> Iterator[Found]:
    """The lines of a file of scenarios that belong in the routine."""
    for slip in case.slips_of("line-in-scenarios"):
        yield Found(
            slip.place,
            f"`{slip.word}` does not belong in a file of scenarios",
            "Such a file holds the line `routine NAME` and scenarios; nothing else in it is "
            "part of the plan.",
            "Move the line, and those under it, to the routine.",
        )
