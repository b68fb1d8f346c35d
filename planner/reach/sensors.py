"""What the sensors of a picked run say, pass after pass."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from typing import TypeAlias

from planner.graph import Plan
from planner.graph.owners import groups_left
from planner.graph.unfold import Exit
from planner.model.condition import Source
from planner.model.robot import STATES, UNSURE, Robot
from planner.reach.glances import Glance
from planner.reach.saying import Value

Said: TypeAlias = Mapping[str, Value]
"""What the sensors say in one pass, by the name a plan uses; numbers in the sensor's own unit,
those that count from a step's start from wherever the mechanism counts."""


class Sensors:
    """At first nothing is pressed, closed, broken or done; then what passes are to find."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        robot = plan.routine.robot
        self._counted = dict.fromkeys(_counting(robot), Fraction(0))
        self._now: dict[str, Value] = {**_resting(robot), **self._counted}
        self._entries: dict[str, dict[str, Fraction]] = {}
        self.shown: dict[str, Value] = {}
        """The same as the plan sees it, which counts some readings from a step's start."""

    def said(self, glances: Iterable[Glance | None]) -> Said:
        """What they say in a pass in which the active steps find this."""
        for glance in glances:
            for (name, owner), value in glance.values.items() if glance else ():
                self._now[name] = self._own(name, owner, value)
                self.shown[name] = self._in_own_unit(name, value)
        return dict(self._now)

    def entered(self, steps: Iterable[str], exits: Iterable[Exit]) -> None:
        """Lets readings count from here for the steps, and for the groups, that are entered."""
        for exit_ in exits:
            for left in groups_left(self._plan, exit_):
                self._entries.pop(left, None)
        for step in steps:
            self._entries[step] = dict(self._counted)
            for group in self._plan.routine.groups_around(step):
                self._entries.setdefault(group.name, dict(self._counted))

    def _own(self, name: str, owner: str, value: Value) -> Value:
        """A value as the machine is handed it."""
        number = self._in_own_unit(name, value)
        if isinstance(number, Fraction) and name in self._counted:
            number += self._entries.get(owner, {}).get(name, Fraction(0))
            self._counted[name] = number
        return number

    def _in_own_unit(self, name: str, value: Value) -> Value:
        source = _source(self._plan.routine.robot, name)
        if not isinstance(value, Fraction) or source is None or source.unit is None:
            return value
        return value / source.unit.size


def _source(robot: Robot, name: str) -> Source | None:
    if name in robot.sensors:
        return robot.sensors[name]
    mechanism, _, reading = name.partition(" ")
    own = robot.mechanisms.get(mechanism)
    return own.readings.get(reading) if own else None


def _counting(robot: Robot) -> Iterator[str]:
    for mechanism in robot.mechanisms.values():
        for reading in mechanism.readings.values():
            if reading.from_step_start:
                yield reading.spoken


def _resting(robot: Robot) -> dict[str, Value]:
    said: dict[str, Value] = {}
    for sensor in robot.sensors.values():
        states = STATES.get(sensor.kind)
        said[sensor.name] = states[1] if states else UNSURE if sensor.values else None
    for mechanism in robot.mechanisms.values():
        if mechanism.reports_done:
            said[f"{mechanism.name} done"] = False
    return said
