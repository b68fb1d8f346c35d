"""What it finds
    A scenario that demands what no run can show: two finishes, a finish and being cut off, a
    command given and not given; or being cut off, where the routine requires to be finished.

Why it matters on the field
    It fails whatever the plan does, and so it says nothing about the plan.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    scenario good_run
      at 1 s, bumper pressed
      must finish in Lit
      must be cut off

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    scenario good_run
      at 1 s, bumper pressed
      must finish in Lit
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.model.requirement import FinishedBy, Requirement
from planner.model.scenario import Demand, MustBeCutOff, MustFinish, MustGive


def find(case: Case) -> Iterator[Found]:
    """The demands that an earlier line rules out."""
    if case.plan is None:
        return
    required = case.plan.routine.requirements
    for scenario in case.scenarios:
        lines: tuple[Demand | Requirement, ...] = (*required, *scenario.demands)
        told: set[Demand | Requirement] = set()
        for one, other in combinations(lines, 2):
            if other not in told and (_rules_out(one, other) or _rules_out(other, one)):
                told.add(other)
                yield _found(scenario.name, one, other)


def _rules_out(one: Demand | Requirement, other: Demand | Requirement) -> bool:
    match one, other:
        case MustFinish(), MustFinish():
            return None not in (one.finish, other.finish) and one.finish != other.finish
        case ((MustFinish() | FinishedBy()), MustBeCutOff()):
            return True
        case MustGive(negated=False), MustGive(negated=True):
            same = (one.mechanism, one.command) == (other.mechanism, other.command)
            return same and (other.arguments is None or _numbers(one) == _numbers(other))
        case _:
            return False


def _numbers(demand: MustGive) -> list[object]:
    return [amount.base for amount in demand.arguments or ()]


def _found(scenario: str, one: Demand | Requirement, other: Demand | Requirement) -> Found:
    words = " ".join(one.place.words.split())
    return Found(
        other.place,
        f"no run of `{scenario}` can meet this line and `{words}`",
        "The scenario fails whatever the plan does.",
        "Delete the one that you do not mean."
        if not isinstance(one, FinishedBy)
        else "If runs may be cut off, delete the requirement. If not, mend the plan so that this "
        "run finishes, and say where with `must finish in`.",
        related=(Related(one.place, "rules it out"),),
    )
