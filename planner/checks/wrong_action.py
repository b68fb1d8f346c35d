"""What it finds
    A line under a command that asks an output for something it cannot do: a lamp `at 40 %`, a motor
    `on`, a servo that goes to a number of ticks.

Why it matters on the field
    The Java for it could not be written, so the mechanism would stand still.

Example
    robot example
    hub main
      motor 0 roller_motor
    mechanism roller
      uses roller_motor
      command take runs
        roller_motor on

Instead
    robot example
    hub main
      motor 0 roller_motor
    mechanism roller
      uses roller_motor
      command take runs
        roller_motor at 80 %
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found

_CAN = {
    "motor": "A motor turns at a power in `%`, or goes to a place in `ticks` at a power.",
    "servo": "A servo goes to a place in `%`, from 0 to 100.",
    "continuous servo": "A continuous servo turns at a power in `%`, from -100 to 100.",
    "lamp": "A lamp is `on` or `off`.",
}


def find(case: Case) -> Iterator[Found]:
    """Lines that do not suit their output."""
    for slip in case.slips_of("wrong-action"):
        kind = slip.facts["kind"]
        yield Found(
            slip.place,
            f"`{slip.word}` is a {kind}, and cannot do this",
            _CAN[kind],
            "Write what it can do, or name the output that was meant.",
            paste=(slip.facts["example"],),
        )
