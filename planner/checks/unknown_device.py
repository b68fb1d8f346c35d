"""What it finds
    A mechanism that uses a device which no hub has, or drives one that it does not use.

Why it matters on the field
    The Java looks devices up by name. A name that is not in the hub's configuration stops the robot
    before the match has begun.

Example
    robot example
    hub main
      motor 0 arm_motor
      motor 1 wrist_motor
    mechanism arm
      uses arm_motor, wrist_motor, elbow_motor

Instead
    robot example
    hub main
      motor 0 arm_motor
      motor 1 wrist_motor
      motor 2 elbow_motor
    mechanism arm
      uses arm_motor, wrist_motor, elbow_motor
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed
from planner.checks.words import listed, mended
from planner.findings import Slip
from planner.model import Robot
from planner.tree.rows import split_comment


def find(case: Case) -> Iterator[Found]:
    """Devices that no line under a hub declares, or that their mechanism does not use."""
    for slip in case.slips_of("unknown-device"):
        if slip.facts.get("of_mechanism"):
            yield _not_used(slip, case.robot)
        else:
            slip = _less_listed(slip)
            yield misnamed(
                slip,
                f"no hub has a device `{slip.word}`",
                "The Java looks devices up by name, and would stop with an error.",
                f"Declare it under its hub, such as `motor 0 {slip.word}`, with its port.",
            )


def _less_listed(slip: Slip) -> Slip:
    """The slip without the names that its own `uses` line has already: they are not meant."""
    listed_there = set(re.findall(r"\w+", slip.place.line_text))
    return replace(slip, known=tuple(name for name in slip.known if name not in listed_there))


def _not_used(slip: Slip, robot: Robot) -> Found:
    why = "A command can drive only what its mechanism uses."
    own = f"It uses {listed(slip.known, 'and')}." if slip.known else "It uses no motor or servo."
    if slip.word in robot.sensors:
        headline = f"`{slip.word}` is a sensor, and cannot be driven"
        return Found(slip.place, headline, why, own, paste=mended(slip))
    if slip.word in robot.outputs:
        names = ", ".join((*slip.known, slip.word))
        return Found(
            slip.place,
            f"this mechanism does not use `{slip.word}`",
            why,
            "Add it to the `uses` line, if it belongs to this mechanism:",
            paste=_longer_uses(slip, names),
        )
    headline = f"this mechanism uses no `{slip.word}`"
    return misnamed(slip, headline, why, own)


def _longer_uses(slip: Slip, names: str) -> tuple[str, ...]:
    """The `uses` line above with one device more; its sensors stay."""
    for line in reversed(slip.place.source.lines[: slip.place.line]):
        code = split_comment(line)[0].strip()
        if code.startswith("uses "):
            return (f"{code}, {slip.word}",)
        if code.startswith("mechanism"):
            break
    return (f"uses {names}",)
