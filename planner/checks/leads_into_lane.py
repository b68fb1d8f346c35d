"""What it finds
    An exit that leads into a lane: from outside of its block, or from another lane.

Why it matters on the field
    Lanes start together, with their block. A lane that is entered alone would leave the others
    without a step to be in.

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
          when arm done, go to Drive
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
    """The exits to a step of a lane that do not stand in the same lane."""
    for slip in case.slips_of("leads-into-lane"):
        block, lane = slip.facts["block"], slip.facts["lane"]
        beside = bool(slip.facts["beside"])
        way_out = (
            f"A lane looks at another with a condition, such as `lane {lane} done`. To start all "
            f"lanes anew, go to `{block}`."
            if beside
            else f"Go to `{block}`: that starts all its lanes, each with its first step."
        )
        yield Found(
            slip.place,
            f"`{slip.word}` stands in the lane `{lane}`, and this exit does not",
            f"The lanes of `{block}` start together, and only exits of the lane itself lead to its "
            "steps.",
            way_out,
            steps=steps_of(slip),
        )
