"""What it finds
    A command or a reading of a mechanism that the robot does not have.

Why it matters on the field
    The robot would leave the command out: an arm that stays down, wheels that do not turn.

Example
    start Approach
    step Approach
      driv forward 40 %
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
from planner.checks.headings import of_nameless_mechanism
from planner.checks.plan_names import next_step
from planner.checks.repair import foreign_line
from planner.checks.words import listed, mended, mended_line, steps_of, suggestion
from planner.findings import Slip
from planner.model import Robot
from planner.tree.rows import split_comment

_WHY = "The planner cannot tell what is to move, so the robot would leave this out."


def find(case: Case) -> Iterator[Found]:
    """Names that stand where a mechanism's belongs, and are none."""
    for slip in case.slips_of("unknown-mechanism"):
        if foreign_line(slip, case.robot):
            continue  # An `if` or a `wait`: unreadable-line tells about it.
        if of_nameless_mechanism(case, slip):
            continue  # It is told in the robot file.
        yield _swapped(slip, case.robot) or _device(slip, case.robot) or _unknown(slip, case.robot)


def _swapped(slip: Slip, robot: Robot) -> Found | None:
    """``stop drive``: the command first, the mechanism second."""
    behind = split_comment(slip.place.line_text)[0][slip.place.end_column - 1 :].split()
    mechanism = robot.mechanisms.get(behind[0]) if behind else None
    if mechanism is None or slip.word not in mechanism.commands:
        return None
    order = f"{mechanism.name} {slip.word}"
    rest = " ".join(behind[1:])
    return Found(
        slip.place,
        f"the mechanism comes first: `{order}`",
        _WHY,
        "A command reads: who does it, what, and how much.",
        paste=(f"{order} {rest}".strip(),),
        steps=steps_of(slip),
    )


def _device(slip: Slip, robot: Robot) -> Found | None:
    """A motor or sensor where a mechanism belongs."""
    if slip.word in robot.sensors:
        code = split_comment(slip.place.line_text)[0].strip()
        return Found(
            slip.place,
            f"`{slip.word}` is a sensor, and a step gives commands to mechanisms",
            "A sensor does nothing; it is asked, in an exit.",
            "To wait for it, write an exit:",
            paste=(f"when {code}, go to {next_step(slip.place)}",)
            if len(code.split()) == 2
            else (),
            steps=steps_of(slip),
        )
    users = [m for m in robot.mechanisms.values() if slip.word in {o.name for o in m.outputs}]
    if slip.word not in robot.outputs:
        return None
    kind = robot.outputs[slip.word].kind.value
    known = [f"{m.name} {command}" for m in users for command in m.commands]
    told = f"It belongs to a mechanism that knows {listed(known)}." if known else ""
    return Found(
        slip.place,
        f"`{slip.word}` is a {kind}, and a step gives commands to mechanisms",
        _WHY,
        told or "Let a mechanism of the robot file use it, and give that mechanism a command.",
        steps=steps_of(slip),
    )


def _unknown(slip: Slip, robot: Robot) -> Found:
    there = f"The robot has {listed(robot.mechanisms, 'and')}" if robot.mechanisms else ""
    otherwise = f"{there}; `mechanism {slip.word}` in the robot file would declare another."
    near = mended(slip)
    return Found(
        slip.place,
        f"the robot has no mechanism `{slip.word}`",
        _WHY,
        suggestion(slip, otherwise if there else "The robot file declares no mechanism yet."),
        paste=near or (_example(slip, robot),) if robot.mechanisms else (),
        steps=steps_of(slip),
    )


def _example(slip: Slip, robot: Robot) -> str:
    return mended_line(slip.place, next(iter(robot.mechanisms)))
