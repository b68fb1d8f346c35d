"""What it finds
    Two devices whose names differ only in capitals or underscores.

Why it matters on the field
    The name in the Java must be the name in the hub's configuration, letter for letter. With
    `arm_motor` and `armMotor` side by side, sooner or later somebody types the other one.

Example
    robot example
    hub main
      motor 0 arm_motor
      motor 1 armMotor
    mechanism arm
      uses arm_motor, armMotor

Instead
    robot example
    hub main
      motor 0 arm_motor_left
      motor 1 arm_motor_right
    mechanism arm
      uses arm_motor_left, arm_motor_right
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.ports import Device
from planner.findings import Related


def find(case: Case) -> Iterator[Found]:
    """Devices whose name an earlier one nearly has."""
    if case.plan is not None:
        return
    first: dict[str, Device] = {}
    named: list[Device] = [*case.robot.sensors.values(), *case.robot.outputs.values()]
    for device in sorted(named, key=lambda device: device.place.order):
        alike = first.setdefault(device.name.casefold().replace("_", ""), device)
        if alike is device:
            continue
        yield Found(
            device.place,
            f"`{device.name}` and `{alike.name}` look the same at a glance",
            "The Java finds devices by name, letter for letter; the two will be mixed up one day.",
            "Give them names that say how they differ, such as left and right or front and back.",
            related=(Related(alike.place, f"`{alike.name}` is declared here"),),
        )
