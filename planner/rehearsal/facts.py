"""What a reading says, in the words of a scenario."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.graph import Plan
from planner.graph.unfold import Exit
from planner.model.condition import (
    Condition,
    leaves,
    look_of,
)
from planner.model.robot import STATES, Mechanism, Robot
from planner.model.units import Unit, decimal_text
from planner.rehearsal.conditions import Number

__all__ = [
    "DONE",
    "fact",
    "readings_of",
    "readings_of_exit",
    "reason",
    "spoken_fact",
    "spoken_number",
    "unit_of",
]

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


def fact(plan: Plan, reading: str, value: Number | str | bool | None) -> str:
    """One reading and what it says, a number to hundredths."""
    if value is not None and not isinstance(value, bool | str):
        value = round(Fraction(value), 2)
    return spoken_fact(plan.routine.robot, reading, value, unit_of(plan, reading))


def unit_of(plan: Plan, reading: str) -> Unit | None:
    """The unit of a reading's number; None for one that answers in words."""
    robot = plan.routine.robot
    if reading in robot.sensors:
        return robot.sensors[reading].unit
    mechanism, _, name = reading.partition(" ")
    own = robot.mechanisms.get(mechanism)
    return own.readings[name].unit if own and name in own.readings else None


def reason(exit_: Exit) -> str:
    """Why an exit is taken, as it is written: ``bumper pressed``, ``after 4 s``."""
    # The line itself is shown, so that every statement a plan may hold is told in its own words.
    words = " ".join(exit_.place.words.split())
    front = words.partition(", go to ")[0].partition(", expect ")[0]
    counted_out = ", for which the count has run out" if exit_.overflow else ""
    return front.removeprefix("when ") + counted_out


def readings_of_exit(exit_: Exit) -> Iterator[str]:
    """The same for an exit; none for one that waits for time alone."""
    condition: Condition | None = getattr(exit_.written, "condition", None)
    if condition is not None:
        yield from readings_of(condition)


def readings_of(condition: Condition) -> Iterator[str]:
    """The names of the readings that a condition looks at, as written."""
    for leaf in leaves(condition):
        look = look_of(leaf)
        if isinstance(look, Mechanism):
            yield f"{look.name}{DONE}"
        elif look:
            yield look.spoken
