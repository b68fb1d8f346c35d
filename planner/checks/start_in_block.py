"""What it finds
    A `start` line in a group or a task.

Why it matters on the field
    A routine starts in one step, and a task with its first one. Who looks for the start in a hurry
    looks at the top of the plan.

Example
    start First
    group Cycle
      start First
      after 9 s, go to Lit
      step First
        arm to 600 ticks
        when arm done, go to Lit
        after 2 s, go to Lit
    finish Lit

Instead
    start First
    group Cycle
      after 9 s, go to Lit
      step First
        arm to 600 ticks
        when arm done, go to Lit
        after 2 s, go to Lit
    finish Lit
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related, Slip


def find(case: Case) -> Iterator[Found]:
    """The `start` lines that do not stand at the left margin."""
    for slip in case.slips_of("start-in-block"):
        what, other = slip.facts["what"], slip.other
        yield Found(
            slip.place,
            f"a {what} has no `start` line",
            "A task begins with its first step."
            if what == "task"
            else "A group is entered at whatever step an exit leads to.",
            _way_out(slip),
            paste=() if what == "task" or other else (f"start {slip.word}",),
            related=(Related(other, "the routine starts here"),) if other else (),
        )


def _way_out(slip: Slip) -> str:
    if slip.facts["what"] == "task":
        return f"Delete this line, and put the step `{slip.word}` first in the task."
    if slip.other:
        return f"Delete this line, or write `go to {slip.word}` in the exits that enter the group."
    return "Move it to the left margin, above the steps: the whole routine starts there."
