"""What it finds
    A reading that no routine asks, in a robot file checked along with its routines.

Why it matters on the field
    The team writes Java for it all the same. Perhaps a routine guesses with a timer what this
    reading knows.

Example
    robot example
    hub main
      motor 0 left_wheels
      digital 7 bumper touch
    mechanism drive
      uses left_wheels
      command forward(power %) runs
        left_wheels at power
      reading travelled cm from step start

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
    mechanism drive
      uses left_wheels
      command forward(power %) runs
        left_wheels at power
      reading travelled cm from step start

    routine ahead
    robot example
    limit 30 s
    start Ahead
    step Ahead
      drive forward 40 %
      when bumper pressed or drive travelled > 60 cm, go to Parked
      after 2 s, go to GiveUp
    finish Parked
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.usage import can_tell, gathered, used_readings
from planner.checks.words import listed
from planner.model.robot import Reading


def find(case: Case) -> Iterator[Found]:
    """Readings that no condition asks."""
    if not can_tell(case):
        return
    used = used_readings(case)
    unused = [
        reading
        for mechanism in case.robot.mechanisms.values()
        for reading in mechanism.readings.values()
        if (mechanism.name, reading.name) not in used
    ]
    names = listed(reading.spoken for reading in unused)
    yield from gathered([_found(reading) for reading in unused], f"no routine asks for {names}")


def _found(reading: Reading) -> Found:
    return Found(
        reading.place,
        f"no routine asks for `{reading.spoken}`",
        "Perhaps a routine guesses with a timer what this reading knows.",
        "Let a step wait for it, or delete it if it is left over.",
        paste=(f"when {reading.spoken} > 20 {reading.unit.name}, go to NextStep",),
    )
