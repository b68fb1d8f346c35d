"""What it finds
    A touch sensor on an even digital channel.

Why it matters on the field
    A digital plug carries two channels, an even one and the odd one above it. The common touch
    sensor uses only the wire of the odd one: on 0, 2, 4 or 6 it always reads released, and the
    robot pushes on against the wall. Common practice, no source.

Example
    robot example
    hub main
      digital 0 bumper touch

Instead
    robot example
    hub main
      digital 1 bumper touch
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.no_such_port import PORTS
from planner.checks.ports import devices, port_place
from planner.checks.words import mended_line
from planner.model.robot import SensorKind


def find(case: Case) -> Iterator[Found]:
    """Touch sensors whose channel their plug does not reach."""
    if case.plan is not None:
        return
    for sensor in case.robot.sensors.values():
        channel = sensor.plug.port
        if sensor.kind is not SensorKind.TOUCH or channel not in range(0, PORTS["digital"], 2):
            continue
        place = port_place(sensor)
        used = {d.plug.port for d in devices(case.robot) if d.plug.port_kind == "digital"}
        yield Found(
            place,
            f"the touch sensor `{sensor.name}` is on the even channel {channel}",
            "The usual touch sensor uses only the odd wire of its plug, so here it would read "
            "`released` for ever.",
            f"Leave the plug where it is and write {channel + 1}, in the hub's configuration too. "
            "If it is a switch of another make that uses the even wire, call it a `switch`, which "
            "answers `closed` and `open`.",
            paste=(mended_line(place, str(channel + 1)),) if channel + 1 not in used else (),
        )
