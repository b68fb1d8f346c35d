"""What it finds
    Two routines for one robot with the same name, in files that were checked together. Capitals and
    `_` do not tell them apart, since they become a class in Java.

Why it matters on the field
    The driver picks a routine by its name. Exported into one project, the second one takes the
    place of the first.

Example
    # two routines
    routine example
    robot moth
    limit 30 s
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    routine example
    robot moth
    limit 30 s
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    # two routines
    routine example
    robot moth
    limit 30 s
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    routine another
    robot moth
    limit 30 s
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
from planner.checks.words import mended_line
from planner.findings import Related
from planner.model import Routine
from planner.text import Place


def find(case: Case) -> Iterator[Found]:
    """The routines of a robot, as checked together, whose name is taken by an earlier one."""
    taken: dict[str, Place] = {}
    for routine in case.routines:
        if not routine.name:
            continue
        key = f"{routine.robot.name} {routine.name.replace('_', '').casefold()}"
        first = taken.setdefault(key, routine.place)
        if first != routine.place:
            yield _found(routine, first)


def _found(routine: Routine, first: Place) -> Found:
    name = routine.name
    return Found(
        routine.place,
        f"{first.source.name} holds a routine `{first.words}` too",
        "On the driver station nobody could tell them apart, and in one Java project the second "
        "would take the place of the first.",
        "Give one of them another name, or delete it if it is a copy.",
        paste=(mended_line(routine.place, f"{name}_2"),),
        related=(Related(first, f"`{first.words}` is the name here already"),),
    )
