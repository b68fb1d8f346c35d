"""What commands still hold when a later step is reached."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from planner.graph.unfold import Plan
from planner.graph.walks import Ways, reached, ways
from planner.model.routine import Given, Step


@dataclass(frozen=True, slots=True)
class LeftOn:
    """A command that runs on into a finish, with nothing said to its mechanism on the way."""

    step: str
    given: Given
    way: tuple[str, ...]
    """From the step to the finish, a shortest one; long ones have their middle left out."""
    left_out: int
    """How many steps of the way are left out before its last."""


MOST_SHOWN = 8
"""How many steps of a way are spelt out."""


def last_given(step: Step) -> Mapping[str, Given]:
    """By mechanism, the command of a step that is sent: the last one (M7)."""
    return {given.mechanism.name: given for given in step.commands}


def left_on(plan: Plan) -> Iterator[LeftOn]:
    """The `runs` commands given with `keep` that some way carries into a finish.

    An incomplete step may have told the mechanism something, so no way goes through it.
    """
    kept = [
        (step, given)
        for step in plan.routine.steps.values()
        for given in last_given(step).values()
        if given.keep and given.command.runs and not step.is_finish and not step.incomplete
    ]
    if not kept:
        return
    graph = ways(plan)
    mechanisms = dict.fromkeys(given.mechanism.name for _, given in kept)
    to_finish = {name: _ways_to_finish(plan, graph, name) for name in mechanisms}
    for step, given in kept:
        found = to_finish[given.mechanism.name]
        through = min(
            (target for target in graph[step.name] if target in found),
            key=lambda target: found[target].distance,
            default=None,
        )
        if through is not None:
            way, left_out = _spelt_out(step.name, through, found)
            yield LeftOn(step.name, given, way, left_out)


def never_told(plan: Plan, mechanism: str) -> set[str]:
    """The steps where a mechanism cannot be done: no command that reports done is the last it got.

    A run may come there with another command in force, or with none at all.
    """
    graph = ways(plan)
    told, deaf = [], set()
    for name, step in plan.routine.steps.items():
        given = last_given(step).get(mechanism)
        if step.incomplete or (given and given.command.reports_done):
            told.append(name)
        elif given:
            deaf.add(name)
    # The command in force goes on through steps that say nothing to the mechanism.
    return set(graph) - reached(_without(graph, deaf), told)


@dataclass(frozen=True, slots=True)
class _Hop:
    following: str
    """Empty where the step is a finish."""
    finish: str
    distance: int


def _ways_to_finish(plan: Plan, graph: Ways, mechanism: str) -> dict[str, _Hop]:
    """By step, the shortest way to a finish past steps that tell the mechanism nothing."""
    silent = {
        name
        for name, step in plan.routine.steps.items()
        if not step.incomplete and mechanism not in last_given(step)
    }
    hops = {
        name: _Hop("", name, 0)
        for name, step in plan.routine.steps.items()
        if step.is_finish and name in silent
    }
    waiting = deque(hops)
    while waiting:
        name = waiting.popleft()
        for before in graph.predecessors(name):
            if before in silent and before not in hops:
                hops[before] = _Hop(name, hops[name].finish, hops[name].distance + 1)
                waiting.append(before)
    return hops


def _spelt_out(step: str, through: str, hops: dict[str, _Hop]) -> tuple[tuple[str, ...], int]:
    way = [step, through]
    while hops[way[-1]].following and len(way) < MOST_SHOWN:
        way.append(hops[way[-1]].following)
    left_out = max(0, hops[way[-1]].distance - 1)
    if hops[way[-1]].distance:
        way.append(hops[through].finish)
    return tuple(way), left_out


def _without(graph: Ways, steps: Iterable[str]) -> Ways:
    """The graph without the edges into some of its steps."""
    left_out = set(steps)
    rest: Ways = type(graph)()
    rest.add_nodes_from(graph)
    rest.add_edges_from(edge for edge in graph.edges if edge[1] not in left_out)
    return rest
