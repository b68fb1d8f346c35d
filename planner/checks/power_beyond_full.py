"""What it finds
    A motor told to turn at more than 100 %, or a servo told to go to a place outside of 0 % to
    100 %.

Why it matters on the field
    The hub cuts it back to full without a word. The robot drives slower than the plan says, and two
    motors that should differ run alike.

Example
    start Approach
    step Approach
      drive forward 120 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 100 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.checks.case import Case, Found
from planner.checks.words import mended_line
from planner.graph.owners import given_in
from planner.model.memory import Computed
from planner.model.robot import (
    Action,
    Output,
    OutputKind,
    ParameterUse,
    Setpoint,
    SetPosition,
    SetPower,
)
from planner.model.routine import Given
from planner.model.units import Amount, decimal_text
from planner.text import Place

_WHY = "The hub cuts it back without a word, so the robot does not do what the plan says."


def find(case: Case) -> Iterator[Found]:
    """Powers out of reach: in a routine those it gives, in a robot file those written there."""
    if case.plan is None:
        for mechanism in case.robot.mechanisms.values():
            for command in mechanism.commands.values():
                for action in command.actions:
                    yield from _written(action)
        return
    for given, steps in given_in(case.plan.routine):
        yield from _given(steps, given)


def _written(action: Action) -> Iterator[Found]:
    for output, setpoint in _powers(action):
        if isinstance(setpoint, Amount) and not _in_reach(output, setpoint):
            yield _found(_narrowed(action.place, setpoint), output, setpoint)


def _given(steps: tuple[str, ...], given: Given) -> Iterator[Found]:
    names = [parameter.name for parameter in given.command.parameters]
    told: set[str] = set()
    for action in given.command.actions:
        for output, setpoint in _powers(action):
            if not isinstance(setpoint, ParameterUse) or setpoint.parameter.name in told:
                continue
            amount = given.arguments[names.index(setpoint.parameter.name)]
            # What is worked out on the way is not known here.
            if isinstance(amount, Computed):
                continue
            if not _in_reach(output, amount.negated() if setpoint.negated else amount):
                told.add(setpoint.parameter.name)
                place = _narrowed(given.place, amount)
                yield _found(place, output, amount, setpoint.negated, steps)


def _powers(action: Action) -> Iterator[tuple[Output, Setpoint]]:
    """The outputs that an action sets, each with its share in %."""
    if isinstance(action, SetPower):
        yield action.output, action.value
    elif isinstance(action, SetPosition):
        yield action.output, action.power


def _least(output: Output) -> int:
    return 0 if output.kind is OutputKind.SERVO else -100


def _in_reach(output: Output, amount: Amount) -> bool:
    return _least(output) <= amount.base <= 100


def _narrowed(place: Place, amount: Amount) -> Place:
    """Where in a line the amount is written; the whole line where it cannot be made out."""
    word = amount.written.split()[0]
    column = place.words.find(f" {word}")
    if column < 0:
        return place
    start = place.column + column + 1
    return Place(place.source, place.line, start, start + len(word))


def _found(
    place: Place,
    output: Output,
    amount: Amount,
    negated: bool = False,
    steps: tuple[str, ...] = (),
) -> Found:
    sign = -1 if negated else 1
    reach = sign * min(max(sign * amount.base, Fraction(_least(output))), Fraction(100))
    is_place = output.kind is OutputKind.SERVO
    what = "goes to places" if is_place else "turns at powers"
    setting = f" (`{amount.setting}`)" if amount.setting else ""
    return Found(
        place,
        f"{amount}{setting} is beyond what the {output.kind.value} `{output.name}` can do",
        _WHY,
        f"A {output.kind.value} {what} from {_least(output)} % to 100 %.",
        paste=() if amount.setting else (mended_line(place, decimal_text(reach)),),
        steps=steps,
    )
