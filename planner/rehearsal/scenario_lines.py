"""A scenario as the lines of a plan."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.graph import Plan
from planner.model.scenario import (
    DEFAULT_PASS_US,
    Cue,
    Demand,
    MustBeCutOff,
    MustFinish,
    MustVisit,
    Scenario,
)
from planner.model.units import Amount, decimal_text, seconds_text
from planner.rehearsal.facts import spoken_fact, unit_of


def scenario_lines(plan: Plan, scenario: Scenario) -> Iterator[str]:
    """The lines that say what a scenario holds, those under its head indented.

    It has neither ramps nor demands on commands: what is saved of a run has none.
    """
    title = f' "{scenario.title}"' if scenario.title else ""
    yield f"scenario {scenario.name}{title}"
    for choice, value in scenario.choices.items():
        yield f"  choose {choice} {value}"
    if scenario.pass_us != DEFAULT_PASS_US:
        yield f"  pass {decimal_text(Fraction(scenario.pass_us, 1_000))} ms"
    for cue in scenario.cues:
        at = seconds_text(cue.at_us)
        front = f"in {cue.step}, after {at}" if cue.step else f"at {at}"
        yield f"  {front}, {_fact(plan, cue)}"
    yield from (f"  {_demand(demand)}" for demand in scenario.demands)


def _fact(plan: Plan, cue: Cue) -> str:
    if isinstance(cue.value, Amount):
        robot = plan.routine.robot
        return spoken_fact(robot, cue.reading, cue.value.number, cue.value.unit)
    return spoken_fact(plan.routine.robot, cue.reading, cue.value, unit_of(plan, cue.reading))


def _demand(demand: Demand) -> str:
    match demand:
        case MustVisit(steps):
            return f"must visit {', '.join(steps)}"
        case MustFinish(finish):
            return f"must finish in {finish}" if finish else "must finish"
        case MustBeCutOff():
            return "must be cut off"
    raise AssertionError("a run that is saved demands no command")
