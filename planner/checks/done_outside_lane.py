"""What it finds
    An exit that goes to `done` and does not stand in a lane.

Why it matters on the field
    Only a lane has an end of that name: the place where it waits for the others.

Example
    start Carry
    together Carry
      when all lanes done, go to Lit
      after 6 s, go to done
      lane wheels
        step Drive
          drive forward 40 %
          when drive travelled > 60 cm, go to done
          after 4 s, go to done
      lane lifting
        step Lift
          arm to 1200 ticks
          when arm done, go to done
          after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Carry
    together Carry
      when all lanes done, go to Lit
      after 6 s, go to GiveUp
      lane wheels
        step Drive
          drive forward 40 %
          when drive travelled > 60 cm, go to done
          after 4 s, go to done
      lane lifting
        step Lift
          arm to 1200 ticks
          when arm done, go to done
          after 3 s, go to done
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """The exits to `done` outside of lanes."""
    for slip in case.slips_of("done-outside-lane"):
        yield Found(
            slip.place,
            "only a lane can go to `done`",
            "`done` is the end of a lane, where it waits for the others. Here is no lane.",
            "Name the step or the finish that comes next; in a task, one of its outcomes.",
            steps=steps_of(slip),
        )
