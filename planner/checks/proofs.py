"""Whether all runs keep to the requirements, with a run that has been played where one does not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.checks.case import Case
from planner.checks.required import whole_plan
from planner.checks.shown_run import PlayedRun, run_that_shows
from planner.checks.timing import bounds_for, is_plain, timing_of
from planner.graph import Plan
from planner.graph.monitor import Broken, judged
from planner.graph.run import Event
from planner.model.requirement import FinishedBy, LeadsTo, Requirement
from planner.reach.position import Position
from planner.reach.required import proved
from planner.reach.search import Fails, Run, Stopped


@dataclass(frozen=True, slots=True)
class Proof:
    """What is known of a requirement that not all runs are known to keep to."""

    requirement: Requirement
    run: PlayedRun | None = None
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
    return case.once(_proofs)


def run_that_breaks(plan: Plan, requirement: Requirement) -> Run[Position] | None:
    """A run of a plan as chosen that breaks a requirement; None where the search finds none."""
    found = proved(plan, requirement, bounds_for(plan), as_chosen=True)
    return found.run if isinstance(found, Fails) else None


def broken_by(plan: Plan, requirement: Requirement, events: Sequence[Event]) -> Broken | None:
    """How what happens in a run breaks a requirement; None where it does not."""
    found = judged(plan, events, events[-1].at_us)
    return next((one for one in found if one.requirement == requirement), None)


def _proofs(case: Case) -> tuple[Proof, ...]:
    plan = whole_plan(case)
    if plan is None or case.tasks_alone or not is_plain(case):
        return ()
    ends = timing_of(case) is None
    asked = [
        one
        for one in plan.routine.requirements
        if ends or not isinstance(one, FinishedBy | LeadsTo)
    ]
    return tuple(proof for one in asked if (proof := _proof(plan, one)))


def _proof(plan: Plan, requirement: Requirement) -> Proof | None:
    answer = proved(plan, requirement, bounds_for(plan))
    if isinstance(answer, Stopped):
        return Proof(requirement, stopped=f"came to no answer, because of {answer.bound}")
    if not isinstance(answer, Fails):
        return None

    shown = run_that_shows(
        plan,
        answer.run,
        lambda one: run_that_breaks(one, requirement),
        lambda events: broken_by(plan, requirement, events) is not None,
        early=True,
    )
    if isinstance(shown, PlayedRun):
        return Proof(requirement, shown, broken_by(plan, requirement, shown.events))
    return Proof(requirement, stopped=shown) if shown else None
