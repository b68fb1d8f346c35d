"""What it finds
    A command `stop` in the robot file that turns a motor, or that wants a number.

Why it matters on the field
    `stop` is what the plan tells every mechanism at a finish, at the limit and when somebody
    presses the stop button. A robot that moves then hurts somebody.

Example
    robot example
    hub main
      motor 0 left_wheels
    mechanism drive
      uses left_wheels
      command forward(power %) runs
        left_wheels at power
      command stop holds
        left_wheels at -20 %

Instead
    robot example
    hub main
      motor 0 left_wheels
    mechanism drive
      uses left_wheels
      command forward(power %) runs
        left_wheels at power
      command stop holds
        left_wheels at 0 %
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.model.robot import Action, Command, OutputKind, SetPosition, SetPower
from planner.model.units import Amount

_TURNING = (OutputKind.MOTOR, OutputKind.CONTINUOUS_SERVO)


def find(case: Case) -> Iterator[Found]:
    """The commands of that name that do not stop."""
    if case.plan is not None:
        return
    for mechanism in case.robot.mechanisms.values():
        stop = mechanism.commands["stop"]
        yield from _with_numbers(stop, mechanism.name)
        for action in stop.actions:
            if _moves(action):
                yield Found(
                    action.place,
                    f"`{mechanism.name} stop` turns `{action.output.name}`",
                    "It is told at a finish, at the limit and when somebody presses the stop "
                    "button. Hands may be in the robot by then.",
                    "Give it no power, and put what moves into a command with another name:",
                    paste=(f"{action.output.name} at 0 %",),
                )


def _with_numbers(stop: Command, mechanism: str) -> Iterator[Found]:
    if stop.parameters and stop.place:
        yield Found(
            stop.place,
            f"`{mechanism} stop` wants a number, and nobody gives it one",
            "At a finish, at the limit and when somebody presses the stop button every mechanism "
            "is told to stop, without numbers.",
            "Take the parentheses away, or give the command another name.",
            paste=("command stop holds",),
        )


def _moves(action: Action) -> bool:
    match action:
        case SetPower(output, value):
            still = isinstance(value, Amount) and value.number == 0
            return output.kind in _TURNING and not still
        case SetPosition(output):
            return output.kind in _TURNING
        case _:
            return False
