"""What it finds
    A routine whose robot file is nowhere to be found.

Why it matters on the field
    The robot file says which sensors and mechanisms there are. Without it not one name in the
    routine can be checked, and no Java can be written.

Example
    routine example
    robot mohth
    limit 30 s
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    routine example
    robot moth
    limit 30 s
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed


def find(case: Case) -> Iterator[Found]:
    """The robot that a routine names, where its file was not found."""
    for slip in case.slips_of("missing-robot"):
        file = f"{slip.word}.bot"
        yield misnamed(
            slip,
            f"there is no robot file for `{slip.word}`",
            "Without it no sensor, mechanism or command of this routine can be checked.",
            f"Put `{file}` into the folder of this routine or the one above. Its first line "
            f"is `robot {slip.word}`.",
        )
