"""What it finds
    A condition that is always true: every number the sensor gives fulfils it, or one of several
    alternatives always holds.

Why it matters on the field
    The exit is taken in the first pass, before the robot has moved. The step is over before it
    began.

Example
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 300 cm, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 30 cm, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.settled_found import found_of


def find(case: Case) -> Iterator[Found]:
    """The conditions, or the alternatives, that every value of the sensor makes true."""
    return found_of(case, always=True)
