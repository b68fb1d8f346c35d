"""Where the happenings of requirements can come from; shared by the checks of requirements."""

from __future__ import annotations

from planner.checks.case import Case
from planner.graph import Plan
from planner.graph.lasting import last_given
from planner.graph.owners import given_in
from planner.graph.walks import played, ways
from planner.model.memory import Computed
from planner.model.requirement import Happening, Told


def whole_plan(case: Case) -> Plan | None:
    """The plan, where it is known whole and has requirements: what is absent from it is absent."""
    plan = case.whole_plan
    return plan if plan and plan.routine.requirements else None


def reachable(plan: Plan) -> set[str]:
    """The steps that runs come to."""
    return played(plan, ways(plan))


def beginning(plan: Plan, happening: Happening, steps: set[str]) -> list[str]:
    """Those of some steps whose entry begins it, in the order of the text."""
    return [name for name in plan.routine.steps if name in steps and _begins(plan, happening, name)]


def can_come(plan: Plan, happening: Happening, steps: set[str]) -> bool:
    """Whether anything in those steps, a side rule included, begins it."""
    if not isinstance(happening, Told):
        return bool(happening.steps & steps)
    return any(
        given.mechanism.name == happening.mechanism
        and happening.fits(given.command.name, given.arguments)
        and not steps.isdisjoint(inside)
        for given, inside in given_in(plan.routine)
    )


def _begins(plan: Plan, happening: Happening, step: str) -> bool:
    if not isinstance(happening, Told):
        return step in happening.steps
    # Of several commands to one mechanism the last is sent (M7), none that runs in a finish (M10).
    given = last_given(plan.step(step)).get(happening.mechanism)
    if given is None or (given.command.runs and plan.step(step).is_finish):
        return False
    if happening.arguments is not None and any(isinstance(n, Computed) for n in given.arguments):
        # What is worked out on the way is not sure to be what is asked for.
        return False
    return happening.fits(given.command.name, given.arguments)
