"""What it finds
    A step whose time limit leads to the same step as what it waits for, where that next step relies
    on it: it waits for the same sensor to say the opposite. A move that goes on either way, such as
    a drive that is ended by a bumper or by time, earns no finding.

Why it matters on the field
    When the limit runs out, something went wrong: the tin is not there, a plug is loose. The next
    step then finds at once what it waits for, since it never was otherwise. The routine goes on as
    if all were well, and fails later, where nobody looks for the cause.

Example
    start TakeTin
    step TakeTin
      roller take
      when tin_gate broken, go to DropTin
      after 3 s, go to DropTin
    step DropTin
      roller drop
      when tin_gate clear for 0.3 s, go to Dropped
      after 1 s, go to GiveUp
    finish Dropped
    finish GiveUp

Instead
    start TakeTin
    step TakeTin
      roller take
      when tin_gate broken, go to DropTin
      after 3 s, go to GiveUp
    step DropTin
      roller drop
      when tin_gate clear for 0.3 s, go to Dropped
      after 1 s, go to GiveUp
    finish Dropped
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import homes_from, limit_lines, ways_home
from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph import Plan
from planner.model.condition import Answers, Condition, Not, leaves, parts
from planner.model.robot import STATES
from planner.model.routine import Step, StepExit
from planner.model.spoken import spoken_condition


def find(case: Case) -> Iterator[Found]:
    """Steps that lead to one step only, which waits for the opposite of what they waited for."""
    if case.plan is None:
        return
    plan, homes = case.plan, ways_home(case.plan)
    # A limit that leads elsewhere could skip the step that stops what is kept running.
    kept = any(given.keep for step in plan.routine.steps.values() for given in step.commands)
    for step in plan.routine.steps.values():
        if step.incomplete or not step.whens or not step.afters:
            continue
        targets = _targets(step.exits)
        if len(targets) == 1 and _relies(plan.step(next(iter(targets))), step):
            yield _found(plan, step, () if kept else homes_from(plan, step.name, homes))


def _relies(after: Step, step: Step) -> bool:
    """Whether a step waits for a sensor to stop saying what the step before waited for."""
    got = {said for when in step.whens for said in _states(when.condition)}
    lost = {said for when in after.whens for said in _states(when.condition)}
    return any((sensor, not on) in lost for sensor, on in got)


def _states(condition: Condition) -> Iterator[tuple[str, bool]]:
    """What two-way sensors are asked for: the sensor, and whether for the first of its states."""
    behind_not = {id(part.part) for part in parts(condition) if isinstance(part, Not)}
    for leaf in leaves(condition):
        if isinstance(leaf, Answers) and leaf.sensor.kind in STATES:
            first = leaf.value == leaf.sensor.values[0]
            yield leaf.sensor.name, first is not (id(leaf) in behind_not)


def _found(plan: Plan, step: Step, homes: tuple[str, ...]) -> Found:
    limit = min(step.afters, key=lambda after: after.limit_us)
    waits = " or ".join(f"`{spoken_condition(when.condition)}`" for when in step.whens[:2])
    after = plan.step(limit.target)
    way_out = (
        "Let the limit lead to another step: one that tries again, leaves out what cannot work "
        "now, or gives up in a finish of its own."
    )
    if not homes:
        way_out += " Mind what is still running: it has to be stopped on that way, too."
    return Found(
        limit.place,
        f"`{step.name}` goes on to `{limit.target}` even if {waits} never comes",
        f"When the limit runs out something went wrong, and `{after.name}` finds at once what it "
        "waits for.",
        way_out,
        paste=limit_lines(limit.limit_us, homes, {limit.target}) if homes else (),
        steps=(step.name,),
        related=tuple(Related(when.place, "leads to the same step") for when in step.whens[:6]),
    )


def _targets(exits: tuple[StepExit, ...]) -> set[str]:
    direct = {exit_.target for exit_ in exits}
    return direct | {exit_.count.then for exit_ in exits if exit_.count}
