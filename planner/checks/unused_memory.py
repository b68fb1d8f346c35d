"""What it finds
    A memory or a counter that nothing asks and no number is worked out from.

Why it matters on the field
    What the robot writes down changes nothing that it does; most often the line that should
    use it was forgotten.

Example
    memory far = 60 cm
    start Approach
    step Approach
      drive forward 40 %
      remember drive travelled as far
      when bumper pressed, go to Back
      after 3 s, go to GiveUp
    step Back
      drive forward -30 %
      when drive travelled < -20 cm, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    memory far = 60 cm
    start Approach
    step Approach
      drive forward 40 %
      remember drive travelled as far
      when bumper pressed, go to Back
      after 3 s, go to GiveUp
    step Back
      drive forward -30 %
      when drive travelled < -far, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found


def find(case: Case) -> Iterator[Found]:
    """Memories and counters that nothing reads."""
    for slip in case.slips_of("unused-memory"):
        counts = bool(slip.facts["counter"])
        what = "counter" if counts else "memory"
        way_out = (
            f"Ask it in an exit, such as `when counter {slip.word} is 0, go to ...`, or delete it."
            if counts
            else f"Write `{slip.word}` where the number belongs, ask `memory {slip.word} is ...` "
            "in an exit, or delete it."
        )
        yield Found(
            slip.place,
            f"nothing uses the {what} `{slip.word}`",
            f"What is {'counted' if counts else 'remembered'} changes nothing that the robot does.",
            way_out,
        )
