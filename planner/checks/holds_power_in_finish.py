"""What it finds
    A command that `holds` and turns a motor at a power, still in force when a finish is reached.

Why it matters on the field
    A finish switches off what `runs`. What `holds` goes on: the motor turns, or pushes against its
    stop, until the match ends, with people waiting to step onto the field. An arm that would drop
    without power may need just that; then let the finish say so.

Example
    robot example
    hub main
      motor 0 roller_motor
      digital 7 bumper touch
    mechanism roller
      uses roller_motor
      command take holds
        roller_motor at 80 %

    routine ahead
    robot example
    limit 30 s
    start Take
    step Take
      roller take
      when bumper pressed, go to Taken
      after 3 s, go to GiveUp
    finish Taken
      roller stop
    finish GiveUp

Instead
    robot example
    hub main
      motor 0 roller_motor
      digital 7 bumper touch
    mechanism roller
      uses roller_motor
      command take holds
        roller_motor at 80 %

    routine ahead
    robot example
    limit 30 s
    start Take
    step Take
      roller take
      when bumper pressed, go to Taken
      after 3 s, go to GiveUp
    finish Taken
      roller stop
    finish GiveUp
      roller stop
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph import Plan
from planner.graph.lasting import LeftOn, powered_on, turned_by
from planner.model.spoken import spoken_command


def find(case: Case) -> Iterator[Found]:
    """The finishes that a motor still turns in, each mechanism once."""
    if case.plan is None:
        return
    told: set[tuple[str, str]] = set()
    for left in powered_on(case.plan):
        key = (left.way[-1], left.given.mechanism.name)
        if key not in told:
            told.add(key)
            yield _found(case.plan, left)


def _found(plan: Plan, left: LeftOn) -> Found:
    given, finish = left.given, left.way[-1]
    spoken = spoken_command(given).removeprefix("keep ")
    return Found(
        plan.step(finish).place,
        f"`{turned_by(given)}` still turns in the finish `{finish}`",
        f"`{spoken}` holds until `{given.mechanism.name}` is told something else, and a finish "
        "switches off only what runs.",
        f"Stop it in `{finish}`, or say there what it has to go on with. If the command is there "
        "to move something, let it be one that `runs` in the robot file.",
        paste=(f"{given.mechanism.name} stop",),
        steps=(finish, left.step),
        related=(Related(given.place, "given here"),),
    )
