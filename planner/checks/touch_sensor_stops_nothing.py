"""What it finds
    The same as `limit-switch-stops-nothing`, for a touch sensor and a command that runs, where the
    mechanism runs that motor to places too. The sensor may be the end of its way; or a bumper, and
    the robot is to lean on what it has met. The robot file does not say which.

Why it matters on the field
    A motor that pushes on against the end of its way stalls, grows hot, and bends what is in
    between. A bumper at a wall is meant to stay pressed.

Example
    start Lower
    step Lower
      keep arm lower 30 %
      when arm_floor pressed, go to Drive
      after 2 s, go to GiveUp
    step Drive
      drive forward 30 %
      when bumper pressed, go to Parked
      after 4 s, go to GiveUp
    finish Parked
      arm stop
    finish GiveUp
      arm stop

Instead
    start Lower
    step Lower
      arm lower 30 %
      when arm_floor pressed, go to Drive
      after 2 s, go to GiveUp
    step Drive
      drive forward 30 %
      when bumper pressed, go to Parked
      after 4 s, go to GiveUp
    finish Parked
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.ends_of_way import found_at_end
from planner.graph.end_of_way import GoesOn, pushing_on
from planner.graph.lasting import turned_by
from planner.model.spoken import spoken_command


def find(case: Case) -> Iterator[Found]:
    """What may be the end of a way after which the motor goes on, each line once."""
    if case.plan is None or case.robot.missing:
        return
    yield from (_found(one) for one in pushing_on(case.plan) if not one.certain)


def _found(one: GoesOn) -> Found:
    mechanism, sensor = one.given.mechanism.name, one.sensor.name
    return found_at_end(
        one,
        f"`{sensor}` may stop nothing: `{mechanism}` goes on in `{one.step}`",
        f"`{spoken_command(one.given)}` is in force there. If `{sensor}` is the end of its way, "
        f"`{turned_by(one.given)}` pushes on against it.",
        "A limit switch that the robot file calls `switch` instead of `touch` is never taken for "
        "a bumper.",
    )
