"""What it finds
    A condition on lanes outside of the block that they belong to.

Why it matters on the field
    Outside of its block no lane is active, so the condition would never be true.

Example
    start Carry
    together Carry
      when all lanes done, go to Wait
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
    step Wait
      when all lanes done, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Carry
    together Carry
      when all lanes done, go to Wait
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
    step Wait
      when arm done, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """The conditions on lanes that stand in no block."""
    for slip in case.slips_of("lane-asked-outside"):
        yield Found(
            slip.place,
            f"`{slip.word}` stands outside of the block with those lanes",
            "Only the exits and rules of a `together` block and the steps of its lanes can ask "
            "how far its lanes are. Outside of it none of them is active; and a task, which may "
            "be done anywhere, has none around it.",
            "Move the exit into the block, or wait for a sensor here.",
            steps=steps_of(slip),
        )
