"""What it finds
    A task that can end in a way its caller has no exit for.

Why it matters on the field
    When the task ends so, the robot would not know where to go on.

Example
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
    finish Lit
    finish GiveUp
    task place(height ticks) ends placed, stuck
      step Raise
        arm to height
        when arm done, go to placed
        after 2 s, go to stuck

Instead
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to GiveUp
    finish Lit
    finish GiveUp
    task place(height ticks) ends placed, stuck
      step Raise
        arm to height
        when arm done, go to placed
        after 2 s, go to stuck
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.headings import words_not_read
from planner.checks.plan_names import home
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """The outcomes of a called task that no exit waits for."""
    perhaps = words_not_read(case)
    # ``when task placed`` asks a sensor `task`: it is told there.
    asked = [s.place.line_text for s in case.slips_of("unknown-sensor")]
    perhaps.update(word for line in asked for word in re.findall(r"\w+", line))
    for slip in case.slips_of("unhandled-outcome"):
        if slip.word in perhaps:
            continue
        yield Found(
            slip.place,
            f"nothing says where to go when `{slip.facts['task']}` ends `{slip.word}`",
            "When the task ends so, the robot would not know where to go on.",
            "Add an exit for it:",
            paste=(f"when task ends {slip.word}, go to {home(slip.place)}",),
            steps=steps_of(slip),
        )
