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
from planner.checks.usage import can_tell, gathered, used_sensors
from planner.checks.words import listed
from planner.model.resolve_condition import questions
from planner.model.robot import Sensor, SensorKind


def find(case: Case) -> Iterator[Found]:
    """Sensors that no condition asks."""
    if not can_tell(case):
        return
    used = used_sensors(case)
    unused = [sensor for sensor in case.robot.sensors.values() if sensor.name not in used]
    names = listed(sensor.name for sensor in unused)
    yield from gathered([_found(sensor) for sensor in unused], f"no routine asks {names}")


def _found(sensor: Sensor) -> Found:
    kind = "camera" if sensor.kind is SensorKind.CAMERA else f"{sensor.kind.value} sensor"
    return Found(
        sensor.place,
        f"no routine asks the {kind} `{sensor.name}`",
        "Perhaps a routine guesses with a timer what this sensor knows.",
        "Let a step wait for it, or delete its line if it is left over.",
        paste=(f"when {questions(sensor)[0]}, go to NextStep",),
    )
