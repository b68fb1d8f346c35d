"""What it finds
    Two commands to one mechanism in one step, or two lines for one output in one command.

Why it matters on the field
    Only the last is sent, in the same moment; the first never does anything. Two moves, one after
    the other, are two steps.

Example
    start Place
    step Place
      claw open
      claw close
      after 0.6 s, go to Lit
    finish Lit

Instead
    start Place
    step Place
      claw open
      after 0.6 s, go to Shut
    step Shut
      claw close
      after 0.6 s, go to Lit
    finish Lit
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.doubles import doubles
from planner.findings import Related


def find(case: Case) -> Iterator[Found]:
    """The doubles that are not the slip of a twin's name."""
    for double in doubles(case):
        if double.left_out:
            continue
        way_out = "Keep the line that you mean."
        if double.step:
            way_out += " If one should follow the other, give the second in a step of its own."
        yield Found(
            double.first,
            f"`{double.first.words}` is never sent in `{double.where}`",
            f"`{double.again.words}` replaces it in the same moment.",
            way_out,
            steps=(double.step,) if double.step else (),
            related=(Related(double.again, "only the last counts"),),
        )
