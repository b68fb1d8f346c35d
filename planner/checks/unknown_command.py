"""What it finds
    A command that the mechanism does not know.

Why it matters on the field
    The robot would leave it out and wait in a step that does nothing.

Example
    start Approach
    step Approach
      drive foward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
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
from planner.checks.words import listed


def find(case: Case) -> Iterator[Found]:
    """Commands that no line of the robot file declares for their mechanism."""
    for slip in case.slips_of("unknown-command"):
        mechanism = slip.facts["mechanism"]
        yield misnamed(
            slip,
            f"`{mechanism}` has no command `{slip.word}`",
            "The robot would leave it out.",
            f"It knows {listed(slip.known, 'and')}. A new command is declared under "
            f"`mechanism {mechanism}` in the robot file.",
        )
