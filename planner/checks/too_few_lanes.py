"""What it finds
    A `together` block with one lane, or with none.

Why it matters on the field
    Lanes are there to run side by side. One alone is a plain row of steps, which is easier to
    read.

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
    """The blocks with fewer than two lanes."""
    for slip in case.slips_of("too-few-lanes"):
        has = f"only the lane `{slip.known[0]}`" if slip.known else "no lane"
        yield Found(
            slip.place,
            f"`{slip.word}` has {has}",
            "A block is there for lanes that run side by side, two at least.",
            "Put a second lane under it, or write the steps without `together` and `lane`.",
            paste=("lane lifting", "  step Lift", "    arm to 1200 ticks"),
            steps=steps_of(slip),
        )
