"""What it finds
    A device on a port that the hub does not have.

Why it matters on the field
    There is nowhere to plug it in, so the hub's configuration and the robot file tell two different
    stories. A hub has motor ports and encoders 0 to 3, servo ports 0 to 5, digital channels 0 to 7,
    analog channels 0 to 3 and i2c buses 0 to 3. Common practice, no source.

Example
    robot example
    hub main
      motor 4 arm_motor
    mechanism arm
      uses arm_motor

Instead
    robot example
    hub main
      motor 3 arm_motor
    mechanism arm
      uses arm_motor
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.ports import devices, port_place
from planner.text import Place

# Common practice, no source.
PORTS = {"motor": 4, "encoder": 4, "servo": 6, "digital": 8, "analog": 4, "i2c": 4}


def find(case: Case) -> Iterator[Found]:
    """Ports that are no number, and numbers that no port has."""
    if case.plan is not None:
        return
    for slip in case.slips_of("no-such-port"):
        yield _found(slip.place, slip.word, slip.facts["kind"])
    for device in devices(case.robot):
        plug = device.plug
        if plug.port >= PORTS[plug.port_kind]:
            yield _found(port_place(device), str(plug.port), plug.port_kind)


def _found(place: Place, port: str, kind: str) -> Found:
    last = PORTS[kind] - 1
    return Found(
        place,
        f"a hub has no {kind} port `{port}`",
        "There is nowhere to plug the device in.",
        f"The {kind} ports are 0 to {last}; read the number printed beside the plug.",
    )
