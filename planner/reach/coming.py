"""The ways in which passes come from the entry to a step, or to several, to the last one there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.reach.bound import at_most
from planner.reach.pace import Pace
from planner.reach.position import EVENT, MATCH
from planner.reach.search import Meet
from planner.reach.staying import Stay
from planner.reach.zone import Constraint


@dataclass(frozen=True, slots=True)
class Coming:
    """A way to come from the entry to the last pass."""

    entry: Meet
    """What the clocks keep at the entry."""
    leaving: Meet
    """What they keep in the last pass."""
    is_quick: bool
    """Whether that is the first pass that asks."""


def comings(
    stays: tuple[Stay, ...], limits: tuple[tuple[int, int], ...], pace: Pace
) -> Iterator[Coming]:
    """Those where passes can stay at such times; `limits` are the clocks of all limits, with the
    tick at which each is over at the latest."""
    longest, shortest = pace.longest, pace.shortest
    around = [(clock, last) for clock, last in limits if clock != EVENT]
    # The first pass after the entry stays only if it can come before all limits.
    at_once = any(last <= shortest for _, last in limits)
    quick = Meet((from_tick(EVENT, shortest), below_tick(EVENT, longest + 1)))
    if at_once:
        yield Coming(Meet(()), quick, True)
        return
    for stay in stays:
        before = [from_tick(MATCH, stay.reached_from), below_tick(MATCH, stay.high - shortest)]
        before += [below_tick(clock, last - shortest) for clock, last in around]
        after = [from_tick(EVENT, shortest), from_tick(MATCH, stay.low + shortest)]
        after += [below_tick(MATCH, stay.high + longest)]
        after += [below_tick(clock, last + longest) for clock, last in limits]
        if stay.low:
            # Some pass stays at or past `low`, so no limit may be over by then.
            after += [
                Constraint(clock, MATCH, at_most(last - 1 - stay.low)) for clock, last in limits
            ]
        yield Coming(Meet(tuple(before)), Meet(tuple(after)), False)
    for begin, end in _between(stays, shortest):
        entered = [from_tick(MATCH, begin), *([below_tick(MATCH, end)] if end else [])]
        yield Coming(Meet(tuple(entered)), quick, True)
    for clock, last in around:
        yield Coming(Meet((from_tick(clock, last - shortest),)), quick, True)


def below_tick(clock: int, tick: int) -> Constraint:
    """The clock is below a number of ticks."""
    return Constraint(clock, 0, at_most(tick - 1))


def from_tick(clock: int, tick: int) -> Constraint:
    """The clock is at a number of ticks or past it."""
    return Constraint(0, clock, at_most(-tick))


def _between(stays: tuple[Stay, ...], shortest: int) -> Iterator[tuple[int, int | None]]:
    """The times of the match from which on the first pass cannot stay, or only by a long jump."""
    lows = [0, *(max(0, stay.high - shortest) for stay in stays)]
    highs = [*(stay.low for stay in stays), None]
    return ((low, high) for low, high in zip(lows, highs, strict=True) if low != high)
