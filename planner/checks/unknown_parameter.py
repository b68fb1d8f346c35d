"""What it finds
    A name in a command's lines that is none of the numbers the command takes.

Why it matters on the field
    The motor would be given no number at all.

Example
    robot example
    hub main
      motor 0 arm_motor
    mechanism arm
      uses arm_motor
      command lower(power %) runs
        arm_motor at pover

Instead
    robot example
    hub main
      motor 0 arm_motor
    mechanism arm
      uses arm_motor
      command lower(power %) runs
        arm_motor at power
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed
from planner.checks.words import listed
from planner.findings import Slip


def find(case: Case) -> Iterator[Found]:
    """Names in a command's lines that stand in no parentheses of it."""
    for slip in case.slips_of("unknown-parameter"):
        yield misnamed(
            slip,
            f"`{slip.word}` is no number that this command takes",
            "The motor would be given no number.",
            _otherwise(slip),
        )


def _otherwise(slip: Slip) -> str:
    there = f"It takes {listed(slip.known, 'and')}. " if slip.known else "It takes none. "
    return f"{there}Name it in the command's parentheses, such as `({slip.word} %)`."
