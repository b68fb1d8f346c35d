"""What it finds
    A condition `lane NAME in STEP` with a step that does not stand in that lane.

Why it matters on the field
    The condition would never be true.

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
        step Lift
          arm to 1200 ticks
          when lane wheels in Lift and arm done, go to done
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
          when lane wheels in Drive and arm done, go to done
          after 3 s, go to done
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed
from planner.checks.words import listed


def find(case: Case) -> Iterator[Found]:
    """The names behind `in` that are no step of the lane."""
    for slip in case.slips_of("unknown-lane-step"):
        lane = slip.facts["lane"]
        yield misnamed(
            slip,
            f"the lane `{lane}` has no step `{slip.word}`",
            "So it is never in it.",
            f"The steps of `{lane}` are {listed(slip.known, 'and')}.",
        )
