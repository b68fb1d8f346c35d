"""The devices of a robot by where they are plugged in; shared by the checks of the wiring."""

from __future__ import annotations

import re
from typing import TypeAlias

from planner.findings import Slip
from planner.model import Robot
from planner.model.robot import Output, Sensor
from planner.text import Place

Device: TypeAlias = Sensor | Output

_PORT = re.compile(r"\d+")


def devices(robot: Robot) -> list[Device]:
    """All that is plugged into a hub, as written. A camera is on no hub."""
    every: list[Device] = [*robot.sensors.values(), *robot.outputs.values()]
    return sorted((d for d in every if d.plug.hub), key=lambda device: device.place.order)


def port_place(device: Device) -> Place:
    """Where a device's line says the number of its port."""
    place = device.place
    found = list(_PORT.finditer(place.line_text, 0, place.column - 1))
    if not found:
        return place
    return Place(place.source, place.line, found[-1].start() + 1, found[-1].end() + 1)


def unclear_hubs(slips: tuple[Slip, ...]) -> set[str]:
    """Names that stand for two hubs: whose port is whose cannot be told."""
    return {
        slip.word
        for slip in slips
        if slip.check == "name-used-twice" and slip.facts.get("what") == "hub"
    }
