"""What a fault does where it is met: the exits and side rules it settles, and what notices."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import TypeAlias

from planner.graph import Plan
from planner.graph.broken import outcomes
from planner.graph.owners import Owner, asked_around, groups_left, owners
from planner.graph.running import Running, Turning
from planner.model.condition import All, Any, Condition, Held, Looks, Once
from planner.model.routine import AfterExit, MatchExit, Rule, WhenExit
from planner.text import Place

Taken: TypeAlias = Collection[tuple[str, int]]
"""The exits that some run takes, each by its step and its number."""


_STILL = Turning()


class How(Enum):
    """How a fault settles a condition that was open."""

    NEVER = "never"
    AT_ONCE = "at once"
    """It is true in every pass, the first one asked included."""
    IN_ANY_CASE = "in any case"
    """Only time stands before it: what it asks to hold for a while is true in every pass."""


@dataclass(frozen=True, slots=True)
class Settled:
    """An exit or a side rule that a fault settles."""

    owner: str
    """The step or group it stands under; empty for the routine."""
    is_group: bool
    line: WhenExit | Rule
    how: How
    goes_on: Turning
    """What turns on as it never comes true: of an exit in the steps that ask it, of a side rule
    its own mechanism."""

    @property
    def is_unruled(self) -> bool:
        """Whether a side rule never speaks to what turns."""
        return isinstance(self.line, Rule) and self.goes_on != _STILL


def settled(
    plan: Plan, with_faults: Plan, entered: Collection[str], turning: Running
) -> Iterator[Settled]:
    """What stands in entered steps, in groups around them and under the routine, and is never true
    any more, or always; outer ones first."""
    for before, after in zip(owners(plan.routine), owners(with_faults.routine), strict=True):
        steps = [step for step in before.steps if step in entered]
        left = {line.place: condition for condition, line in after.conditions}
        for condition, line in before.conditions if steps else ():
            how = _how(condition, left.get(line.place))
            if how is not None:
                goes_on = _going_on(line, turning.during(steps)) if how is How.NEVER else _STILL
                yield Settled(before.name, before.is_group, line, how, goes_on)


def _going_on(line: WhenExit | Rule, turning: Turning) -> Turning:
    return turning.only(line.given.mechanism.name) if isinstance(line, Rule) else turning


def _how(before: Condition, now: Condition | None) -> How | None:
    """How a fault settles a condition; None where it leaves it open or where it was settled."""
    if now is None:
        return How.NEVER
    if outcomes(now) == {True} != outcomes(before):
        return How.AT_ONCE
    if outcomes(_in_time(now)) == {True} != outcomes(_in_time(before)):
        return How.IN_ANY_CASE
    return None


def _in_time(condition: Condition) -> Condition:
    """What is left of a condition when time is no hindrance."""
    match condition:
        case Held(part) | Once(part) | Looks(part):
            return _in_time(part)
        case All(parts) | Any(parts):
            return replace(condition, parts=tuple(_in_time(part) for part in parts))
        case _:
            return condition


def detecting(
    plan: Plan, with_faults: Plan, lost: Sequence[Settled], taken: Taken | None
) -> Iterator[AfterExit | MatchExit]:
    """What ends each wait in vain: the shortest limit of what asks, else one in it that leaves it,
    else of a group around it, the innermost first; where there is none, an exit by the match clock.

    It is one that some run with the faults takes, as far as that is known.
    """
    for one in lost:
        if one.how is How.NEVER and not isinstance(one.line, Rule):
            asking = _named(plan, one.owner, one.is_group)
            ends = _ends(with_faults, asking, taken)
            every = _in_order(plan, asking, with_faults)
            yield from [exit_ for exit_ in every if ends is None or exit_.place in ends][:1]


def _named(plan: Plan, name: str, is_group: bool) -> Owner:
    every = owners(plan.routine)
    return next(one for one in every if (one.name, one.is_group) == (name, is_group))


def _in_order(plan: Plan, asking: Owner, with_faults: Plan) -> Iterator[AfterExit | MatchExit]:
    """What may end a wait, in the order in which it is looked for."""
    groups = reversed(asked_around(plan.routine, asking))
    around = [_named(plan, group.name, True) for group in groups]
    yield from _by_time(asking.afters)
    if asking.is_group:
        yield from _by_time(_leaving(with_faults, asking))
    for owner in around:
        yield from _by_time(owner.afters)
    for owner in (asking, *around, _named(plan, "", False)):
        yield from owner.match_exits


def _by_time(afters: Iterable[AfterExit]) -> list[AfterExit]:
    return sorted(afters, key=lambda after: after.limit_us)


def _leaving(plan: Plan, group: Owner) -> Iterator[AfterExit]:
    """The limits in a group that lead out of it; a task in it ends by them."""
    outer = {group.name, *(one.name for one in asked_around(plan.routine, group))}
    for exit_ in (exit_ for step in group.steps for exit_ in plan.exits[step]):
        leaves = exit_.group not in outer and group.name in groups_left(plan, exit_)
        if leaves and isinstance(exit_.written, AfterExit):
            yield exit_.written


def _ends(plan: Plan, asking: Owner, taken: Taken | None) -> set[Place] | None:
    """The exits by which runs leave the steps in which something is asked; None if not known."""
    if taken is None:
        return None
    asked = {*asking.steps, *(plan.block_of(step) for step in asking.steps)}
    return {plan.exits[step][number].place for step, number in taken if step in asked}
