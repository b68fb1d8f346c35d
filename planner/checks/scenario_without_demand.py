"""What it finds
    A scenario that says what the sensors do and not what must be seen.

Why it matters on the field
    A scenario without a `must` passes whatever the plan does, so it proves nothing.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    scenario good_run
      at 1 s, bumper pressed

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    scenario good_run
      at 1 s, bumper pressed
      must finish in Lit by 2 s
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found


def find(case: Case) -> Iterator[Found]:
    """The scenarios of a case that demand nothing."""
    if case.plan is None:
        return
    routine = case.plan.routine
    for scenario in case.scenarios:
        if scenario.demands or scenario.incomplete:
            continue
        finish = routine.finishes[0].name if routine.finishes else "Lit"
        yield Found(
            scenario.place,
            f"the scenario `{scenario.name}` demands nothing",
            "It passes whatever the plan does.",
            "Say what must be seen in the run: the steps visited, the finish and by when, or a "
            "command given or not given.",
            paste=(f"must finish in {finish} by 20 s",),
        )
