"""What it finds
    A condition on a lane that the block around it does not have.

Why it matters on the field
    The condition would never be true.

Example
    start Carry
    together Carry
      when lane lift done, go to Lit
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

Instead
    start Carry
    together Carry
      when lane lifting done, go to Lit
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
from planner.checks.misnamed import misnamed
from planner.checks.words import listed


def find(case: Case) -> Iterator[Found]:
    """The names behind `lane` in conditions that are no lane of the block."""
    for slip in case.slips_of("unknown-lane"):
        yield misnamed(
            slip,
            f"there is no lane `{slip.word}` in this block",
            "Only lanes of the block around a line can be asked about.",
            f"Its lanes are {listed(slip.known, 'and')}.",
        )
