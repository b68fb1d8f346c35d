"""What it finds
    A `runs` command given in a finish.

Why it matters on the field
    A finish gives its commands and then switches off all that runs, in the same pass. The motor
    gets no time to do anything. What should still be done belongs in a step before the finish.

Example
    start Place
    step Place
      claw open
      after 0.6 s, go to Lit
    finish Lit
      drive forward -30 %

Instead
    start Place
    step Place
      claw open
      after 0.6 s, go to BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.model.spoken import spoken_command


def find(case: Case) -> Iterator[Found]:
    """The `runs` commands of finishes."""
    if case.plan is None:
        return
    for finish in case.plan.routine.finishes:
        for given in finish.commands:
            if given.command.runs:
                spoken = spoken_command(given)
                yield Found(
                    given.place,
                    f"`{spoken}` is switched off as soon as `{finish.name}` is reached",
                    f"A finish switches off all that runs, so `{given.mechanism.name}` gets no "
                    "time to do anything.",
                    f"Give the command in a step of its own before `{finish.name}`, or leave it "
                    "out.",
                    steps=(finish.name,),
                )
