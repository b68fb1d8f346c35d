"""What is set twice in one place: a mechanism in a step, an output in a command."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.checks.case import Case
from planner.checks.sides import siblings
from planner.model.robot import Robot
from planner.model.routine import Routine
from planner.text import Place


@dataclass(frozen=True, slots=True)
class Double:
    """Two lines for one mechanism or output, where only the last of all counts."""

    name: str
    first: Place
    again: Place
    where: str
    """The step, or the command with its mechanism, that both stand in."""
    step: str
    """The step; empty where they stand in a command of the robot file."""
    left_out: str
    """A name that differs only by a side and is not set there; empty where there is none."""


def doubles(case: Case) -> Iterator[Double]:
    """Each line that sets again what a line before it sets, in the order of the text."""
    if case.plan is None:
        yield from _in_robot(case.robot)
    else:
        yield from _in_routine(case.plan.routine)


def _in_routine(routine: Routine) -> Iterator[Double]:
    for step in routine.steps.values():
        lines = [(given.mechanism.name, given.place) for given in step.commands]
        known = () if step.incomplete else tuple(routine.robot.mechanisms)
        yield from _twice(lines, known, step.name, step.name)


def _in_robot(robot: Robot) -> Iterator[Double]:
    for mechanism in robot.mechanisms.values():
        # A line that could not be read may be the one for the other side.
        known = tuple(o.name for o in mechanism.outputs if o.name not in robot.broken_words)
        for command in mechanism.commands.values():
            lines = [(action.output.name, action.place) for action in command.actions]
            yield from _twice(lines, known, f"{mechanism.name} {command.name}", "")


def _twice(
    lines: list[tuple[str, Place]], known: tuple[str, ...], where: str, step: str
) -> Iterator[Double]:
    if len({name for name, _ in lines}) == len(lines):
        return
    before: dict[str, Place] = {}
    free = [name for name in known if name not in {name for name, _ in lines}]
    for name, place in lines:
        if name not in before:
            before[name] = place
            continue
        left_out = next(iter(siblings(name, free)), "")
        if left_out:
            free.remove(left_out)
        yield Double(name, before[name], place, where, step, left_out)
        before[name] = place
