"""What it finds
    A match-clock exit that can lead back to its step when the plan has gone on from there, so that
    a measured distance is driven once more.

Why it matters on the field
    The exit is there for the late run. In the early one the robot is past that step when the clock
    strikes, goes back to it in the plan though not on the field, and drives its distance a second
    time: off the quay, or into another robot.

Example
    at 8 s of match, go to Home
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Home
      after 4 s, go to Home
    step Home "60 cm back"
      drive forward -40 %
      when drive travelled < -60 cm, go to Fold
      after 4 s, go to GiveUp
    step Fold
      arm to 0 ticks
      when arm done, go to Parked
      after 4 s, go to GiveUp
    finish Parked
    finish GiveUp

Instead
    start Approach
    group InTime
      at 8 s of match, go to Home
      step Approach
        drive forward 40 %
        when bumper pressed, go to Home
        after 4 s, go to Home
    step Home "60 cm back"
      drive forward -40 %
      when drive travelled < -60 cm, go to Fold
      after 4 s, go to GiveUp
    step Fold
      arm to 0 ticks
      when arm done, go to Parked
      after 4 s, go to GiveUp
    finish Parked
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import some
from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph import Plan
from planner.graph.longest import ending
from planner.graph.walks import own_ways, reached
from planner.model.condition import Compare, leaves
from planner.model.robot import Reading
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The match-clock exits of the routine that act behind their own step, where it is measured."""
    plan = case.plan
    if plan is None or plan.routine.incomplete or not plan.routine.start:
        return
    over = ending(plan).too_late if plan.routine.match_exits else ()
    for exit_ in plan.routine.match_exits:
        behind = [] if exit_ in over else _behind(plan, exit_.target)
        again = [name for name in (exit_.target, *behind) if _is_measured(plan, name)]
        if not behind or not again:
            continue
        at, step = seconds_text(exit_.at_us), plan.step(again[0])
        yield Found(
            exit_.place,
            f"at {at} the plan may be past `{exit_.target}` already, and is led back to it",
            f"If the clock strikes in {some(behind)}, what `{step.name}` measures from its start "
            "is driven once more.",
            f"Put the steps before `{exit_.target}` into a group, and this line into the group: "
            "then it leads away from those alone.",
            steps=(exit_.target, *behind),
            related=(Related(step.place, f"`{step.name}` would be done again"),),
        )


def _behind(plan: Plan, target: str) -> list[str]:
    """The steps that no run comes to but through `target`, finishes left out.

    In the terms of flow graphs they are those that it dominates (R. Prosser, "Applications of
    Boolean matrices to the analysis of flow diagrams", 1959).
    """
    graph = own_ways(plan)
    start = plan.routine.start
    if target == start or target not in reached(graph, [start]):
        return []
    inside = reached(graph, [target])
    graph.remove_node(target)
    others = reached(graph, [start])
    steps = plan.routine.steps.values()
    return [
        step.name
        for step in steps
        if step.name in inside - others - {target} and not step.is_finish
    ]


def _is_measured(plan: Plan, name: str) -> bool:
    """Whether a step is left by how far something has come since its start."""
    return any(
        isinstance(leaf, Compare)
        and isinstance(leaf.source, Reading)
        and leaf.source.from_step_start
        for when in plan.step(name).whens
        for leaf in leaves(when.condition)
    )
