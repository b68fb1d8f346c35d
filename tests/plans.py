"""Plans drawn as arrows, without text, for tests of what a graph says."""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping
from dataclasses import replace

from planner.graph import Plan, unfold
from planner.model import missing_robot
from planner.model.condition import Unresolved
from planner.model.routine import AfterExit, Count, Group, MatchExit, Routine, Step, WhenExit
from planner.text import Place, Source

SECOND_US = 1_000_000
_PLACE = Place(Source("drawn.routine", "drawn\n"), 1, 1, 6)


def plan(
    exits: Mapping[str, Iterable[WhenExit | AfterExit]],
    finishes: Iterable[str] = (),
    clock: Iterable[tuple[int, str]] = (),
    limit_s: int = 30,
    groups: Iterable[tuple[Group, Iterable[str]]] = (),
) -> Plan:
    """A plan of steps with their exits, the first of them its start; `clock` in seconds.

    `groups` come with the steps that stand directly in them, outer ones first.
    """
    ends = set(finishes)
    inside = {name: group.name for group, names in groups for name in names}
    steps = {
        name: step(name, exits.get(name, ()), name in ends, inside.get(name, ""))
        for name in (*exits, *ends)
    }
    robot = missing_robot("drawn", _PLACE)
    match_exits = tuple(MatchExit(at * SECOND_US, target, _PLACE) for at, target in sorted(clock))
    start = next(iter(steps), "")
    limit_us = limit_s * SECOND_US
    routine = Routine("drawn", "", robot, limit_us, {}, match_exits, start, steps, _PLACE)
    return unfold(replace(routine, groups={group.name: group for group, _ in groups}))


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


def step(
    name: str, exits: Iterable[WhenExit | AfterExit], is_finish: bool, group: str = ""
) -> Step:
    """A step with its exits sorted as a step keeps them."""
    whens = tuple(e for e in exits if isinstance(e, WhenExit))
    afters = tuple(e for e in exits if isinstance(e, AfterExit))
    return Step(name, "", is_finish, (), whens, afters, _PLACE, group=group)


def group(
    name: str, exits: Iterable[WhenExit | AfterExit] = (), inside: str = "", task: str = ""
) -> Group:
    """A group with its exits; one with a `task` sets the counts in it to 0 when it is entered."""
    whens = tuple(e for e in exits if isinstance(e, WhenExit))
    afters = tuple(e for e in exits if isinstance(e, AfterExit))
    return Group(name, "", inside, (), whens, afters, (), _PLACE, task=task)


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


def random_grouped_plan(seed: int, most_steps: int = 6) -> Plan:
    """A small plan with up to three groups, one perhaps in another, and tasks among them."""
    draw = random.Random(seed)
    base = random_plan(seed + 1000, most_steps)
    names = [name for name, step_ in base.routine.steps.items() if not step_.is_finish]
    ends = [step_.name for step_ in base.routine.finishes]
    exits = {name: base.routine.steps[name].exits for name in names}
    groups: list[tuple[Group, list[str]]] = []
    free = list(names)
    for number in range(draw.randint(1, 3)):
        inside = draw.choice(["", *(outer.name for outer, _ in groups)])
        members = draw.sample(free, min(len(free), draw.randint(1, 3)))
        free = [name for name in free if name not in members]
        own = [
            draw.choice((when(target), after(draw.randint(2, 9), target)))
            for target in draw.sample(names + ends, draw.choice((0, 1, 1, 2)) % (len(names) + 1))
        ]
        groups.append((group(f"G{number}", own, inside, draw.choice(("", "t"))), members))
    return plan(exits, ends, groups=groups)


def random_retries(seed: int, most_groups: int = 2) -> Plan:
    """A small plan whose exits lead on, or back a counted number of times; some steps in groups
    that lead to the finish."""
    draw = random.Random(seed)
    names = [f"S{number}" for number in range(draw.randint(2, 5))]
    exits: dict[str, list[WhenExit | AfterExit]] = {}
    for number, name in enumerate(names):
        later = [*names[number + 1 :], "F"]
        exits[name] = [when(draw.choice(later)), after(draw.randint(1, 6), draw.choice(later))]
        if draw.random() < 0.5:
            back = draw.choice(names[: number + 1])
            exits[name].insert(0, when(back, draw.randint(1, 2), draw.choice(later)))
        if draw.random() < 0.2:
            exits[name] = [exit_ for exit_ in exits[name] if isinstance(exit_, WhenExit)]
    groups: list[tuple[Group, list[str]]] = []
    free = list(names)
    for number in range(draw.randint(0, most_groups)):
        members = draw.sample(free, min(len(free), draw.randint(1, 3)))
        free = [name for name in free if name not in members]
        inside = draw.choice(["", *(outer.name for outer, _ in groups)])
        own = [after(draw.randint(1, 9), "F")] if draw.random() < 0.8 else []
        groups.append((group(f"G{number}", own, inside), members))
    return plan(exits, ["F"], groups=groups)
