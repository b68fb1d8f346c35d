"""What a reading says, in the words of a scenario."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.graph.unfold import Exit
from planner.model.condition import (
    Answers,
    Compare,
    Condition,
    Done,
    Reckoned,
    Steady,
    Unreadable,
    Within,
    leaves,
)
from planner.model.robot import STATES, Robot
from planner.model.units import Unit, decimal_text
from planner.rehearsal.conditions import Number

__all__ = ["DONE", "readings_of", "readings_of_exit", "spoken_fact", "spoken_number"]

DONE = " done"
"""Ends the name of the reading that says whether a mechanism is done."""


def spoken_fact(
    robot: Robot, reading: str, value: Number | str | bool | None, unit: Unit | None
) -> str:
    """A reading's value as a scenario says it, such as ``range_front is 7 cm``."""
    if value is None:
        return f"{reading} unreadable"
    if isinstance(value, bool):
        return reading if value else f"not {reading}"
    if isinstance(value, str):
        sees = "" if robot.sensors[reading].kind in STATES else "sees "
        return f"{reading} {sees}{value}"
    return f"{reading} is {spoken_number(value, unit)}"


def spoken_number(value: Number, unit: Unit | None) -> str:
    """A number in its unit, exact."""
    return f"{decimal_text(Fraction(value))} {unit.name if unit else ''}".rstrip()


def readings_of_exit(exit_: Exit) -> Iterator[str]:
    """The same for an exit; none for one that waits for time alone."""
    condition: Condition | None = getattr(exit_.written, "condition", None)
    if condition is not None:
        yield from readings_of(condition)


def readings_of(condition: Condition) -> Iterator[str]:
    """The names of the readings that a condition looks at, as written."""
    for leaf in leaves(condition):
        match leaf:
            case (
                Compare(source)
                | Within(source)
                | Steady(source)
                | Unreadable(source)
                | Reckoned(source)
            ):
                yield source.spoken
            case Answers(sensor):
                yield sensor.name
            case Done(mechanism):
                yield f"{mechanism.name}{DONE}"
            case _:
                pass
