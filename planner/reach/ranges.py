"""Limits that are chosen from a range before the start, at both ends of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import product

from planner.graph import Plan, unfold
from planner.graph.owners import owners
from planner.model.choices import RangeChoice
from planner.model.routine import AfterExit, Routine
from planner.reach.staying import chosen_from


def has_ranges(plan: Plan) -> bool:
    """Whether a limit of the plan is chosen from a range before the start."""
    return bool(_ranges(plan.routine))


def at_ends(plan: Plan) -> Iterator[Plan]:
    """The plan with each such limit at its lowest and its highest; the plan where it has none."""
    ranges = _ranges(plan.routine)
    if not ranges:
        yield plan
        return
    ends = [(int(choice.low.base), int(choice.high.base)) for choice in ranges.values()]
    for values in product(*ends):
        yield _with(plan, ranges, dict(zip(ranges, values, strict=True)))


def _ranges(routine: Routine) -> dict[str, RangeChoice]:
    afters = [after for owner in owners(routine) for after in owner.afters]
    return {after.setting: choice for after in afters if (choice := chosen_from(routine, after))}


def _with(plan: Plan, ranges: Mapping[str, RangeChoice], chosen: Mapping[str, int]) -> Plan:
    routine = plan.routine

    def changed(afters: tuple[AfterExit, ...]) -> tuple[AfterExit, ...]:
        return tuple(
            replace(after, limit_us=chosen[after.setting])
            if after.setting in ranges and chosen_from(routine, after)
            else after
            for after in afters
        )

    groups = {n: replace(one, afters=changed(one.afters)) for n, one in routine.groups.items()}
    steps = {n: replace(one, afters=changed(one.afters)) for n, one in routine.steps.items()}
    return unfold(replace(routine, groups=groups, steps=steps))
