"""What it finds
    Two i2c devices with one address on one bus, or two of one kind that leave their address to the
    factory.

Why it matters on the field
    Both answer at the same time, and the hub reads nonsense from either. Sensors of one kind come
    from the factory with the same address.

Example
    robot example
    hub main
      i2c 1 range_left distance
      i2c 1 range_right distance

Instead
    robot example
    hub main
      i2c 1 range_left distance
      i2c 2 range_right distance
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.no_such_port import PORTS
from planner.checks.ports import devices, port_place, unclear_hubs
from planner.checks.words import mended_line
from planner.findings import Related
from planner.model import Robot
from planner.model.robot import Sensor


def find(case: Case) -> Iterator[Found]:
    """Devices that answer to an address an earlier line has given away on their bus."""
    if case.plan is not None:
        return
    taken: dict[tuple[str, int, str], Sensor] = {}
    unclear = unclear_hubs(case.slips)
    for device in devices(case.robot):
        plug = device.plug
        if plug.port_kind != "i2c" or plug.port < 0 or plug.hub in unclear:
            continue
        assert isinstance(device, Sensor), "the language has only sensors on i2c"
        first = taken.setdefault((plug.hub, plug.port, _address(device)), device)
        if first is not device:
            yield _found(case.robot, first, device)


def _address(sensor: Sensor) -> str:
    """The address as written, or the kind for one that leaves it to the factory."""
    return sensor.kind.value if sensor.plug.address is None else f"0x{sensor.plug.address:02X}"


def _found(robot: Robot, first: Sensor, second: Sensor) -> Found:
    bus = second.plug.port
    place = port_place(second)
    what = (
        f"are both {second.kind.value} sensors with the factory's address"
        if second.plug.address is None
        else f"both have the address `{_address(second)}`"
    )
    used = {d.plug.port for d in devices(robot)
            if (d.plug.hub, d.plug.port_kind) == (second.plug.hub, "i2c")}  # fmt: skip
    free = [str(port) for port in range(PORTS["i2c"]) if port not in used]
    return Found(
        place,
        f"`{first.name}` and `{second.name}` share i2c bus {bus} and {what}",
        "Both would answer at once, and the hub would read nonsense from either.",
        f"Plug `{second.name}` into another bus, or give it an address of its own if it can have "
        "one.",
        paste=(mended_line(place, free[0]),) if free else (),
        related=(Related(first.place, f"`{first.name}` is on the bus already"),),
    )
