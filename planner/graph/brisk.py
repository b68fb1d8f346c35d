"""The plan of a healthy robot that wastes no time: where nothing is expected it goes on at once.

What such a robot cannot do in time, none can that takes its time where a plan does not say how much
is expected. So a limit that comes too soon for it is one that comes too soon.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import TypeAlias

from planner.graph.healthy import WINDOW, by_sensors_alone, expects, healthy, window_of
from planner.graph.unfold import Plan
from planner.model.choices import RangeChoice
from planner.model.routine import AfterExit, Group, MatchExit, Routine, Step
from planner.model.values import LONGEST_US
from planner.text import Place

Limit: TypeAlias = tuple[str, Place]
"""A time limit of a group, or an exit by the match clock: its group and its line."""

_AT_ONCE = f"{WINDOW}at once "


@dataclass(frozen=True, slots=True)
class Brisk:
    """The plan of a robot that wastes no time, and where it cannot be told what that robot does."""

    plan: Plan
    unclear: frozenset[str]
    """The steps that expect nothing and that sensors may lead out of to several places."""


def brisk(routine: Routine, pass_us: int) -> Brisk:
    """A healthy robot's plan in which no time is spent where nothing is expected.

    A step that expects nothing and waits for sensors is left by one of these exits within
    `pass_us`, not by its limit. What a group's sensors may do unexpectedly is left out.
    """
    windows: dict[str, RangeChoice] = {}
    steps = {name: _hurried(step, pass_us, windows) for name, step in routine.steps.items()}
    groups = {name: _undisturbed(group) for name, group in routine.groups.items()}
    choices = {**routine.choices, **windows}
    plan = healthy(replace(routine, steps=steps, groups=groups, choices=choices))
    return Brisk(plan, frozenset(filter(lambda name: _is_unclear(routine.steps[name]), steps)))


def lengthened(routine: Routine, limits: Collection[Limit]) -> Routine:
    """The routine in which some limits of groups never come."""

    def without(group: Group) -> Group:
        afters = (
            replace(after, limit_us=LONGEST_US, setting="")
            if (group.name, after.place) in limits
            else after
            for after in group.afters
        )
        return replace(group, afters=tuple(afters))

    groups = {name: without(group) for name, group in routine.groups.items()}
    return replace(routine, groups=groups)


def unclocked(routine: Routine, limits: Collection[Limit]) -> Routine:
    """The routine without some exits by the match clock, in a match that lasts twice as long."""

    def left(exits: tuple[MatchExit, ...]) -> tuple[MatchExit, ...]:
        return tuple(one for one in exits if (one.group, one.place) not in limits)

    groups = {
        name: replace(group, match_exits=left(group.match_exits))
        for name, group in routine.groups.items()
    }
    return replace(
        routine,
        limit_us=2 * routine.limit_us,
        match_exits=left(routine.match_exits),
        groups=groups,
    )


def _hurried(step: Step, pass_us: int, windows: dict[str, RangeChoice]) -> Step:
    sensed = tuple(filter(by_sensors_alone, step.whens))
    if expects(step) or not sensed:
        return step
    soon: list[AfterExit] = [window_of(when, (0, pass_us), _AT_ONCE, windows) for when in sensed]
    return replace(
        step, whens=tuple(when for when in step.whens if when not in sensed), afters=tuple(soon)
    )


def _undisturbed(group: Group) -> Group:
    """The group by what it expects and by its clocks; a limit that is chosen is the one chosen."""
    return replace(
        group,
        whens=tuple(when for when in group.whens if when.expect or not by_sensors_alone(when)),
        afters=tuple(replace(after, setting="") for after in group.afters),
    )


def _is_unclear(step: Step) -> bool:
    sensed = {(w.target, w.restarts) for w in step.whens if by_sensors_alone(w)}
    return not expects(step) and len(sensed) > 1
