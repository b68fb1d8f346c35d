"""What it finds
    A memory that no step remembers, or a counter that no step counts.

Why it matters on the field
    It holds for the whole match what it holds at the start, so that one way of the plan is
    never gone.

Example
    memory far = 60 cm
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Back
      after 3 s, go to GiveUp
    step Back
      drive forward -30 %
      when drive travelled < -far, go to Lit
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
    """Memories and counters that stay as they are at the start."""
    for slip in case.slips_of("never-remembered"):
        if slip.facts["counter"]:
            headline = f"nothing counts the counter `{slip.word}`"
            way_out = f"Write `count {slip.word} down` or `up` in the step that it counts."
        else:
            headline = f"nothing is remembered as `{slip.word}`"
            way_out = (
                f"Write `remember ... as {slip.word}` in the step that finds it out. If it never "
                f"changes, it is a setting: `setting {slip.word} = ...`."
            )
        yield Found(
            slip.place,
            headline,
            "For the whole match it is what it is at the start.",
            way_out,
        )
