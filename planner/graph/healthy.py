"""The plan as a healthy robot runs it: what is expected happens in its time, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import TypeVar

import networkx as nx

from planner.graph.unfold import Exit, ExitKind, Plan, Steps, unfold
from planner.model.choices import RangeChoice
from planner.model.routine import AfterExit, Group, Routine, Step, WhenExit
from planner.model.units import UNITS, Amount

_Owner = TypeVar("_Owner", Step, Group)


def expects_anything(routine: Routine) -> bool:
    """Whether an exit says what is expected of a healthy robot."""
    return any(when.expect for step in routine.steps.values() for when in step.whens)


def healthy(routine: Routine) -> Plan:
    """The plan in which each expected exit is a time limit somewhere in its window.

    In a step that expects something no other condition comes true. A step that expects nothing is
    left as it is, so that its sensors may say anything.
    """
    windows: dict[str, RangeChoice] = {}
    timed = {name: _timed(step, windows) for name, step in routine.steps.items()}
    groups = {name: _timed(group, windows) for name, group in routine.groups.items()}
    choices = {**routine.choices, **windows}
    plan = unfold(replace(routine, steps=timed, groups=groups, choices=choices))
    expecting = {step.name for step in routine.steps.values() if _expected(step.whens)}
    exits = {
        name: tuple(_without_others(of_step)) if name in expecting else of_step
        for name, of_step in plan.exits.items()
    }
    steps: Steps = nx.MultiDiGraph()
    steps.add_nodes_from(plan.steps)
    for of_step in exits.values():
        steps.add_edges_from((e.source, e.target, {"exit": e}) for e in of_step)
    return replace(plan, steps=steps, exits=exits)


def _without_others(exits: Iterable[Exit]) -> Iterator[Exit]:
    return (exit_ for exit_ in exits if exit_.kind is not ExitKind.WHEN)


def _expected(whens: Iterable[WhenExit]) -> tuple[WhenExit, ...]:
    return tuple(when for when in whens if when.expect)


def _timed(owner: _Owner, windows: dict[str, RangeChoice]) -> _Owner:
    """The step or group with its expected exits among its time limits."""
    expected = _expected(owner.whens)
    if not expected:
        return owner
    limits: list[AfterExit] = [_limit(when, windows) for when in expected]
    others = tuple(when for when in owner.whens if not when.expect)
    return replace(owner, whens=others, afters=(*limits, *owner.afters))


def _limit(when: WhenExit, windows: dict[str, RangeChoice]) -> AfterExit:
    assert when.expect is not None
    low, high = (
        Amount(Fraction(time), UNITS["us"]) for time in (when.expect.low_us, when.expect.high_us)
    )
    # No name that a plan can write, so that it is no other's.
    window = RangeChoice(f"expected {len(windows)}", low, high, high, when.expect.place)
    windows[window.name] = window
    return AfterExit(
        when.expect.high_us,
        when.target,
        when.count,
        when.place,
        window.name,
        when.restarts,
        when.ended,
    )


def _time(microseconds: int) -> Amount:
    return Amount(Fraction(microseconds), UNITS["us"])
