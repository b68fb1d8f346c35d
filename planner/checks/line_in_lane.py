"""What it finds
    An exit or a side rule that stands in a lane, and under none of its steps.

Why it matters on the field
    A lane is nothing but its steps. What holds for all of them is written in a group around them,
    and what holds for all lanes under `together`.

Example
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
        after 5 s, go to done
        step Lift
          arm to 1200 ticks
          when arm done, go to done
          after 3 s, go to done
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
    """The lines of lanes that belong under a step, a group or the block."""
    for slip in case.slips_of("line-in-lane"):
        lane = slip.facts["lane"]
        word = slip.word.split()[0]
        what = "side rules" if word == "whenever" else "exits"
        yield Found(
            slip.place,
            f"the lane `{lane}` has no {what} of its own",
            "A lane is nothing but its steps.",
            "Write the line under the step that it belongs to, or under `together` if it is to "
            "hold for all lanes.",
            steps=steps_of(slip),
        )
