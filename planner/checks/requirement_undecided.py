"""What it finds
    A requirement of which it could not be settled whether every run keeps to it: the search met a
    bound, or the run it found could not be played, or side rules command what it speaks of. That is
    no verdict, neither good nor bad, and `planner check` ends with exit status 3.

Why it matters on the field
    What nobody could prove may be broken on a bad day. Each scenario is still judged by the
    requirement, so that it can be rehearsed.

Example
    require claw open only after arm to 1200 ticks
    start Raise
    step Raise
      arm to 1200 ticks
      whenever bumper pressed, claw open
      when arm done, go to Lit
      after 3 s, go to Lit
    finish Lit

Instead
    require claw open only after arm to 1200 ticks
    start Raise
    step Raise
      arm to 1200 ticks
      when arm done, go to Place
      after 3 s, go to GiveUp
    step Place
      claw open
      after 0.6 s, go to Lit
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.proofs import proofs_of


def find(case: Case) -> Iterator[Found]:
    """The requirements of which the search came to no answer."""
    for proof in proofs_of(case):
        if proof.stopped:
            yield Found(
                proof.requirement.place,
                "it could not be settled whether every run keeps to this requirement",
                f"The search of all runs {proof.stopped}.",
                "Rehearse what you are unsure of: every scenario is judged by this line too. Or "
                "command what it speaks of in steps, where it can be followed.",
            )
