"""What the sensors say in a rehearsed run: the side of the table the machine does not know."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from copy import copy
from types import MappingProxyType

from planner.graph.run import Commanded, Entered, Event
from planner.model.condition import Source
from planner.model.robot import STATES, UNSURE, Reading, Robot
from planner.model.units import Amount, Unit
from planner.rehearsal.conditions import Number, Readings

Value = Amount | str | bool | None
"""What a reading can be set to; None where it cannot be had."""


class World:
    """The readings of a robot, as they are set by hand or by a scenario.

    At first every touch sensor is released, every switch open, every beam clear, no mechanism is
    done, cameras and colour sensors are unsure, and no number can be had. A mechanism that is sent
    a command is not done any more. A reading from the step's start is set as a plan sees it: it is
    0 on entry to a step, where it could be had before; `kept` names, by step, those that are not.
    """

    def __init__(
        self, robot: Robot, kept: Mapping[str, frozenset[str]] = MappingProxyType({})
    ) -> None:
        self._kept = kept
        self._units: dict[str, Unit] = {}
        self._from_start: set[str] = set()
        self._seen: dict[str, Number | str | bool | None] = {}
        self._offset: dict[str, Number] = {}
        for sensor in robot.sensors.values():
            resting = STATES[sensor.kind][1] if sensor.kind in STATES else None
            self._seen[sensor.name] = resting or (UNSURE if sensor.values else None)
            self._add(sensor)
        for mechanism in robot.mechanisms.values():
            if mechanism.reports_done:
                self._seen[f"{mechanism.name} done"] = False
            for reading in mechanism.readings.values():
                self._seen[reading.spoken] = None
                self._add(reading)

    def _add(self, source: Source) -> None:
        if source.unit is not None:
            self._units[source.spoken] = source.unit
        if isinstance(source, Reading) and source.from_step_start:
            self._from_start.add(source.spoken)
            # It counts from the first step's start like from any other.
            self._seen[source.spoken] = self._offset[source.spoken] = 0

    def set(self, reading: str, value: Value) -> None:
        """Lets a reading give a value from now on."""
        if isinstance(value, Amount):
            self._seen[reading] = _plain(value, self._units[reading])
        else:
            self._seen[reading] = value

    def shown(self, reading: str) -> Number | str | bool | None:
        """What a plan would see of a reading: a number in the reading's own unit."""
        return self._seen.get(reading)

    def all_shown(self) -> Readings:
        """What a plan would see of every reading, by name."""
        return dict(self._seen)

    def unit(self, reading: str) -> Unit | None:
        """The unit of a reading's number; None for one that answers in words."""
        return self._units.get(reading)

    def copy(self) -> World:
        """A world that later changes leave alone."""
        twin = copy(self)
        twin._seen, twin._offset = dict(self._seen), dict(self._offset)
        return twin

    def readings(self) -> Readings:
        """What the machine is handed; readings from the step's start count on from step to step."""
        if not self._from_start:
            return dict(self._seen)
        counted = {name: self._counted(name) for name in self._from_start}
        return {**self._seen, **counted}

    def _counted(self, name: str) -> Number | None:
        value = self._seen[name]
        if value is None or isinstance(value, str | bool):
            return None
        return self._offset[name] + value

    def take(self, events: Iterable[Event]) -> None:
        """Lets the world follow what the machine did in a pass."""
        for event in events:
            if isinstance(event, Commanded) and f"{event.mechanism} done" in self._seen:
                self._seen[f"{event.mechanism} done"] = False
            elif isinstance(event, Entered):
                for name in self._from_start - self._kept.get(event.step, frozenset()):
                    self._start_again(name)

    def _start_again(self, name: str) -> None:
        counted = self._counted(name)
        if counted is not None:
            self._offset[name], self._seen[name] = counted, 0


def _plain(amount: Amount, unit: Unit) -> Number:
    number = amount.in_unit(unit)
    return number.numerator if number.denominator == 1 else number
