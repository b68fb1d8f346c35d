"""A second interpreter of plans, written apart from the first, to be compared with it.

It knows plans as plain data and shares no code with the planner: a plan is a dict from the name of
a step to its exits in the order written, an exit is a tuple (kind, what, target, most, then):

- ("when", (sensor, value, held_us), target, most, then): the sensor gives that value, held so long
- ("after", limit_us, target, most, then)

and "at" is a list of (at_us, target). `most` is None for an exit that is not counted.
"""

from __future__ import annotations

from typing import Any

EXIT = tuple[str, Any, str, int | None, str | None]


def moves(
    plan: dict[str, list[EXIT]], at: list[tuple[int, str]], trace: list[tuple[int, dict[str, str]]]
) -> list[tuple[int, str]]:
    """Each step entered, with the time; a step without exits is a finish."""
    here, entered, trail = "A", trace[0][0], [(trace[0][0], "A")]
    since: dict[int, int] = {}
    used: dict[tuple[str, int], int] = {}
    pending = sorted(at, key=lambda pair: pair[0])
    for now, seen in trace[1:]:
        if not plan[here]:
            break
        pending = [(t, to) for t, to in pending if not (t <= now and to == here)]
        goal = next((to for t, to in pending if t <= now), None)
        if goal is not None:
            pending = [(t, to) for t, to in pending if (t, to) != _first_due(pending, now)]
        else:
            goal = _by_step(plan[here], here, now, now - entered, seen, since, used)
        if goal is not None:
            here, entered, since = goal, now, {}
            trail.append((now, goal))
    return trail


def _first_due(pending: list[tuple[int, str]], now: int) -> tuple[int, str]:
    return next(pair for pair in pending if pair[0] <= now)


def _by_step(
    exits: list[EXIT],
    here: str,
    now: int,
    clock: int,
    seen: dict[str, str],
    since: dict[int, int],
    used: dict[tuple[str, int], int],
) -> str | None:
    true = []
    for number, (kind, what, *_) in enumerate(exits):
        if kind == "when":
            sensor, value, held = what
            if seen.get(sensor) == value:
                since[number] = min(since.get(number, now), now)
                if now - since[number] >= held:
                    true.append((0, 0, number))
            else:
                since.pop(number, None)
        elif clock >= what:
            true.append((1, what, number))
    if not true:
        return None
    number = min(true)[2]
    _, _, target, most, then = exits[number]
    if most is None:
        return target
    used[here, number] = used.get((here, number), 0) + 1
    return target if used[here, number] <= most else then
