"""What it finds
    A command with a power of 0 %: `drive forward 0 %`, or a motor that is to run to a place at 0 %.

Why it matters on the field
    Nothing moves. A step that waits for the move to be over waits until its time limit.

Example
    start Approach
    step Approach
      drive forward 0 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.graph.owners import given_in
from planner.model.robot import Action, OutputKind, ParameterUse, Setpoint, SetPosition, SetPower
from planner.model.routine import Given
from planner.model.units import Amount


def find(case: Case) -> Iterator[Found]:
    """Powers of 0: in a routine those it gives, in a robot file motors that should run to a place.

    A motor set to 0 % in a robot file is how a command stops it.
    """
    if case.plan is None:
        for mechanism in case.robot.mechanisms.values():
            for command in mechanism.commands.values():
                for action in command.actions:
                    if isinstance(action, SetPosition) and _is_zero(action.power):
                        yield Found(
                            action.place,
                            f"`{mechanism.name} {command.name}` runs `{action.output.name}` to its "
                            "place at 0 %",
                            "Without power it never gets there.",
                            "Write the power that it is to turn with, such as `60 %`.",
                        )
        return
    for given, steps in given_in(case.plan.routine):
        if _stands_still(given):
            yield Found(
                given.place,
                f"`{given.mechanism.name} {given.command.name}` with 0 % moves nothing",
                "A step that waits for the move to be over waits until its time limit.",
                f"Write the power. To stop it, `{given.mechanism.name} stop` says so plainly.",
                paste=(f"{given.mechanism.name} stop",),
                steps=steps,
            )


def _stands_still(given: Given) -> bool:
    """Whether every power that the command was given is 0, and there is one."""
    powers = [
        given.arguments[given.command.parameters.index(value.parameter)]
        for action in given.command.actions
        for value in _powers(action)
        if isinstance(value, ParameterUse)
    ]
    written = [v for a in given.command.actions for v in _powers(a) if isinstance(v, Amount)]
    return bool(powers) and all(
        isinstance(number, Amount) and not number.number for number in (*powers, *written)
    )


def _powers(action: Action) -> Iterator[Setpoint]:
    if isinstance(action, SetPosition):
        yield action.power
    elif isinstance(action, SetPower) and action.output.kind is not OutputKind.SERVO:
        yield action.value


def _is_zero(value: Setpoint) -> bool:
    return isinstance(value, Amount) and not value.number
