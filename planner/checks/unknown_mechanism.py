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

import re
from collections.abc import Iterator
from dataclasses import replace

from planner.checks.case import Case, Found
from planner.checks.headings import of_nameless_mechanism
from planner.checks.plan_names import every_name, next_step
from planner.checks.repair import foreign_line
from planner.checks.words import listed, mended, mended_line, steps_of, suggestion, together
from planner.findings import Related, Slip
from planner.model import Robot
from planner.tree.announced import joined
from planner.tree.rows import split_comment

_WHY = "The planner cannot tell what is to move, so the robot would leave this out."


def find(case: Case) -> Iterator[Found]:
    """Names that stand where a mechanism's belongs, and are none."""
    nowhere = []
    for slip in case.slips_of("unknown-mechanism"):
        if foreign_line(slip, case.robot) or of_nameless_mechanism(case, slip):
            continue  # An `if`, or a name lost in the robot file: it is told elsewhere.
        found = (
            _match(slip)
            or _in_pieces(slip, case.robot)
            or _swapped(slip, case.robot)
            or _device(slip, case.robot)
        )
        if found:
            yield found
        else:
            nowhere.append(slip)
    for slip, others in together(nowhere):
        yield _unknown(slip, case.robot, others)


def _match(slip: Slip) -> Found | None:
    """``match time < 20 s``"""
    behind = slip.place.line_text[slip.place.end_column - 1 :]
    clock = re.match(r"\s+(?:time|clock|timer)\b", behind)
    if slip.word != "match" or clock is None:
        return None
    place = replace(slip.place, end_column=slip.place.end_column + clock.end())
    return Found(
        place,
        f"the match clock is asked with `match` alone: not `{place.words}`",
        "No mechanism has this name, so the exit would never be taken.",
        "It reads `match < 20 s`.",
        paste=(mended_line(place, "match"),),
        steps=steps_of(slip),
    )


def _in_pieces(slip: Slip, robot: Robot) -> Found | None:
    """``range front < 8 cm``: one name in two words."""
    second = re.match(r"\s+\w+", slip.place.line_text[slip.place.end_column - 1 :])
    if second is None:
        return None
    place = replace(slip.place, end_column=slip.place.end_column + second.end())
    name = joined(place.words, frozenset(every_name(slip.place, robot)))
    if not name:
        return None
    return Found(
        place,
        f"`{place.words}` is written `{name}`",
        _WHY if name in robot.mechanisms else "The planner cannot tell what is meant.",
        "A name is one word, and is spelled the same everywhere.",
        paste=(mended_line(place, name),),
        steps=steps_of(slip),
    )


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


def _unknown(slip: Slip, robot: Robot, others: tuple[Related, ...]) -> Found:
    there = f"The robot has {listed(robot.mechanisms, 'and')}" if robot.mechanisms else ""
    otherwise = f"{there}; `mechanism {slip.word}` in the robot file would declare another."
    return Found(
        slip.place,
        f"the robot has no mechanism `{slip.word}`",
        _WHY,
        suggestion(slip, otherwise if there else "The robot file declares no mechanism yet."),
        paste=mended(slip) if robot.mechanisms else (),
        steps=steps_of(slip),
        related=others,
    )
