"""Requirements judged on a run: one pass after the other, with little to remember (M15).

A `Watch` is a value: two runs with equal watches cannot be told apart by what comes later.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from planner.graph.owners import groups_left
from planner.graph.run import (
    Commanded,
    Entered,
    Event,
    Finished,
    Left,
    LimitReached,
    Stopped,
    SwitchedOff,
)
from planner.graph.unfold import Plan
from planner.model.requirement import (
    FinishedBy,
    Happening,
    Inside,
    LeadsTo,
    NeverWhile,
    OnlyAfter,
    Requirement,
    Told,
    happenings,
)
from planner.model.units import seconds_text


@dataclass(frozen=True, slots=True)
class Broken:
    """A requirement that a run did not keep to."""

    requirement: Requirement
    at_us: int
    """From when on the match clock that is certain."""
    event: Event | None
    """What broke it; None where it was that nothing came in time."""
    seen: str
    """What was seen, in words."""


@dataclass(frozen=True, slots=True)
class Watch:
    """What must be remembered of a run so far to judge one requirement."""

    requirement: Requirement
    on: tuple[frozenset[str], ...]
    """Of each of its happenings the steps or the mechanism that it is on in; none where it is off.
    """
    came: bool = False
    """Of `only after`: whether the earlier happening was on in some pass."""
    since_us: int | None = None
    """Of `leads to`: the first beginning of the cause that the effect has not followed yet."""
    over: bool = False
    """Whether the run has ended."""
    broken: Broken | None = None


def watches(plan: Plan) -> tuple[Watch, ...]:
    """A watch for each requirement of a plan, before the first pass."""
    return tuple(
        Watch(one, tuple(frozenset[str]() for _ in happenings(one)))
        for one in plan.routine.requirements
    )


def judged(plan: Plan, run: Sequence[Event], until_us: int = 0) -> tuple[Broken, ...]:
    """The requirements that a run breaks, as written; a run that has not ended lasts `until_us`."""
    watched = list(watches(plan))
    if not watched:
        return ()
    passes = [(at_us, tuple(events)) for at_us, events in groupby(run, lambda event: event.at_us)]
    if passes and passes[-1][0] < until_us:
        passes.append((until_us, ()))
    for at_us, events in passes:
        watched = [follow(plan, watch, at_us, events) for watch in watched]
    return tuple(watch.broken for watch in watched if watch.broken)


def follow(plan: Plan, watch: Watch, at_us: int, events: Iterable[Event]) -> Watch:
    """The watch after a pass at `at_us` on the match clock, in which those events happened."""
    if watch.over or watch.broken:
        return watch
    happened = tuple(events)
    end = next((e for e in happened if isinstance(e, Finished | LimitReached | Stopped)), None)
    parts = [
        happening_after(plan, happening, on, happened)
        for happening, on in zip(happenings(watch.requirement), watch.on, strict=True)
    ]
    on = tuple(part for part, _ in parts)
    began = tuple(event for _, event in parts)
    late = _too_late(watch, at_us)
    if late:
        return replace(watch, broken=late)
    return replace(_judge(watch, at_us, on, began, end), on=on, over=end is not None)


def happening_after(
    plan: Plan, happening: Happening, on: frozenset[str], events: tuple[Event, ...]
) -> tuple[frozenset[str], Event | None]:
    """Where a happening is on after a pass, and what it began with if it began in this one."""
    if isinstance(happening, Told):
        return _followed(happening, on, events)
    return _inside(plan, happening, on, events)


def _followed(
    told: Told, on: frozenset[str], events: tuple[Event, ...]
) -> tuple[frozenset[str], Event | None]:
    # A mechanism is sent one thing in a pass at most (M7).
    for event in events:
        match event:
            case Commanded(_, told.mechanism, command, arguments):
                if told.fits(command, arguments):
                    return frozenset({told.mechanism}), event
                return frozenset(), None
            case SwitchedOff(_, told.mechanism):
                return frozenset(), None
            case _:
                pass
    return on, None


def _inside(
    plan: Plan, inside: Inside, on: frozenset[str], events: tuple[Event, ...]
) -> tuple[frozenset[str], Event | None]:
    began: Event | None = None
    stays = False
    for event in events:
        match event:
            case Left(_, step, exit_):
                left = frozenset(groups_left(plan, exit_))
                # A group goes on where an exit leads from one of its steps to another.
                stays = step in on and bool(inside.groups) and inside.groups.isdisjoint(left)
                # With a group all is left that is active in it.
                on = frozenset(s for s in on if s != step and left.isdisjoint(_around(plan, s)))
            case Entered(_, step) if step in inside.steps:
                if not stays and not (on and inside.groups):
                    began = event
                on |= {step}
            case _:
                pass
    return on, began


def _around(plan: Plan, step: str) -> Iterator[str]:
    return (group.name for group in plan.routine.groups_around(step))


def _too_late(watch: Watch, at_us: int) -> Broken | None:
    """The requirement is broken where its time has run out before this pass."""
    match watch.requirement:
        case FinishedBy(by_us) as requirement if at_us > by_us:
            return Broken(requirement, by_us, None, f"no finish by {seconds_text(by_us)}")
        case LeadsTo(cause, effect, within_us) as requirement if watch.since_us is not None:
            due_us = watch.since_us + within_us
            if at_us > due_us:
                came = f"`{cause.spoken}` came at {seconds_text(watch.since_us)}"
                seen = f"{came}, and no `{effect.spoken}` by {seconds_text(due_us)}"
                return Broken(requirement, due_us, None, seen)
        case _:
            pass
    return None


def _judge(
    watch: Watch,
    at_us: int,
    on: tuple[frozenset[str], ...],
    began: tuple[Event | None, ...],
    end: Event | None,
) -> Watch:
    """The watch after a pass that comes in time."""
    at, requirement = seconds_text(at_us), watch.requirement
    match requirement:
        case FinishedBy():
            if isinstance(end, LimitReached) and end.cut_off:
                seen = f"the run was cut off at {at}"
                return replace(watch, broken=Broken(requirement, at_us, end, seen))
        case NeverWhile(one, other):
            if all(on):
                seen = f"`{one.spoken}` and `{other.spoken}` were both on at {at}"
                event = began[0] or began[1]
                return replace(watch, broken=Broken(requirement, at_us, event, seen))
        case OnlyAfter(later, earlier):
            if began[0] and not watch.came:
                seen = f"`{later.spoken}` came at {at}, and no `{earlier.spoken}` before it"
                return replace(watch, broken=Broken(requirement, at_us, began[0], seen))
            return replace(watch, came=watch.came or bool(on[1]))
        case LeadsTo():
            return _answered(watch, requirement, at_us, on, began, end)
    return watch


def _answered(
    watch: Watch,
    requirement: LeadsTo,
    at_us: int,
    on: tuple[frozenset[str], ...],
    began: tuple[Event | None, ...],
    end: Event | None,
) -> Watch:
    since_us = watch.since_us
    if since_us is None and began[0]:
        since_us = at_us
    if on[1]:
        since_us = None
    # After the end nothing comes any more. An operator's stop is no fault of the plan.
    if since_us is not None and isinstance(end, Finished | LimitReached):
        came = f"`{requirement.cause.spoken}` came at {seconds_text(since_us)}"
        ended = f"the run ended at {seconds_text(at_us)}"
        seen = f"{came}, and {ended} without `{requirement.effect.spoken}`"
        return replace(watch, broken=Broken(requirement, at_us, end, seen))
    return replace(watch, since_us=since_us)
