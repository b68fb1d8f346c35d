"""What it finds
    A mechanism told twice in one step, or an output set twice in one command, where its twin on
    the other side is left out.

Why it matters on the field
    It was copied, and the second name was never changed. Of two lines for one motor only the last
    counts, and the other side does not move: the robot turns where it should drive straight, or
    tears at one end of the arm.

Example
    robot example
    hub main
      motor 0 left_wheels reversed
      motor 1 right_wheels
    mechanism drive
      uses left_wheels, right_wheels
      command forward(power %) runs
        left_wheels at power
        left_wheels at power

Instead
    robot example
    hub main
      motor 0 left_wheels reversed
      motor 1 right_wheels
    mechanism drive
      uses left_wheels, right_wheels
      command forward(power %) runs
        left_wheels at power
        right_wheels at power
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.doubles import Double, doubles
from planner.findings import Related


def find(case: Case) -> Iterator[Found]:
    """The doubles whose twin is left out."""
    for double in doubles(case):
        if double.left_out:
            yield _found(double)


def _found(double: Double) -> Found:
    named = re.compile(rf"\b{re.escape(double.name)}\b")
    return Found(
        double.again,
        f"`{double.name}` stands twice in `{double.where}`, and `{double.left_out}` is left out",
        f"Of the lines for `{double.name}` only the last counts, and `{double.left_out}` gets "
        "nothing to do.",
        f"Did you mean `{double.left_out}` here?",
        paste=(named.sub(double.left_out, double.again.words, count=1),),
        steps=(double.step,) if double.step else (),
        related=(Related(double.first, f"`{double.name}` is set here already"),),
    )
