"""What it finds
    A block of lanes within a lane, or a task with one that a lane does.

Why it matters on the field
    Nobody can follow at the field how lanes within lanes stand to each other, and what is left
    when one of them ends.

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
          when arm done, go to done
          after 3 s, go to done
        together Inner
          when all lanes done, go to done
          after 2 s, go to done
          lane first
            step One
              roller take
              when tin_gate broken, go to done
              after 1 s, go to done
          lane second
            step Two
              claw open
              after 1 s, go to done
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
    """The blocks that stand in a lane, and the calls of tasks that hold one."""
    for slip in case.slips_of("lanes-within-lanes"):
        what = "the task" if slip.facts.get("task") else "the block"
        yield Found(
            slip.place,
            f"{what} `{slip.word}` would run lanes within a lane",
            "One block of lanes runs at a time.",
            "Put its lanes beside the others, or let the block come after this one.",
            steps=steps_of(slip),
        )
