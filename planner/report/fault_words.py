"""What a failure does, in words: locally, to the run, and what notices."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.model.routine import MatchExit, Rule, step_in_words
from planner.model.spoken import spoken_command, spoken_condition
from planner.model.units import decimal_text, seconds_text
from planner.reach.effects import Effect
from planner.reach.losses import How, Settled
from planner.report.prose import joined

NOTHING_BROKEN = "nothing broken"
MOST_NAMED = 4
"""How many steps are named before the rest is counted."""

_RULE = {
    How.NEVER: "the rule never acts",
    How.AT_ONCE: "the rule acts at once",
    How.IN_ANY_CASE: "the rule acts in any case",
}
_EXIT = {
    How.NEVER: "never comes",
    How.AT_ONCE: "comes at once",
    How.IN_ANY_CASE: "comes in any case",
}


def mode(one: Effect) -> str:
    """What is broken, and how."""
    return " and ".join(str(fault) for fault in one.faults) or NOTHING_BROKEN


def local_effects(one: Effect) -> list[str]:
    """What becomes of each exit and side rule that the failure settles, and what turns on."""
    return [_local(settled) for settled in one.settled]


def _local(one: Settled) -> str:
    told = [_asked(one), *_going_on(one)]
    owner = f"{step_in_words(one.owner)}: " if one.owner else ""
    return owner + ", ".join(told)


def _asked(one: Settled) -> str:
    asked = spoken_condition(one.line.condition)
    if isinstance(one.line, Rule):
        return f"whenever {asked}, {spoken_command(one.line.given)}: {_RULE[one.how]}"
    return f"when {asked} {_EXIT[one.how]}"


def _going_on(one: Settled) -> Iterator[str]:
    if surely := one.goes_on.surely:
        yield f"{joined(surely)} {'goes on' if len(surely) == 1 else 'go on'}"
    if perhaps := one.goes_on.perhaps:
        yield f"{joined(perhaps)} may go on"


def still_running(one: Effect) -> Iterator[str]:
    """What still turns when a finish is reached, which switches it off."""
    surely: dict[str, list[str]] = {}
    perhaps: dict[str, list[str]] = {}
    for finish, turning in one.still_running.items():
        for mechanism in turning.surely:
            surely.setdefault(mechanism, []).append(finish)
        for mechanism in turning.perhaps:
            perhaps.setdefault(mechanism, []).append(finish)
    for mechanism, finishes in surely.items():
        yield f"{mechanism} still runs when {joined(finishes, 'or')} is reached"
    for mechanism, finishes in perhaps.items():
        yield f"{mechanism} may still run when {joined(finishes, 'or')} is reached"


def skipped(one: Effect) -> Iterator[str]:
    """The finishes and steps that no run comes to any more."""
    steps = [name for name in one.skipped if name not in one.lost]
    if one.lost:
        yield f"out of reach: {joined(one.lost)}"
    if steps:
        more = len(steps) - MOST_NAMED
        names = [step_in_words(name) for name in steps]
        named = [*names[:MOST_NAMED], f"{more} more"] if more > 1 else names
        yield f"never entered: {joined(named)}"


def chosen(one: Effect) -> Iterator[str]:
    """For which choices that is so, where others fare better."""
    if one.chosen:
        told = [f"{name} is {value}" for name, value in one.chosen.items()]
        yield f"for instance if {joined(told)}"


def detected_by(one: Effect) -> str:
    """What ends the waits that the failure makes vain."""
    at = [exit_.at_us for exit_ in one.detected_by if isinstance(exit_, MatchExit)]
    limits = [exit_.limit_us for exit_ in one.detected_by if not isinstance(exit_, MatchExit)]
    told = [
        f"{what} {joined(dict.fromkeys(map(seconds_text, times)), 'or')}"
        for what, times in (("the limit of", limits), ("the match clock at", at))
        if times
    ]
    return joined(told, "or") if told else "nothing"


def tenths(time_us: int) -> str:
    """A time in seconds for reading, rounded up to a tenth, so that no run is later."""
    return decimal_text(Fraction(-(-time_us // 100_000), 10))
