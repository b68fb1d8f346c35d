"""What can break on a robot: each thing that a routine asks, and the ways in which it fails.

The ways in which a thing fails (its *failure modes*: "manner in which failure occurs", IEV
192-03-17) are those of one look: a sensor that gives the same answer in every pass, or none; a
mechanism that never says it is done, or says so at once. A sensor that freezes on the way gives,
from then on, one of the answers that it can be stuck at.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from planner.graph.cells import Asked, holds, range_of, values_of
from planner.model.condition import (
    Answers,
    Compare,
    Condition,
    Done,
    Leaf,
    Reckoned,
    Source,
    Steady,
    Unreadable,
    Within,
    leaves,
    look_of,
)
from planner.model.memory import WordMemory
from planner.model.robot import STATES, Mechanism, Reading, Sensor
from planner.model.routine import Group, Routine, Step
from planner.model.units import decimal_text

Says: TypeAlias = "Fraction | str | bool | None"
"""What the plan is told in every pass: a number in the first unit of its dimension, a word, whether
a mechanism is done; None for nothing readable."""


_ABOUT_NUMBERS = Compare | Within | Steady | Unreadable


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing, and one way in which it fails."""

    item: str
    """As a plan names it: ``bumper``, ``drive travelled``, or the mechanism ``arm``."""
    mode: str
    """In words: ``stuck at pressed``, ``unplugged``, ``never done``."""
    says: Says

    def __str__(self) -> str:
        return f"{self.item} {self.mode}"


def faults_of(routine: Routine) -> tuple[Fault, ...]:
    """Every way in which something that the routine looks at can fail: by thing as first asked,
    then what it remembers and never asks."""
    by_item: dict[str, list[Leaf]] = {}
    for condition in conditions_of(routine):
        for leaf in leaves(condition):
            item = item_of(leaf)
            if item:
                by_item.setdefault(item, []).append(leaf)
    found = [fault for asked in by_item.values() for fault in _modes(asked)]
    only_remembered = {
        source.spoken: source for source in _remembered(routine) if source.spoken not in by_item
    }
    for source in only_remembered.values():
        found.extend(_source_modes(source, ()))
    return tuple(found)


def conditions_of(routine: Routine) -> Iterator[Condition]:
    """Every condition that the routine asks, its rules' first, then by step as written."""
    yield from (rule.condition for rule in routine.rules)
    owners: tuple[Group | Step, ...] = (*routine.groups.values(), *routine.steps.values())
    for owner in owners:
        yield from (rule.condition for rule in owner.rules)
        yield from (when.condition for when in owner.whens)


def item_of(leaf: Leaf) -> str:
    """The thing that a look looks at; empty for the clock and for what was chosen."""
    look = look_of(leaf)
    if look is None:
        return ""
    return look.name if isinstance(look, Mechanism) else look.spoken


def _modes(asked: Sequence[Leaf]) -> Iterator[Fault]:
    """The ways in which the one thing that all these look at can fail."""
    item = item_of(asked[0])
    if isinstance(asked[0], Done):
        yield Fault(item, "never done", False)
        yield Fault(item, "done at once", True)
        return
    looks = [leaf for leaf in asked if isinstance(leaf, Compare | Within | Answers | Unreadable)]
    sources = (
        leaf.sensor if isinstance(leaf, Answers) else leaf.source
        for leaf in asked
        if isinstance(leaf, Answers | Compare | Within | Steady | Unreadable | Reckoned)
    )
    yield from _source_modes(next(sources), looks)


def _remembered(routine: Routine) -> Iterator[Source]:
    """What is looked at to remember it: by cameras before the start, then when steps are left."""
    for memory in routine.memories.values():
        if isinstance(memory, WordMemory) and memory.seen_by is not None:
            yield memory.seen_by
    owners: tuple[Group | Step, ...] = (*routine.groups.values(), *routine.steps.values())
    for owner in owners:
        for line in owner.remembers:
            yield from line.readings


def _source_modes(source: Source, looks: Sequence[Asked]) -> Iterator[Fault]:
    if isinstance(source, Sensor) and source.values:
        yield from _word_modes(source)
        return
    yield from _number_modes(source, looks)
    yield Fault(source.spoken, "unplugged or out of range", None)


def _word_modes(sensor: Sensor) -> Iterator[Fault]:
    """Stuck at each answer; an open input reads high, which is one of a switch's two answers."""
    digital = sensor.kind in STATES
    unplugged = sensor.values[0 if sensor.active_high else 1] if digital else ""
    for value in sensor.values:
        also = " or unplugged" if value == unplugged else ""
        yield Fault(sensor.spoken, f"stuck at {value}{also}", value)
    if not digital:
        yield Fault(sensor.spoken, "unplugged", None)


def _number_modes(source: Source, asked: Sequence[Asked]) -> Iterator[Fault]:
    """Stuck at a number out of each set that the plan's questions cannot tell apart."""
    if isinstance(source, Reading) and source.from_step_start:
        yield Fault(source.spoken, "does not count", Fraction(0))
        return
    told: dict[tuple[bool | None, ...], Fraction] = {}
    for value in values_of(asked) if asked else [_nearest_to_zero(source)]:
        if isinstance(value, Fraction):
            answers = tuple(holds(leaf, value) for leaf in asked)
            told[answers] = min(told.get(answers, value), value, key=_length)
    for value in sorted(told.values()):
        unit = source.unit
        shown = f"{decimal_text(value / unit.size)} {unit.name}" if unit else decimal_text(value)
        yield Fault(source.spoken, f"stuck at {shown}", value)


def _nearest_to_zero(source: Source) -> Fraction:
    low, high = range_of(source)
    value = Fraction(0) if low is None else max(low, Fraction(0))
    return value if high is None else min(high, value)


def _length(value: Fraction) -> int:
    """How long a number is to read."""
    return len(decimal_text(value))
