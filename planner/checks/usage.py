"""What the routines of a robot use of it; shared by the checks of what nobody uses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.checks.case import Case, Found
from planner.graph.owners import given_in, owners, remembered_in
from planner.model.condition import (
    Answers,
    Compare,
    Reckoned,
    Steady,
    Unreadable,
    Within,
    leaves,
)
from planner.model.memory import WordMemory
from planner.model.robot import Reading, Sensor, SensorKind
from planner.model.routine import Routine

# Sensors that the team's own code in a mechanism reads to do its commands.
_SERVING = (SensorKind.HEADING, SensorKind.ENCODER)


def can_tell(case: Case) -> bool:
    """Whether something that no routine mentions is certainly not used.

    So it is for a robot file checked along with at least one routine, all of them read whole.
    """
    mine = routines_of(case)
    return case.plan is None and bool(mine) and not any(_partly_read(routine) for routine in mine)


def routines_of(case: Case) -> tuple[Routine, ...]:
    """The routines for the robot of a case."""
    return tuple(r for r in case.routines if r.robot.name == case.robot.name)


def used_sensors(case: Case) -> set[str]:
    """Names of sensors that a condition asks, or that serve a mechanism."""
    used = {
        sensor.name
        for mechanism in case.robot.mechanisms.values()
        for sensor in mechanism.sensors
        if sensor.kind in _SERVING
    }
    for source in _asked(case):
        if isinstance(source, Sensor):
            used.add(source.name)
    return used


def used_readings(case: Case) -> set[tuple[str, str]]:
    """Mechanism and name of the readings that a condition asks."""
    return {(s.mechanism, s.name) for s in _asked(case) if isinstance(s, Reading)}


def used_commands(case: Case) -> set[tuple[str, str]]:
    """Mechanism and name of the commands that a step or a side rule gives."""
    return {
        (given.mechanism.name, given.command.name)
        for routine in routines_of(case)
        for given, _ in given_in(routine)
    }


def gathered(found: list[Found], headline: str) -> Iterator[Found]:
    """Up to two findings as they are, more as one that names them all.

    A robot file is whole on the first day of the season, when one routine is written.
    """
    if len(found) <= 2:
        yield from found
    else:
        yield replace(found[0], headline=headline, paste=())


def _partly_read(routine: Routine) -> bool:
    partly = any(owner.incomplete for owner in owners(routine))
    return partly or routine.incomplete or routine.robot.missing


def _asked(case: Case) -> Iterator[Sensor | Reading]:
    every = (owner for routine in routines_of(case) for owner in owners(routine))
    for condition in (condition for owner in every for condition, _ in owner.conditions):
        for leaf in leaves(condition):
            if isinstance(leaf, Compare | Within | Steady | Unreadable | Reckoned):
                yield leaf.source
            elif isinstance(leaf, Answers):
                yield leaf.sensor
    for routine in routines_of(case):
        for remember, _ in remembered_in(routine):
            yield from remember.readings
        for memory in routine.memories.values():
            if isinstance(memory, WordMemory) and memory.seen_by:
                yield memory.seen_by
