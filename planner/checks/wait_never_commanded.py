"""What it finds
    A wait for a mechanism to be done, where no way through the plan gives that mechanism a command
    that reports done, or a later command has taken its place.

Why it matters on the field
    Nothing is on its way, so nothing ever arrives. The step always ends in its time limit.

Example
    start Raise
    step Raise
      drive forward 20 %
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Raise
    step Raise
      arm to 1200 ticks
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import listed
from planner.findings import Related
from planner.graph import Plan
from planner.graph.lasting import last_given, never_told
from planner.graph.walks import played, ways
from planner.model.condition import Done, leaves
from planner.model.robot import Mechanism
from planner.model.routine import Step


def find(case: Case) -> Iterator[Found]:
    """The `done` conditions of steps that a run can reach, where none can ever be done."""
    plan = case.plan
    if plan is None:
        return
    waits = list(_waits(plan))
    if not waits:
        return
    reachable = played(plan, ways(plan))
    mechanisms = dict.fromkeys(done.mechanism.name for _, done in waits)
    never = {name: never_told(plan, name) for name in mechanisms}
    for step, done in waits:
        if step.name in reachable and step.name in never[done.mechanism.name]:
            yield _found(step, done)


def _waits(plan: Plan) -> Iterator[tuple[Step, Done]]:
    for step in plan.routine.steps.values():
        for when in step.whens:
            for leaf in leaves(when.condition):
                if isinstance(leaf, Done):
                    yield step, leaf


def _found(step: Step, done: Done) -> Found:
    mechanism = done.mechanism
    given = last_given(step).get(mechanism.name)
    spoken = listed(_reporting(mechanism))
    name = mechanism.name
    why = f"On no way to `{step.name}` is {spoken} the last command that `{name}` got."
    if given:
        why = f"The command given here, `{name} {given.command.name}`, does not report done."
    return Found(
        done.place,
        f"`{step.name}` waits for `{mechanism.name} done`, which never comes",
        f"{why} So the step always ends in its time limit.",
        f"Give {spoken} in `{step.name}`, or wait for something else.",
        steps=(step.name,),
        related=(Related(given.place, "does not report done"),) if given else (),
    )


def _reporting(mechanism: Mechanism) -> list[str]:
    commands = mechanism.commands.values()
    return [f"{mechanism.name} {command.name}" for command in commands if command.reports_done]
