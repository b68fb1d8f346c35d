"""What it finds
    Two devices on one port.

Why it matters on the field
    Only one plug fits. Either the robot is wired in another way than the file says, or one of the
    two does what the other is told. The encoder of a motor has the motor's own number, which is no
    clash, and an i2c bus may carry several devices.

Example
    robot example
    hub main
      motor 0 left_wheels
      motor 0 right_wheels
    mechanism drive
      uses left_wheels, right_wheels

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
from planner.checks.no_such_port import PORTS
from planner.checks.ports import Device, devices, port_place, unclear_hubs
from planner.checks.words import listed, mended_line
from planner.findings import Related
from planner.model.robot import Sensor, SensorKind


def find(case: Case) -> Iterator[Found]:
    """Devices whose port an earlier line has given away."""
    if case.plan is not None:
        return
    taken: dict[tuple[str, str, int], Device] = {}
    unclear = unclear_hubs(case.slips)
    for device in devices(case.robot):
        plug = device.plug
        key = (plug.hub, plug.port_kind, plug.port)
        if plug.port_kind == "i2c" or plug.port < 0 or plug.hub in unclear:
            continue
        first = taken.setdefault(key, device)
        if first is not device:
            yield _found(case, first, device)


def _found(case: Case, first: Device, second: Device) -> Found:
    plug = second.plug
    place = port_place(second)
    used = {
        d.plug.port
        for d in devices(case.robot)
        if (d.plug.hub, d.plug.port_kind) == (plug.hub, plug.port_kind)
    }
    free = [str(port) for port in range(PORTS[plug.port_kind]) if port not in used]
    if isinstance(second, Sensor) and second.kind is SensorKind.TOUCH:
        # The usual touch sensor uses the odd wire of its plug.
        free = [port for port in free if int(port) % 2]
    left = f"Free are {listed(free, 'and')}." if free else "None of the others is free."
    return Found(
        place,
        f"{plug.port_kind} port {plug.port} of hub `{plug.hub}` has two devices, "
        f"`{first.name}` and `{second.name}`",
        "Only one plug fits, so one of them is wired in another way than this file says.",
        f"Look at the robot, and write the port that `{second.name}` is really in. {left}",
        paste=(mended_line(place, free[0]),) if free else (),
        related=(Related(first.place, f"`{first.name}` has the port already"),),
    )
