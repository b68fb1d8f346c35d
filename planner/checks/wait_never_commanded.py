"""What it finds
    A wait for a mechanism to be done, where no way through the plan gives that mechanism a command
    that reports done, or a later command has taken its place, or it was switched off with the step
    that gave it.

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
from planner.graph.owners import Owner, owners
from planner.graph.walks import played, ways
from planner.model.condition import Done, leaves
from planner.model.robot import Mechanism
from planner.model.routine import Rule


def find(case: Case) -> Iterator[Found]:
    """The `done` conditions that runs come to, where none can ever be done."""
    plan = case.plan
    if plan is None:
        return
    waits = list(_waits(plan))
    if not waits:
        return
    reachable = played(plan, ways(plan))
    mechanisms = dict.fromkeys(done.mechanism.name for _, done, _ in waits)
    never = {name: never_told(plan, name) for name in mechanisms}
    for owner, done, rule in waits:
        asked = reachable.intersection(owner.steps)
        if asked and asked <= never[done.mechanism.name]:
            yield _found(plan, owner, done, rule)


def _waits(plan: Plan) -> Iterator[tuple[Owner, Done, bool]]:
    for owner in owners(plan.routine):
        for condition, line in owner.conditions:
            for leaf in leaves(condition):
                if isinstance(leaf, Done):
                    yield owner, leaf, isinstance(line, Rule)


def _found(plan: Plan, owner: Owner, done: Done, rule: bool) -> Found:
    name = done.mechanism.name
    where = f"`{owner.name}`" if owner.name else "the routine"
    spoken = listed(_reporting(done.mechanism))
    given = last_given(plan.step(owner.steps[0])).get(name) if len(owner.steps) == 1 else None
    why = f"On no way to {where} is {spoken} the last command that `{name}` got and still follows."
    if len(owner.steps) != 1:
        why = f"In no step of {where} is {spoken} the last command that `{name}` got."
    if given:
        why = f"The command given here, `{name} {given.command.name}`, does not report done."
    effect = "the command is never given" if rule else "the step always ends in its time limit"
    if len(owner.steps) != 1 and not rule:
        effect = "the exit is never taken"
    return Found(
        done.place,
        f"{where} waits for `{name} done`, which never comes",
        f"{why} So {effect}.",
        f"Give {spoken} in {where}, or wait for something else.",
        steps=owner.steps if owner.name else (),
        related=(Related(given.place, "does not report done"),) if given else (),
    )


def _reporting(mechanism: Mechanism) -> list[str]:
    commands = mechanism.commands.values()
    return [f"{mechanism.name} {command.name}" for command in commands if command.reports_done]
