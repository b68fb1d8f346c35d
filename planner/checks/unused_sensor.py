"""What it finds
    A sensor that no routine asks, in a robot file checked along with its routines. A heading sensor
    or an encoder that a mechanism uses counts as used: the mechanism steers by it.

Why it matters on the field
    Perhaps it is left over. Perhaps a routine guesses with a timer what this sensor knows.

Example
    robot example
    hub main
      motor 0 left_wheels
      digital 7 bumper touch
      digital 4 tin_gate beam
    mechanism drive
      uses left_wheels
      command forward(power %) runs
        left_wheels at power

    routine ahead
    robot example
    limit 30 s
    start Ahead
    step Ahead
      drive forward 40 %
      when bumper pressed, go to Parked
      after 2 s, go to GiveUp
    finish Parked
    finish GiveUp

Instead
    robot example
    hub main
      motor 0 left_wheels
      digital 7 bumper touch
      digital 4 tin_gate beam
    mechanism drive
      uses left_wheels
      command forward(power %) runs
        left_wheels at power

    routine ahead
    robot example
    limit 30 s
    start Ahead
    step Ahead
      drive forward 40 %
      when bumper pressed or tin_gate broken, go to Parked
      after 2 s, go to GiveUp
    finish Parked
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.usage import can_tell, used_sensors
from planner.model.resolve_condition import questions


def find(case: Case) -> Iterator[Found]:
    """Sensors that no condition asks."""
    if not can_tell(case):
        return
    used = used_sensors(case)
    for sensor in case.robot.sensors.values():
        if sensor.name in used:
            continue
        asked = questions(sensor)[0]
        yield Found(
            sensor.place,
            f"no routine asks the {sensor.kind.value} sensor `{sensor.name}`"
            if sensor.kind.value != "camera"
            else f"no routine asks the camera `{sensor.name}`",
            "Perhaps a routine guesses with a timer what this sensor knows.",
            "Let a step wait for it, or delete its line if it is left over.",
            paste=(f"when {asked}, go to NextStep",),
        )
