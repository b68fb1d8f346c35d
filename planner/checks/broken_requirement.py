"""What it finds
    A requirement that some run breaks. All runs are searched, whatever the sensors say and however
    the controller's passes fall, and the run that is shown has been played first. Where every run
    that comes to a certain step breaks it, that step is told instead: it does itself what is never
    to be at once, or nothing in the plan does what has to come first or has to follow.

Why it matters on the field
    The plan does what its own author has ruled out, and one day it will do so in a match.

Example
    require claw open only after arm to 1200 ticks
    start Place
    step Place
      claw open
      after 0.6 s, go to Lit
    finish Lit

Instead
    require claw open only after arm to 1200 ticks
    start Raise
    step Raise
      arm to 1200 ticks
      when arm done, go to Place
      after 3 s, go to GiveUp
    step Place
      claw open
      after 0.6 s, go to Lit
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.proofs import proofs_of
from planner.checks.required import beginning, can_come, reachable, whole_plan
from planner.checks.shown_run import PlayedRun
from planner.findings import Moment, Related, ShownRun
from planner.graph import Plan
from planner.model.requirement import FinishedBy, LeadsTo, NeverWhile, OnlyAfter, Requirement


def find(case: Case) -> Iterator[Found]:
    """The requirements that one step, or what no step does, is enough to break."""
    plan = whole_plan(case)
    if plan is None:
        return
    steps = reachable(plan)
    for requirement in plan.routine.requirements:
        step, why = _breaks(plan, requirement, steps)
        if not step:
            yield from _proved(case, requirement)
        else:
            yield Found(
                requirement.place,
                f"every run that comes to `{step}` breaks this requirement",
                why,
                f"Mend the plan so that it keeps to the line, or `{step}` out of it; if the line "
                "says more than you mean, say less.",
                steps=(step,),
                related=(Related(plan.step(step).place, "broken here"),),
            )


def _proved(case: Case, requirement: Requirement) -> Iterator[Found]:
    """The run that breaks a requirement, where the search of all runs has found one."""
    for proof in proofs_of(case):
        if proof.requirement is requirement and proof.run and proof.broken:
            moments = (*proof.run.shown.moments, *_end(proof.run))
            yield Found(
                requirement.place,
                "some run breaks this requirement",
                f"On one run like the one below, {proof.broken.seen}.",
                f"{_mend(requirement, moments[-1].step)} If the line says more than you mean, say "
                "less.",
                steps=tuple(dict.fromkeys(moment.step for moment in moments)),
                related=tuple(_where(proof.run)),
                run=ShownRun(moments),
            )


def _mend(requirement: Requirement, step: str) -> str:
    match requirement:
        case OnlyAfter(_, earlier):
            return (
                f"Let `{earlier.spoken}` come on this way too, before `{step}`, or let the way "
                "lead elsewhere."
            )
        case NeverWhile(one, other):
            return (
                f"Let one of `{one.spoken}` and `{other.spoken}` be over before `{step}` begins "
                "the other."
            )
        case LeadsTo(cause, effect):
            return f"Let `{effect.spoken}` come sooner after `{cause.spoken}`, or allow more time."
        case FinishedBy():
            return "Shorten what lasts longest on this run, or allow more time."


def _where(run: PlayedRun) -> Iterator[Related]:
    """The line by which the run comes to where the requirement is broken."""
    if run.exits and run.entered:
        yield Related(run.exits[-1].place, f"by this line the run comes to `{run.entered[-1]}`")


def _end(run: PlayedRun) -> Iterator[Moment]:
    """Where the run ends, since that is where it breaks the requirement."""
    if run.entered and run.shown.moments:
        last = run.shown.moments[-1]
        yield Moment(last.earliest_us, last.latest_us, run.entered[-1], "here it is broken")


def _breaks(plan: Plan, requirement: Requirement, steps: set[str]) -> tuple[str, str]:
    """The first step that breaks it and why, in a sentence; both empty where none surely does."""
    match requirement:
        case NeverWhile(one, other):
            both = beginning(plan, other, set(beginning(plan, one, steps)))
            if both:
                what = f"`{one.spoken}` and `{other.spoken}`"
                return both[0], f"In `{both[0]}` {what if one != other else 'it'} comes at once."
        case OnlyAfter(later, earlier):
            first = beginning(plan, later, steps)
            start = [step for step in first if step == plan.routine.start]
            if first and (later == earlier or not can_come(plan, earlier, steps)):
                return first[0], f"Nothing does `{earlier.spoken}` before it."
            if start:
                return start[0], "The plan begins there, and nothing has come before."
        case LeadsTo(cause, effect):
            first = beginning(plan, cause, steps)
            if first and cause != effect and not can_come(plan, effect, steps):
                return first[0], f"Nothing in the plan does `{effect.spoken}`, so it never follows."
        case _:
            pass
    return "", ""
