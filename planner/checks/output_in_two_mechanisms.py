"""What it finds
    A motor, servo or lamp that two mechanisms use.

Why it matters on the field
    Each of them sends it commands and knows nothing of the other. Two commands in one step then
    fight for it, and what one mechanism switched off the other still counts on.

Example
    robot example
    hub main
      motor 0 arm_motor
      motor 1 roller_motor
    mechanism arm
      uses arm_motor
      command lower(power %) runs
        arm_motor at -power
    mechanism roller
      uses roller_motor, arm_motor
      command take runs
        roller_motor at 80 %

Instead
    robot example
    hub main
      motor 0 arm_motor
      motor 1 roller_motor
    mechanism arm
      uses arm_motor
      command lower(power %) runs
        arm_motor at -power
    mechanism roller
      uses roller_motor
      command take runs
        roller_motor at 80 %
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.model.robot import Mechanism


def find(case: Case) -> Iterator[Found]:
    """The outputs that stand in the `uses` lines of several mechanisms."""
    if case.plan is not None:
        return
    first: dict[str, Mechanism] = {}
    for mechanism in case.robot.mechanisms.values():
        for output in dict.fromkeys(output.name for output in mechanism.outputs):
            other = first.setdefault(output, mechanism)
            if other is not mechanism:
                kind = case.robot.outputs[output].kind.value
                yield Found(
                    mechanism.place,
                    f"the {kind} `{output}` belongs to `{other.name}` and to `{mechanism.name}`",
                    "Each sends it commands and knows nothing of the other, so they fight for it.",
                    f"Name it in one `uses` line only. If `{mechanism.name}` and `{other.name}` "
                    "have to move together, make them one mechanism.",
                    related=(Related(other.place, "uses it as well"),),
                )
