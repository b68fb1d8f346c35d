"""What it finds
    A step or a finish that no run of the routine ever comes to.

Why it matters on the field
    What is planned there never happens: the arm is not raised, the robot does not park. Most often
    an exit was forgotten, or leads to the wrong step.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from planner.checks.advice import some
from planner.checks.case import Case, Found
from planner.checks.told_as import told_as
from planner.findings import Related, nearest
from planner.graph import Plan
from planner.graph.walks import Ways, entries, played, reached, shared_out, ways
from planner.model.routine import path_of


def find(case: Case) -> Iterator[Found]:
    """The first of each group of steps that only lead to each other, and from nowhere else."""
    plan = case.plan
    if plan is None or not plan.routine.start or plan.step(plan.routine.start).is_finish:
        return
    graph = ways(plan)
    # A name that is no step may have been meant as one of these.
    meant = {
        name for slip in case.slips_of("unknown-step") for name in nearest(slip.word, slip.known)
    }
    meant |= _behind_outcomes(case)
    # A lane that does not come to its end has a finding of its own, where it matters.
    ends = {name for name, step in plan.routine.steps.items() if step.ends_lane}
    lost = set(graph) - reached(graph, played(plan, graph) | meant) - ends
    position = {name: index for index, name in enumerate(plan.routine.steps)}
    alone = graph.subgraph(lost)
    first = entries(plan, alone)
    for name, led_to in zip(first, shared_out(alone, ([name] for name in first)), strict=True):
        only = sorted(set(led_to) - {name}, key=position.__getitem__)
        yield _found(plan, graph, name, only)


def _behind_outcomes(case: Case) -> set[str]:
    """The steps that the exits for outcomes lead to which never come; those have a finding."""
    assert case.plan is not None
    return {
        word
        for slip in case.slips_of("outcome-never-reached")
        for line in slip.place.source.lines
        if re.search(rf"\bends\s+{slip.word}\s*,", line)
        for word in re.findall(r"\w+", line)
        if word in case.plan.routine.steps
    }


def _found(plan: Plan, graph: Ways, name: str, only: list[str]) -> Found:
    step = told_as(plan, name)
    kind = "finish" if plan.step(name).is_finish else "step"
    why = _why(plan, graph, name)
    through = f"reached only through `{step.name}`"
    called, within = step.name, path_of(step.name)[-1]
    if only:
        why += f" So no run comes to {some(only)} either."
    return Found(
        step.place,
        f"no run ever reaches the {kind} `{called}`",
        f"{why} What is planned there never happens.",
        f"Let an exit of the step that should come before it go to `{within}`, or delete it.",
        paste=(f"after 3 s, go to {within}",),
        steps=(name, *only),
        related=tuple(Related(plan.step(other).place, through) for other in only[:6]),
    )


def _why(plan: Plan, graph: Ways, name: str) -> str:
    before = [source for source in graph.predecessors(name) if source != name]
    if before:
        leads = "lead" if len(before) > 1 else "leads"
        return f"Only {some(before)} {leads} here, and no run comes there."
    if any(exit_.target == name for exit_ in plan.routine.match_exits):
        return "By the time of its match-clock exit every run has come to a finish."
    return "No other step leads here." if name in graph[name] else "No exit leads here."
