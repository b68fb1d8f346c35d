"""What it finds
    A counter with a number that cannot be counted, or that is out of its range.

Why it matters on the field
    A counter holds whole numbers within its range, so it would never get there.

Example
    counter shots: 0 to 3, normally 4
    start Shoot
    step Shoot
      count shots down
      roller drop
      when tin_gate clear for 0.3 s, go to Next
      after 2 s, go to GiveUp
    step Next
      when counter shots > 0, go to Shoot
      when counter shots is 0, go to Lit
    finish Lit
    finish GiveUp

Instead
    counter shots: 0 to 3, normally 3
    start Shoot
    step Shoot
      count shots down
      roller drop
      when tin_gate clear for 0.3 s, go to Next
      after 2 s, go to GiveUp
    step Next
      when counter shots > 0, go to Shoot
      when counter shots is 0, go to Lit
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """Numbers that a counter cannot hold."""
    for slip in case.slips_of("wrong-counter"):
        match slip.facts["kind"]:
            case "out-of-range":
                low, high = slip.facts["low"], slip.facts["high"]
                headline = (
                    f"`{slip.facts['counter']}` counts from {low} to {high}, not to {slip.word}"
                )
                way_out = "Write a number in the range, or make the range wider."
            case "stands-still":
                headline = f"a counter from `{slip.word}` can never change"
                way_out = "Make the range wider: `0 to 3`."
            case _:
                headline = f"`{slip.word}` cannot be counted to"
                way_out = "Write a whole number from 0 to 1000, without a unit."
        yield Found(
            slip.place,
            headline,
            "A counter holds whole numbers within its range, nothing else.",
            way_out,
            steps=steps_of(slip),
        )
