"""What it finds
    An exit that waits for a limit switch of a mechanism, and leads to a step where the motor of
    that mechanism still turns: the command that ran it goes on, with `keep` or because it holds, or
    the step turns it the same way again with as much power. Or a side rule that looks at the
    switch, in a step that turns the motor, while nothing there stops it.

Why it matters on the field
    A limit switch says that there is no way left. A motor that pushes on against the end of the way
    stalls, grows hot, and bends what is in between.

Example
    robot example
    hub main
      motor 0 lift_motor
      digital 1 lift_floor switch
    mechanism lift
      uses lift_motor, lift_floor
      command lower holds
        lift_motor at -30 %

    routine down
    robot example
    limit 30 s
    start Lower
    step Lower
      lift lower
      when lift_floor closed, go to Rest
      after 2 s, go to GiveUp
    step Rest
      after 1 s, go to Parked
    finish Parked
      lift stop
    finish GiveUp
      lift stop

Instead
    robot example
    hub main
      motor 0 lift_motor
      digital 1 lift_floor switch
    mechanism lift
      uses lift_motor, lift_floor
      command lower holds
        lift_motor at -30 %

    routine down
    robot example
    limit 30 s
    start Lower
    step Lower
      lift lower
      when lift_floor closed, go to Rest
      after 2 s, go to GiveUp
    step Rest
      lift stop
      after 1 s, go to Parked
    finish Parked
      lift stop
    finish GiveUp
      lift stop
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.ends_of_way import found_at_end
from planner.graph.end_of_way import GoesOn, pushing_on
from planner.graph.lasting import turned_by
from planner.model.spoken import spoken_command


def find(case: Case) -> Iterator[Found]:
    """The exits and rules at the end of a way after which the motor goes on, each line once."""
    if case.plan is None or case.robot.missing:
        return
    yield from (_found(one) for one in pushing_on(case.plan) if one.certain)


def _found(one: GoesOn) -> Found:
    mechanism = one.given.mechanism.name
    return found_at_end(
        one,
        f"`{one.sensor.name}` stops nothing: `{mechanism}` goes on in `{one.step}`",
        f"`{spoken_command(one.given)}` is in force there, so `{turned_by(one.given)}` pushes on "
        "against the end of its way.",
    )
