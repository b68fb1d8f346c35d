"""Whether all runs keep to the requirements, with a run that has been played where one does not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.checks.case import Case
from planner.checks.required import whole_plan
from planner.checks.shown_run import ShownRun, run_that_shows
from planner.checks.timing import MOST_STATES, is_plain, timing_of
from planner.graph import Plan
from planner.graph.monitor import Broken, judged
from planner.graph.run import Event
from planner.model.requirement import FinishedBy, LeadsTo, Requirement
from planner.reach.position import Position
from planner.reach.required import proved
from planner.reach.search import Bounds, Fails, Run, Stopped


@dataclass(frozen=True, slots=True)
class Proof:
    """What is known of a requirement that not all runs are known to keep to."""

    requirement: Requirement
    run: ShownRun | None = None
    """One that breaks it."""
    broken: Broken | None = None
    """How that run does."""
    stopped: str = ""
    """Why nothing is known, after the words *The search of all runs*."""


def proofs_of(case: Case) -> tuple[Proof, ...]:
    """The requirements that a run breaks, and those of which it is not known, as written.

    They are worked out once for each case. Where runs have no end, or are cut off, what should come
    in time is not asked: that is told by itself.
    """
    if "proofs" not in case.worked_out:
        case.worked_out["proofs"] = tuple(_proofs(case))
    found = case.worked_out["proofs"]
    assert isinstance(found, tuple)
    return found


def _proofs(case: Case) -> list[Proof]:
    plan = whole_plan(case)
    if plan is None or case.tasks_alone or not is_plain(case):
        return []
    ends = timing_of(case) is None
    asked = [
        one
        for one in plan.routine.requirements
        if ends or not isinstance(one, FinishedBy | LeadsTo)
    ]
    return [proof for one in asked if (proof := _proof(plan, one))]


def _proof(plan: Plan, requirement: Requirement) -> Proof | None:
    bounds = Bounds(MOST_STATES)
    answer = proved(plan, requirement, bounds)
    if isinstance(answer, Stopped):
        return Proof(requirement, stopped=f"came to no answer, because of {answer.bound}")
    if not isinstance(answer, Fails):
        return None

    def breaking(one: Plan) -> Run[Position] | None:
        found = proved(one, requirement, bounds, as_chosen=True)
        return found.run if isinstance(found, Fails) else None

    def broken(events: Sequence[Event]) -> Broken | None:
        found = judged(plan, events, events[-1].at_us)
        return next((one for one in found if one.requirement == requirement), None)

    shown = run_that_shows(plan, answer.run, breaking, lambda events: broken(events) is not None)
    if isinstance(shown, ShownRun):
        return Proof(requirement, shown, broken(shown.events))
    return Proof(requirement, stopped=shown) if shown else None
