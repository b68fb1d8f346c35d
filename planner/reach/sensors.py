"""What the sensors of a picked run say, pass after pass."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from typing import TypeAlias

from planner.graph import Plan
from planner.graph.owners import groups_left
from planner.graph.unfold import Exit
from planner.model.condition import Leaf, Source, leaves
from planner.model.robot import STATES, UNSURE, Robot
from planner.model.routine import WhenExit
from planner.reach.glances import Key
from planner.reach.saying import Value, answer, counts_from_entry, reading_of, values_for

Said: TypeAlias = Mapping[str, Value]
"""What the sensors say in one pass, by the name a plan uses; numbers in the sensor's own unit,
those that count from a step's start from wherever the mechanism counts."""


class Sensors:
    """At first nothing is pressed, closed, broken or done; then what passes are to find."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        robot = plan.routine.robot
        self._asked = _asked_counts(plan)
        self._counted = dict.fromkeys(_counting(robot), Fraction(0))
        self._now: dict[str, Value] = {**_resting(robot), **self._counted}
        self._entries: dict[str, dict[str, Fraction]] = {}
        self.shown: dict[str, Value] = {}
        """The same as the plan sees it, which counts some readings from a step's start."""

    def said(self, found: Iterable[Mapping[Key, Value]]) -> Said:
        """What they say in a pass in which the active steps find this; the later if they differ."""
        together = {key: value for values in found for key, value in values.items()}
        for (name, owner), value in self._fitting(together).items():
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

    def _fitting(self, found: Mapping[Key, Value]) -> dict[Key, Value]:
        """The same, but one count for all that count from different entries, if one will do."""
        fitting = dict(found)
        for name in self._counted:
            keys = [key for key in found if key[0] == name and isinstance(found[key], Fraction)]
            count = self._count_for(keys, found) if len(keys) > 1 else None
            if count is not None:
                fitting.update((key, count - self._begun(key)) for key in keys)
        return fitting

    def _count_for(self, keys: list[Key], found: Mapping[Key, Value]) -> Fraction | None:
        """A count, in the first unit of its dimension, that answers all as what was found does."""

        def answers(key: Key, value: Value) -> list[int]:
            return [answer(leaf, value) for leaf in self._asked.get(key, ())]

        for one in keys:
            for value in (found[one], *values_for(self._asked.get(one, ()))):
                if not isinstance(value, Fraction):
                    continue
                count = value + self._begun(one)
                if all(answers(k, count - self._begun(k)) == answers(k, found[k]) for k in keys):
                    return count
        return None

    def _begun(self, key: Key) -> Fraction:
        """The count at the entry from which it is counted, in the first unit of its dimension."""
        name, owner = key
        source = _source(self._plan.routine.robot, name)
        begun = self._entries.get(owner, {}).get(name, Fraction(0))
        return begun * source.unit.size if source and source.unit else begun

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


def _asked_counts(plan: Plan) -> dict[Key, list[Leaf]]:
    """What is asked of each reading that counts from the entry to a step or group."""
    found: dict[Key, list[Leaf]] = {}
    for exit_ in plan.all_exits():
        if isinstance(exit_.written, WhenExit):
            for leaf in leaves(exit_.written.condition):
                if counts_from_entry(leaf):
                    key = (reading_of(leaf), exit_.group or exit_.source)
                    found.setdefault(key, []).append(leaf)
    return found


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
