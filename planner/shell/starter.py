"""A first routine, or a first task, for a robot that is there already."""

from __future__ import annotations

from planner.model import Robot
from planner.model.robot import STATES, Command, Mechanism, Sensor
from planner.model.units import Dimension


def starter(name: str, robot: Robot) -> str:
    """The text of a small routine on a robot's own names: move until a sensor speaks, then stop.

    Where the robot has nothing that runs, or no sensor with two states, it leaves that out.
    """
    move, wait = _move(robot), _wait(robot)
    lines = [
        f"routine {name}",
        f"robot {robot.name}",
        "limit 30 s",
        "",
        "start Approach",
        "",
        'step Approach "the first move"',
        *([f"  {move}"] if move and wait else []),
        *([f"  when {wait}, go to Arrived"] if wait else []),
        "  after 3 s, go to GiveUp" if wait else "  after 1 s, go to Arrived",
        "",
        "finish Arrived",
        *(["", 'finish GiveUp "stand still"'] if wait else []),
    ]
    return "\n".join(lines) + "\n"


def starter_tasks(name: str, robot: Robot) -> str:
    """The text of a file with one small task on a robot's own names, as `starter` has one step."""
    move, wait = _move(robot), _wait(robot)
    lines = [
        f"tasks {name}",
        f"robot {robot.name}",
        "",
        f"task {FIRST_TASK} ends {FIRST_END}{', lost' if wait else ''}",
        '  step Move "the first move"',
        *([f"    {move}"] if move and wait else []),
        *([f"    when {wait}, go to {FIRST_END}"] if wait else []),
        "    after 3 s, go to lost" if wait else f"    after 1 s, go to {FIRST_END}",
    ]
    return "\n".join(lines) + "\n"


FIRST_TASK, FIRST_END = "get_there", "there"
"""The task of a new file of tasks, and its first outcome."""


def _move(robot: Robot) -> str:
    """The first command that runs and takes a power or nothing; empty where there is none."""
    for mechanism in robot.mechanisms.values():
        for command in mechanism.commands.values():
            if mechanism.moves and command.runs and _is_plain(command):
                return _told(mechanism, command)
    return ""


def _is_plain(command: Command) -> bool:
    return all(parameter.unit.dimension is Dimension.SHARE for parameter in command.parameters)


def _told(mechanism: Mechanism, command: Command) -> str:
    powers = ", ".join("30 %" for _ in command.parameters)
    return f"{mechanism.name} {command.name} {powers}".rstrip()


def _wait(robot: Robot) -> str:
    """A sensor with two states in the state that is worth waiting for; empty where none is."""
    sensor: Sensor | None = next((s for s in robot.sensors.values() if s.kind in STATES), None)
    return f"{sensor.name} {sensor.values[0]}" if sensor else ""
