"""Single changes with which every run of a plan finishes in time; each is proved, not guessed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from planner.checks.advice import way_home
from planner.checks.timing import finishes_in_time
from planner.graph import Plan, unfold
from planner.graph.unfold import Exit
from planner.model.routine import AfterExit, Count, MatchExit, Routine, WhenExit, path_of
from planner.model.units import seconds_text
from planner.text import Place

_SECOND_US = 1_000_000
_TRIED_S = (2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25)
"""How long before the limit a match-clock exit is tried to come."""
_MOST_ROUNDS = 6
"""How many rounds fewer are tried at most."""
_One = TypeVar("_One", WhenExit, AfterExit)


@dataclass(frozen=True, slots=True)
class Mend:
    """A change that is enough."""

    line: str
    """What to write; of a counted exit the count alone, as the plan writes it."""
    instead_of: Place | None
    """The line that it changes; None for a line more."""


def clock_mend(plan: Plan) -> Mend | None:
    """A match-clock exit that brings every run home: one of the plan's own, sooner, or another."""
    routine = plan.routine
    # One that comes too late goes on coming, and would undo what another one before it mends.
    for own in routine.match_exits:
        if own.setting or own.chosen:
            continue
        for at_us in _tried(routine, own.at_us):
            if _brings_home(routine, own, replace(own, at_us=at_us)):
                return Mend(_written(at_us, own.target), own.place)
    targets = dict.fromkeys((*(own.target for own in routine.match_exits), way_home(plan)))
    for target in targets:
        for at_us in _tried(routine, routine.limit_us):
            more = MatchExit(at_us, target, routine.place)
            if target in routine.steps and _brings_home(routine, None, more):
                return Mend(_written(at_us, target), None)
    return None


def rounds_mend(plan: Plan, taken: Sequence[Exit]) -> Mend | None:
    """A lower count of one of the counted exits that a run takes; None where none is enough."""
    counted = {one.place: count for one in taken if (count := _count_of(one))}
    for place, count in counted.items():
        for most in range(count.most - 1, max(0, count.most - 1 - _MOST_ROUNDS), -1):
            fewer = _recounted(plan.routine, place, replace(count, most=most))
            if finishes_in_time(unfold(fewer)):
                return Mend(f"at most {most} time{'s' if most > 1 else ''}", place)
    return None


def _tried(routine: Routine, before_us: int) -> Iterator[int]:
    """Whole seconds on the match clock before a time, the latest first."""
    for seconds in _TRIED_S:
        at_us = (routine.limit_us // _SECOND_US - seconds) * _SECOND_US
        if 0 < at_us < before_us:
            yield at_us


def _brings_home(routine: Routine, old: MatchExit | None, new: MatchExit) -> bool:
    kept = [one for one in routine.match_exits if one is not old]
    exits = sorted((*kept, new), key=lambda one: one.at_us)
    return finishes_in_time(unfold(replace(routine, match_exits=tuple(exits))))


def _written(at_us: int, target: str) -> str:
    return f"at {seconds_text(at_us)} of match, go to {path_of(target)[0]}"


def _count_of(exit_: Exit) -> Count | None:
    """The count of an exit that has one to itself."""
    count = None if isinstance(exit_.written, MatchExit) else exit_.written.count
    return count if count and not count.counter else None


def _recounted(routine: Routine, place: Place, count: Count) -> Routine:
    """The routine with another count in one line; a task's line stands in each step that does
    it."""
    other = _recounting(place, count)
    steps = {
        name: replace(
            step, whens=tuple(map(other, step.whens)), afters=tuple(map(other, step.afters))
        )
        for name, step in routine.steps.items()
    }
    groups = {
        name: replace(
            group, whens=tuple(map(other, group.whens)), afters=tuple(map(other, group.afters))
        )
        for name, group in routine.groups.items()
    }
    return replace(routine, steps=steps, groups=groups)


def _recounting(place: Place, count: Count) -> Callable[[_One], _One]:
    return lambda one: replace(one, count=count) if one.place == place else one
