"""What it finds
    A mechanism that two lanes of one block give commands to. Nothing is said where one of them is
    certain to be done when the other begins, because that waits for `lane wheels done`, or where
    what they ask about each other keeps them apart in some other way.

Why it matters on the field
    The lanes run side by side, so the last command counts, and which is the last depends on
    what the sensors say. The arm turns round half way, or the wheels stop.

Example
    start Carry
    together Carry
      when all lanes done, go to Lit
      after 6 s, go to GiveUp
      lane wheels
        step Drive
          drive forward 40 %
          when drive travelled > 60 cm, go to done
          after 4 s, go to done
      lane lifting
        step Lift
          arm to 1200 ticks
          drive spin 10 %
          when arm done, go to done
          after 3 s, go to done
    finish Lit
    finish GiveUp

Instead
    start Carry
    together Carry
      when all lanes done, go to Lit
      after 6 s, go to GiveUp
      lane wheels
        step Drive
          drive forward 40 %
          when drive travelled > 60 cm, go to done
          after 4 s, go to done
      lane lifting
        step Lift
          arm to 1200 ticks
          when arm done, go to done
          after 3 s, go to done
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import TypeAlias

from planner.checks.case import Case, Found
from planner.checks.words import listed
from planner.findings import Related
from planner.graph import Plan
from planner.graph.owners import given_in
from planner.graph.side_by_side import Pair, active_at_once, carried_on
from planner.model.routine import Given


def find(case: Case) -> Iterator[Found]:
    """The mechanisms of each block that several of its lanes command."""
    if case.plan is None:
        return
    plan = case.plan
    for block in plan.begins:
        meeting: dict[tuple[str, str], set[Pair] | None] = {}
        for mechanism, by_lane in _by_mechanism(plan, block).items():
            clash = _clashing(plan, by_lane, meeting)
            if clash:
                first = {plan.routine.groups[lane].lane: by_lane[lane][0][0] for lane in clash}
                yield _found(block, mechanism, first)


_Spoken: TypeAlias = "dict[str, list[tuple[Given, tuple[str, ...]]]]"
"""By lane, what it commands one mechanism, with the steps in which it does."""


def _by_mechanism(plan: Plan, block: str) -> dict[str, _Spoken]:
    """By mechanism, the commands that steps and side rules of the lanes give it."""
    found: dict[str, _Spoken] = {}
    inside = {name for name in plan.outer if plan.block_of(name) == block}
    for given, steps in given_in(plan.routine):
        if steps and inside.issuperset(steps):
            lanes = {lane.name for name in steps if (lane := plan.routine.lane_around(name))}
            if len(lanes) == 1:
                by_lane = found.setdefault(given.mechanism.name, {})
                by_lane.setdefault(lanes.pop(), []).append((given, steps))
    return found


def _clashing(
    plan: Plan, by_lane: _Spoken, meeting: dict[tuple[str, str], set[Pair] | None]
) -> list[str]:
    """The lanes of which a command may be in force while another lane gives one, as written."""
    clash: set[str] = set()
    groups = plan.routine.groups
    for one, other in combinations(by_lane, 2):
        if (one, other) not in meeting:
            meeting[one, other] = active_at_once(plan, groups[one], groups[other])
        pairs = meeting[one, other]
        busy, beside = (_busy(plan, lane, by_lane[lane]) for lane in (one, other))
        if pairs is None or any(a in busy and b in beside for a, b in pairs):
            clash |= {one, other}
    return [lane for lane in by_lane if lane in clash]


def _busy(plan: Plan, lane: str, spoken: list[tuple[Given, tuple[str, ...]]]) -> set[str]:
    """The steps of a lane in which a command of it may be in force."""
    goes_on: dict[str, bool] = {}
    for given, steps in spoken:
        for step in steps:
            lasts = given.keep or not given.command.runs
            goes_on[step] = goes_on.get(step, False) or lasts
    return set(carried_on(plan, plan.routine.groups[lane], goes_on))


def _found(block: str, mechanism: str, first: dict[str, Given]) -> Found:
    lanes, given = list(first), list(first.values())
    return Found(
        given[1].place,
        f"the lanes {listed(lanes, 'and')} of `{block}` both tell `{mechanism}` what to do"
        if len(lanes) == 2
        else f"the lanes {listed(lanes, 'and')} of `{block}` all tell `{mechanism}` what to do",
        "They run side by side, so whichever speaks last has its way.",
        f"Let one lane alone command `{mechanism}`, and the others look at it with `lane "
        f"{lanes[0]} done` or `lane {lanes[0]} in STEP`.",
        steps=(block,),
        related=tuple(
            Related(other.place, f"the lane `{lane}` commands it here")
            for lane, other in first.items()
            if other is not given[1]
        ),
    )
