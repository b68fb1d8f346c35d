"""What the sensors say in a rehearsed run: the side of the table the machine does not know."""

from __future__ import annotations

from collections.abc import Iterable
from copy import copy

from planner.graph.run import Commanded, Entered, Event
from planner.model.condition import Source
from planner.model.robot import STATES, UNSURE, Reading, Robot
from planner.model.units import Amount, Unit
from planner.rehearsal.conditions import Number, Readings
from planner.rehearsal.lanes import LaneView

_NO_LANES = LaneView()

Value = Amount | str | bool | None
"""What a reading can be set to; None where it cannot be had."""


class World:
    """The readings of a robot, as they are set by hand or by a scenario.

    At first every touch sensor is released, every switch open, every beam clear, no mechanism is
    done, cameras and colour sensors are unsure, and no number can be had. A mechanism that is sent
    a command is not done any more. A reading from the step's start is set as a plan sees it: it is
    0 on entry to a step, where it could be had before. While lanes run, it is as a step of one
    lane sees it, and goes on when another lane moves.
    """

    def __init__(self, robot: Robot, lanes: LaneView = _NO_LANES) -> None:
        self._lanes = lanes
        self._viewer: dict[str, str] = {}
        """By reading from the step's start, the lane as whose step sees it the value is shown."""
        self._begun: dict[tuple[str, str], Number] = {}
        """By lane and such reading, its count when the lane's step was entered."""
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

    def set(self, reading: str, value: Value, lane: str = "") -> None:
        """Lets a reading give a value from now on, as the active step of a lane sees it."""
        if lane and reading in self._from_start:
            self._viewer[reading] = lane
            self._offset[reading] = self._begun.get((lane, reading), self._offset[reading])
        if isinstance(value, Amount):
            self._seen[reading] = _plain(value, self._units[reading])
        else:
            self._seen[reading] = value

    def seen_as(
        self, reading: str, handed: Number | str | bool | None, lane: str = ""
    ) -> Number | str | bool | None:
        """What the active step of a lane sees where the machine is handed that value."""
        if reading not in self._from_start or handed is None or isinstance(handed, str | bool):
            return handed
        offset = self._offset[reading]
        return handed - (self._begun.get((lane, reading), offset) if lane else offset)

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
        twin._viewer, twin._begun = dict(self._viewer), dict(self._begun)
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
                self._enter(event.step)

    def _enter(self, step: str) -> None:
        lane = self._lanes.of(step)
        if not lane:
            self._viewer = dict(self._lanes.asks.get(step, {}))
            self._begun.clear()
        for name in self._from_start:
            counted = self._counted(name)
            if lane and counted is not None:
                self._begun[lane, name] = counted
            if not lane or self._viewer.get(name, lane) == lane:
                self._start_again(name)

    def _start_again(self, name: str) -> None:
        counted = self._counted(name)
        if counted is not None:
            self._offset[name], self._seen[name] = counted, 0


def _plain(amount: Amount, unit: Unit) -> Number:
    number = amount.in_unit(unit)
    return number.numerator if number.denominator == 1 else number
