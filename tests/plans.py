"""Plans drawn as arrows, without text, for tests of what a graph says."""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping

from planner.graph import Plan, unfold
from planner.model import missing_robot
from planner.model.condition import Unresolved
from planner.model.routine import AfterExit, Count, MatchExit, Routine, Step, WhenExit
from planner.text import Place, Source

SECOND_US = 1_000_000
_PLACE = Place(Source("drawn.routine", "drawn\n"), 1, 1, 6)


def plan(
    exits: Mapping[str, Iterable[WhenExit | AfterExit]],
    finishes: Iterable[str] = (),
    clock: Iterable[tuple[int, str]] = (),
    limit_s: int = 30,
) -> Plan:
    """A plan of steps with their exits, the first of them its start; `clock` in seconds."""
    ends = set(finishes)
    steps = {name: step(name, exits.get(name, ()), name in ends) for name in (*exits, *ends)}
    robot = missing_robot("drawn", _PLACE)
    match_exits = tuple(MatchExit(at * SECOND_US, target, _PLACE) for at, target in sorted(clock))
    start = next(iter(steps), "")
    limit_us = limit_s * SECOND_US
    return unfold(Routine("drawn", "", robot, limit_us, {}, match_exits, start, steps, _PLACE))


def arrows(
    edges: Mapping[str, Iterable[str]] | Iterable[tuple[object, object]],
    start: object,
    finishes: Iterable[object] = (),
) -> Plan:
    """A plan of `when` exits only, as pairs from step to step; `start` is its start."""
    ends = {str(name) for name in finishes}
    exits: dict[str, list[WhenExit | AfterExit]] = {str(start): []}
    pairs = (
        ((source, target) for source, targets in edges.items() for target in targets)
        if isinstance(edges, Mapping)
        else edges
    )
    for source, target in pairs:
        exits.setdefault(str(target), [])
        exits.setdefault(str(source), []).append(when(str(target)))
    return plan(exits, ends)


def step(name: str, exits: Iterable[WhenExit | AfterExit], is_finish: bool) -> Step:
    """A step with its exits sorted as a step keeps them."""
    whens = tuple(e for e in exits if isinstance(e, WhenExit))
    afters = tuple(e for e in exits if isinstance(e, AfterExit))
    return Step(name, "", is_finish, (), whens, afters, _PLACE)


def when(target: str, most: int | None = None, then: str = "") -> WhenExit:
    """An exit that waits for something, perhaps counted."""
    return WhenExit(Unresolved(_PLACE), target, Count(most, then) if most else None, _PLACE)


def after(seconds: float, target: str, most: int | None = None, then: str = "") -> AfterExit:
    """A time limit, perhaps counted."""
    limit_us = round(seconds * SECOND_US)
    return AfterExit(limit_us, target, Count(most, then) if most else None, _PLACE)


def random_plan(seed: int, most_steps: int = 7) -> Plan:
    """A small plan with any exits; the same for the same seed on every machine."""
    draw = random.Random(seed)
    names = [f"S{number}" for number in range(draw.randint(1, most_steps))]
    ends = [f"F{number}" for number in range(draw.randint(0, 2))]
    exits: dict[str, list[WhenExit | AfterExit]] = {name: [] for name in names}
    for name in names:
        for _ in range(draw.choice((0, 1, 1, 2, 2, 3))):
            target, then = draw.choice(names + ends), draw.choice(names + ends)
            most = draw.choice((None, None, None, 1, 2))
            kind = draw.choice(("when", "after"))
            exits[name].append(
                when(target, most, then)
                if kind == "when"
                else after(draw.randint(0, 9), target, most, then)
            )
    times = sorted(draw.sample(range(1, 29), draw.choice((0, 0, 1, 1, 2, 3))))
    clock = [(at, draw.choice(names + ends)) for at in times]
    return plan(exits, ends, clock)
