"""Ways out that fit the user's own plan: where to give up, what to wait for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from planner.checks.words import listed
from planner.graph import Plan
from planner.graph.owners import owners
from planner.model.robot import STATES, Mechanism
from planner.model.routine import Given
from planner.model.units import Amount, seconds_text

GIVE_UP = "GiveUp"
"""The finish to suggest where a plan has none of its own."""


def ways_home(plan: Plan) -> tuple[str, ...]:
    """The finishes, those first that most time limits lead to, later ones before earlier ones."""
    limits = Counter(after.target for owner in owners(plan.routine) for after in owner.afters)
    finishes = [step.name for step in reversed(plan.routine.finishes)]
    return tuple(sorted(finishes, key=lambda name: -limits[name]))


def way_home(plan: Plan) -> str:
    """The finish that most time limits lead to, or a new one where there is none."""
    return next(iter(ways_home(plan)), GIVE_UP)


def homes_from(plan: Plan, step: str, homes: tuple[str, ...]) -> tuple[str, ...]:
    """Where an exit of a step can give up: in a finish or, inside of a task, in an outcome.

    `homes` are the finishes as `ways_home` gives them. The last outcome comes first: most tasks
    name failure last.
    """
    for group in reversed(plan.routine.groups_around(step)):
        if group.ends:
            return tuple(reversed(group.ends))
    return homes or (GIVE_UP,)


def limit_lines(limit_us: int | None, homes: tuple[str, ...], success: set[str]) -> tuple[str, ...]:
    """A time limit that leads elsewhere than to success, with a new finish where there is none.

    `homes` are the finishes as `ways_home` gives them.
    """
    for home in homes:
        if home not in success:
            return (limit_line(limit_us, home),)
    new = GIVE_UP if GIVE_UP not in homes else "Stopped"
    return (limit_line(limit_us, new), f"finish {new}")


def limit_line(limit_us: int | None, target: str) -> str:
    """A time limit as a plan writes it; 3 s where no other time is known."""
    return f"after {seconds_text(limit_us) if limit_us else '3 s'}, go to {target}"


def sensor_line(given: Given, target: str) -> str:
    """An exit that waits for what a command does; empty where its mechanism tells nothing."""
    mechanism = given.mechanism
    if given.command.reports_done:
        return f"when {mechanism.name} done, go to {target}"
    backwards = any(isinstance(number, Amount) and number.number < 0 for number in given.arguments)
    condition = _reading_of(mechanism, backwards) or _state_of(mechanism)
    return f"when {condition}, go to {target}" if condition else ""


def some(names: Iterable[str], most: int = 4) -> str:
    """Names in code marks, the first few spelt out and the others counted."""
    whole = tuple(names)
    if len(whole) <= most + 1:
        return listed(whole, "and")
    spelt = ", ".join(f"`{name}`" for name in whole[:most])
    return f"{spelt} and {len(whole) - most} more"


def _reading_of(mechanism: Mechanism, backwards: bool) -> str:
    for reading in mechanism.readings.values():
        if reading.from_step_start:
            return f"{reading.spoken} {'< -20' if backwards else '> 20'} {reading.unit.name}"
    return ""


def _state_of(mechanism: Mechanism) -> str:
    for sensor in mechanism.sensors:
        if sensor.kind in STATES:
            return f"{sensor.name} {sensor.values[0]}"
    return ""
