"""The readings of a plan as a student handles them: what they can be set to, and with which key."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from string import ascii_lowercase

from planner.graph import Plan
from planner.graph.owners import remembered_in
from planner.model.condition import Source
from planner.model.memory import WordMemory
from planner.model.robot import Bounds, Robot
from planner.model.units import Amount, Unit
from planner.rehearsal.facts import DONE, readings_of, readings_of_exit
from planner.rehearsal.world import Value


@dataclass(frozen=True, slots=True)
class Handle:
    """A reading that can be set by hand."""

    reading: str
    key: str = ""
    """One letter that stands for its name; empty where the letters have run out."""
    words: tuple[str, ...] = ()
    """What it can answer; empty for a number and for done."""
    unit: Unit | None = None
    bounds: Bounds | None = None
    used: bool = False
    """Whether the plan looks at it."""

    @property
    def is_done(self) -> bool:
        """Whether it says that a mechanism is done."""
        return not self.words and self.unit is None

    def remark(self, value: Value) -> str:
        """What is to be said about a value: that it lies outside of what the plan can read."""
        if self.bounds is None or not isinstance(value, Amount):
            return ""
        low, high = self.bounds.low, self.bounds.high
        if low.base <= value.base <= high.base:
            return ""
        return (
            f"{value} is outside of {low} to {high}, the range of `{self.reading}`, "
            "so the plan cannot read it."
        )


def handles(plan: Plan) -> tuple[Handle, ...]:
    """All readings of the plan's robot, those that its steps wait for first and in their order."""
    of_robot = {handle.reading: handle for handle in _of_robot(plan.routine.robot)}
    waited_for = list(_waited_for(plan))
    used = [
        replace(of_robot[name], used=True) for name in dict.fromkeys(waited_for) if name in of_robot
    ]
    rest = [handle for name, handle in of_robot.items() if name not in waited_for]
    return tuple(_with_keys([*used, *rest]))


def _waited_for(plan: Plan) -> Iterator[str]:
    """What exits and side rules look at, and what is remembered."""
    for exit_ in plan.all_exits():
        yield from readings_of_exit(exit_)
    routine = plan.routine
    rules = [*routine.rules]
    for owners in (routine.steps, routine.groups):
        rules += [rule for owner in owners.values() for rule in owner.rules]
    for rule in rules:
        yield from readings_of(rule.condition)
    for remember, _ in remembered_in(routine):
        yield from (source.spoken for source in remember.readings)
    for memory in routine.memories.values():
        if isinstance(memory, WordMemory) and memory.seen_by:
            yield memory.seen_by.name


def _of_robot(robot: Robot) -> Iterator[Handle]:
    for sensor in robot.sensors.values():
        yield Handle(sensor.name, words=sensor.values) if sensor.values else _number(sensor)
    for mechanism in robot.mechanisms.values():
        if mechanism.reports_done:
            yield Handle(f"{mechanism.name}{DONE}")
        yield from map(_number, mechanism.readings.values())


def _number(source: Source) -> Handle:
    return Handle(source.spoken, unit=source.unit, bounds=source.bounds)


def keys_for(names: Sequence[str]) -> Iterator[str]:
    """For each the first letter of its name that is free, else any letter that is."""
    # A name of one letter is its own key.
    taken = {name for name in names if len(name) == 1}
    for name in names:
        key = name if name in taken else _key(name, taken)
        taken.add(key)
        yield key


def _with_keys(all_: list[Handle]) -> Iterator[Handle]:
    keys = keys_for([handle.reading for handle in all_])
    return (replace(handle, key=key) for handle, key in zip(all_, keys, strict=True))


def _key(name: str, taken: set[str]) -> str:
    parts = name.lower().replace("_", " ").split()
    letters = [part[0] for part in parts] + [letter for part in parts for letter in part[1:]]
    wanted = [letter for letter in letters if letter in ascii_lowercase]
    return next((key for key in (*wanted, *ascii_lowercase) if key not in taken), "")
