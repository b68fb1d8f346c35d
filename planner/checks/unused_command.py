"""What it finds
    A command that no routine gives, in a robot file checked along with its routines.

Why it matters on the field
    It may be left over, or be meant for a routine that is not written yet. It may also be that a
    step gives the wrong one of two commands.

Example
    robot example
    hub main
      servo 0 claw_servo
    mechanism claw
      uses claw_servo
      command open holds
        claw_servo at 80 %
      command close holds
        claw_servo at 15 %

    routine ahead
    robot example
    limit 30 s
    start Grip
    step Grip
      claw close
      after 1 s, go to Parked
    finish Parked

Instead
    robot example
    hub main
      servo 0 claw_servo
    mechanism claw
      uses claw_servo
      command open holds
        claw_servo at 80 %
      command close holds
        claw_servo at 15 %

    routine ahead
    robot example
    limit 30 s
    start Grip
    step Grip
      claw close
      after 1 s, go to Parked
    finish Parked
      claw open
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.usage import can_tell, gathered, used_commands
from planner.checks.words import listed
from planner.text import Place


def find(case: Case) -> Iterator[Found]:
    """Commands that no step gives; `stop` is there for emergencies."""
    if not can_tell(case):
        return
    used = used_commands(case)
    unused = [
        (f"{mechanism.name} {command.name}", command.place)
        for mechanism in case.robot.mechanisms.values()
        for command in mechanism.commands.values()
        if command.place and command.name != "stop" and not command.salvaged
        if (mechanism.name, command.name) not in used
    ]
    names = listed(name for name, _ in unused)
    found = [_found(place, f"no routine gives the command `{name}`") for name, place in unused]
    yield from gathered(found, f"no routine gives the commands {names}")


def _found(place: Place, headline: str) -> Found:
    return Found(
        place,
        headline,
        "It may be left over, or a step gives another command by mistake.",
        "Use it, or delete it from the robot file.",
    )
