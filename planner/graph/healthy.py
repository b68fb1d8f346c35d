"""The plan as a healthy robot runs it: what is expected happens in its time, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import product
from math import prod
from typing import TypeVar

import networkx as nx

from planner.graph.broken import outcomes, simplified
from planner.graph.broken_memory import begins_with
from planner.graph.faults import item_of
from planner.graph.unfold import Exit, Plan, Steps, unfold
from planner.model.choices import RangeChoice
from planner.model.condition import (
    All,
    Any,
    Condition,
    Fixed,
    Held,
    Looks,
    Not,
    Once,
    leaves,
)
from planner.model.memory import Memory, WordMemory
from planner.model.routine import AfterExit, Group, Routine, Step, WhenExit
from planner.model.units import UNITS, Amount

_Owner = TypeVar("_Owner", Step, Group)

WINDOW = "expected "
"""How the names of windows begin; no plan can write such a name, so that they are no other's."""
MOST_WAYS = 16
"""Of more ways in which cameras can have settled memories nothing is said."""


def expects_anything(routine: Routine) -> bool:
    """Whether an exit says what is expected of a healthy robot."""
    return any(when.expect for step in routine.steps.values() for when in step.whens)


def healthy(routine: Routine) -> Plan:
    """The plan in which each expected exit is a time limit somewhere in its window.

    In a step that expects something nothing else comes from its sensors; the clock, and what is
    counted, remembered or done in other lanes, go on as they do. A step that expects nothing is
    left as it is, so that its sensors may say anything. What is expected of lanes and memories
    alone comes when they bring it about.
    """
    windows: dict[str, RangeChoice] = {}
    timed = {name: _timed(step, windows) for name, step in routine.steps.items()}
    groups = {name: _timed(group, windows) for name, group in routine.groups.items()}
    choices = {**routine.choices, **windows}
    plan = unfold(replace(routine, steps=timed, groups=groups, choices=choices))
    expecting = {step.name for step in routine.steps.values() if expects(step)}
    exits = {
        name: tuple(_without_others(of_step)) if name in expecting else of_step
        for name, of_step in plan.exits.items()
    }
    return with_exits(plan, exits)


def expects(owner: Step | Group) -> bool:
    """Whether an exit of a step or group says what is expected of a healthy robot."""
    return any(when.expect for when in owner.whens)


def is_window(exit_: Exit) -> bool:
    """Whether an exit of a healthy plan is one that is expected, or comes at once."""
    return isinstance(exit_.written, AfterExit) and exit_.written.setting.startswith(WINDOW)


def by_sensors_alone(when: WhenExit) -> bool:
    """Whether sensors and mechanisms must speak for an exit to be taken."""
    return True not in outcomes(simplified(_quiet(when.condition)))


def window_of(
    when: WhenExit, times_us: tuple[int, int], name: str, windows: dict[str, RangeChoice]
) -> AfterExit:
    """An exit as a time limit somewhere between two times; the range joins `windows`."""
    low, high = (Amount(Fraction(time), UNITS["us"]) for time in times_us)
    window = RangeChoice(f"{name}{len(windows)}", low, high, high, when.place)
    windows[window.name] = window
    return AfterExit(
        times_us[1],
        when.target,
        when.count,
        when.place,
        window.name,
        when.restarts,
        when.ended,
    )


def with_exits(plan: Plan, exits: Mapping[str, tuple[Exit, ...]]) -> Plan:
    """The plan with these exits, by step, in place of its own."""
    steps: Steps = nx.MultiDiGraph()
    steps.add_nodes_from(plan.steps)
    for of_step in exits.values():
        steps.add_edges_from((e.source, e.target, {"exit": e}) for e in of_step)
    return replace(plan, steps=steps, exits=dict(exits))


def seen_before(routine: Routine) -> list[Routine] | None:
    """The routine once for each way in which cameras can have settled its memories at the start.

    None where that is not followed: one camera settles two memories, or there are more than
    `MOST_WAYS` ways.
    """
    words = (one for one in routine.memories.values() if isinstance(one, WordMemory))
    seen = [one for one in words if one.seen_by is not None]
    if len({one.seen_by for one in seen}) < len(seen):
        return None
    if prod(len(one.words) for one in seen) > MOST_WAYS:
        return None
    found = []
    for said in product(*(one.words for one in seen)):
        settled: dict[str, Memory] = {
            one.name: begins_with(one, word) for one, word in zip(seen, said, strict=True)
        }
        found.append(replace(routine, memories={**routine.memories, **settled}))
    return found


def _without_others(exits: Iterable[Exit]) -> Iterator[Exit]:
    for exit_ in exits:
        written = exit_.written
        if not isinstance(written, WhenExit) or not by_sensors_alone(written):
            yield exit_


def _quiet(condition: Condition) -> Condition:
    """A condition with false for all in it that sensors and mechanisms alone make true."""
    looks = list(leaves(condition))
    if all(item_of(leaf) for leaf in looks):
        leaf = looks[0]
        assert not isinstance(leaf, Fixed), "a healthy plan has no fault"
        return Fixed(leaf, False)
    match condition:
        case All(parts) | Any(parts):
            return replace(condition, parts=tuple(_quiet(part) for part in parts))
        case Not(part) | Held(part) | Once(part) | Looks(part):
            return replace(condition, part=_quiet(part))
        case _:
            return condition


def _comes_in_time(when: WhenExit) -> bool:
    """Whether an exit comes at its expected time, and nothing else tells when."""
    return bool(when.expect) and any(item_of(leaf) for leaf in leaves(when.condition))


def _timed(owner: _Owner, windows: dict[str, RangeChoice]) -> _Owner:
    """The step or group with its expected exits among its time limits."""
    expected = tuple(filter(_comes_in_time, owner.whens))
    if not expected:
        return owner
    limits: list[AfterExit] = [_limit(when, windows) for when in expected]
    others = tuple(when for when in owner.whens if not _comes_in_time(when))
    return replace(owner, whens=others, afters=(*limits, *owner.afters))


def _limit(when: WhenExit, windows: dict[str, RangeChoice]) -> AfterExit:
    assert when.expect is not None
    return window_of(when, (when.expect.low_us, when.expect.high_us), WINDOW, windows)
