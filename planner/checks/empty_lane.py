"""What it finds
    A lane with no step in it.

Why it matters on the field
    It has nothing to do and never comes to its end.

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
    """The lanes that hold no step."""
    for slip in case.slips_of("empty-lane"):
        yield Found(
            slip.place,
            f"the lane `{slip.word}` has no step",
            "It has nothing to do, and whoever waits for its end waits for ever.",
            "Put steps under it, indented; it begins with the first. Or delete the line.",
            paste=("step Lift", "  after 2 s, go to done"),
            steps=steps_of(slip),
        )
