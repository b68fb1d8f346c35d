"""What it finds
    A condition that can never be true: a number that the sensor never gives, or two demands on one
    sensor that contradict each other.

Why it matters on the field
    The exit is never taken, whatever the robot does. The step ends in its time limit, or another
    exit has to save it.

Example
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 1 cm, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 8 cm, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.settled_found import found_of


def find(case: Case) -> Iterator[Found]:
    """The conditions, or the contradictions, that no value of the sensor makes true."""
    return found_of(case, always=False)
