"""What sensors say in an example, in words."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.checks.words import listed
from planner.graph.possible import Outcome
from planner.model.robot import Robot
from planner.model.units import Unit, seconds_text
from planner.rehearsal.facts import spoken_fact


def said_of(robot: Robot, outcome: Outcome) -> str:
    """The readings of an outcome as a scenario says them: ```range_front is 7 cm` ``."""
    return listed(_facts(robot, outcome), "and")


def _facts(robot: Robot, outcome: Outcome) -> Iterator[str]:
    units = {sensor.name: sensor.unit for sensor in robot.sensors.values()}
    for mechanism in robot.mechanisms.values():
        units.update((reading.spoken, reading.unit) for reading in mechanism.readings.values())
    for name, value in outcome.says.items():
        yield _fact(robot, name, value, units.get(name))


def _fact(robot: Robot, name: str, value: object, unit: Unit | None) -> str:
    if name == "match":
        assert isinstance(value, Fraction)
        return f"match at {seconds_text(int(value))}"
    if name.startswith("choice "):
        return f"{name} is {value}" if value else f"{name} is another"
    if name.startswith("lane "):
        return f"{name} in {value}" if value else f"{name} in another step"
    if name.startswith(("memory ", "counter ")):
        return f"{name} is {value}"
    if isinstance(value, Fraction):
        return spoken_fact(robot, name, value / unit.size if unit else value, unit)
    assert value is None or isinstance(value, str | bool)
    return spoken_fact(robot, name, value, unit)
