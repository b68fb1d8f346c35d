"""What it finds
    A motor, servo or lamp that no mechanism uses.

Why it matters on the field
    Nothing can move it: only mechanisms have commands. Most often its name was forgotten in a
    `uses` line.

Example
    robot example
    hub main
      motor 0 left_wheels
      motor 1 right_wheels
    mechanism drive
      uses left_wheels

Instead
    robot example
    hub main
      motor 0 left_wheels
      motor 1 right_wheels
    mechanism drive
      uses left_wheels, right_wheels
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.sides import opposite
from planner.findings import nearest


def find(case: Case) -> Iterator[Found]:
    """Outputs that stand in no `uses` line; one in a line that could not be read is left out."""
    if case.plan is not None:
        return
    robot = case.robot
    used = {output.name for m in robot.mechanisms.values() for output in m.outputs}
    lost = [slip.word for slip in case.slips_of("unknown-device")]
    for output in robot.outputs.values():
        if output.name in used or output.name in robot.broken_words:
            continue
        if any(nearest(output.name, (name,)) and not opposite(output.name, name) for name in lost):
            continue  # A `uses` line means it, and misspells it.
        yield Found(
            output.place,
            f"no mechanism uses the {output.kind.value} `{output.name}`",
            "Only mechanisms have commands, so nothing can move it.",
            f"Add `{output.name}` to the `uses` line of the mechanism it belongs to.",
        )
