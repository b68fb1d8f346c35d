"""What it finds
    A step that is no finish and has no exit of its own.

Why it matters on the field
    The robot comes there and stands until the match ends. Nothing is finished, and nothing that
    comes later in the plan is done. A match-clock exit is no way out to rely on: it is taken only
    once in a match.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Raise
      after 3 s, go to GiveUp
    step Raise
      arm to 1200 ticks
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Raise
      after 3 s, go to GiveUp
    step Raise
      arm to 1200 ticks
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import limit_line, sensor_line, way_home
from planner.checks.case import Case, Found
from planner.graph import Plan
from planner.graph.lasting import last_given
from planner.graph.walks import open_exits
from planner.model.routine import Step
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """Steps without exits; one that could not be read whole may have had some."""
    if case.plan is None:
        return
    home = way_home(case.plan)
    for step in case.plan.routine.steps.values():
        if step.is_finish or step.incomplete or step.exits:
            continue
        yield Found(
            step.place,
            f"`{step.name}` has no exit and is no finish",
            _why(case.plan, step),
            f"If the routine ends here, make it a finish. If not, write what ends `{step.name}`, "
            "and a time limit.",
            paste=_paste(step, home),
            steps=(step.name,),
        )


def _why(plan: Plan, step: Step) -> str:
    clock = [exit_.written for exit_ in open_exits(plan)[step.name]]
    if not clock:
        return "Once there, the robot stands until the match ends and the plan is never finished."
    at = seconds_text(plan.routine.match_exits[-1].at_us)
    return (
        f"Once there, the robot stands until the match clock sends it on, at {at} at the latest. "
        "If that has happened before, it stands until the match ends."
    )


def _paste(step: Step, home: str) -> tuple[str, ...]:
    title = f' "{step.title}"' if step.title else ""
    waits = [sensor_line(given, home) for given in last_given(step).values()]
    return (f"finish {step.name}{title}", *filter(None, waits), limit_line(None, home))
