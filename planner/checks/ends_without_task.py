"""What it finds
    A `when task ends` in a step that does no task.

Why it matters on the field
    There is nothing whose end could be waited for.

Example
    start First
    step First
      drive forward 40 %
      when bumper pressed, go to Lit
      when task ends placed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start First
    step First
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.headings import lines_not_read
from planner.checks.plan_names import declared, lines_above
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """The exits for outcomes in steps without a task."""
    broken = lines_not_read(case)
    for slip in case.slips_of("ends-without-task"):
        if broken.intersection(lines_above(slip.place)):
            continue  # The task may stand in a line that could not be read.
        yield Found(
            slip.place,
            f"this step does no task that could end `{slip.word}`",
            "So there is nothing to wait for.",
            "Say which task the step does, or wait for a sensor instead.",
            paste=tuple(f"do {task}" for task in declared(slip.place, "task")[:1]),
            steps=steps_of(slip),
        )
