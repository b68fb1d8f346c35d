"""Where a run can get to, and whence.

Every walk here costs no more than the exits it looks at, and none of them recurses: a plan of
10,000 steps in a row is walked like any other.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

import networkx as nx

from planner.graph.owners import is_incomplete, owners_around
from planner.graph.unfold import Exit, ExitKind, Plan

Ways: TypeAlias = "nx.DiGraph[str]"
"""Steps, and an edge from each to every step that may follow it."""


def own_exits(plan: Plan) -> Iterator[Exit]:
    """The exits of steps and groups: all but those by which the match clock leads the routine."""
    return (exit_ for exit_ in plan.all_exits() if not _is_routines(exit_))


def layers(plan: Plan) -> list[set[str]]:
    """Where a run can be before the first match-clock exit, between the first two, and so on.

    Match-clock exits are taken, or spent in the step they lead to, one after the other and once
    each. So from the last of them on only the exits of the steps themselves lead anywhere.
    """
    routine = plan.routine
    if not routine.start:
        return [set(routine.steps) for _ in range(len(routine.match_exits) + 1)]
    graph = own_ways(plan)
    found = [reached(graph, (routine.start, *routine.perhaps))]
    for exit_ in routine.match_exits:
        # Where every run has come to a finish before, the exit is never taken.
        running = any(not plan.step(name).is_finish for name in found[-1])
        found.append(reached(graph, (exit_.target, *routine.perhaps)) if running else set())
    return found


def open_exits(plan: Plan) -> dict[str, tuple[Exit, ...]]:
    """By step, the exits that can be taken there, in the order asked.

    A step that no run is in when the match clock comes to 10 s is not left by the exit at 10 s.
    """
    before = {
        exit_.number: layer
        for exit_, layer in zip(plan.routine.match_exits, layers(plan), strict=False)
    }
    return {
        step: tuple(
            exit_
            for exit_ in exits
            if not _is_routines(exit_) or step in before[exit_.written.number]
        )
        for step, exits in plan.exits.items()
    }


def ways(plan: Plan) -> Ways:
    """All that may lead from step to step: open exits, and lines that could not be read."""
    graph = own_ways(plan)
    for step, exits in open_exits(plan).items():
        graph.add_edges_from((step, exit_.target) for exit_ in exits)
    return graph


def own_ways(plan: Plan) -> Ways:
    """As `ways`, without the match clock's exits."""
    graph: Ways = nx.DiGraph()
    graph.add_nodes_from(plan.routine.steps)
    graph.add_edges_from((exit_.source, exit_.target) for exit_ in own_exits(plan))
    for block, first in plan.begins.items():
        graph.add_edges_from((block, step) for step in first)
    for block, target in _out_of_lanes(plan):
        inside = (name for name in plan.outer if plan.block_of(name) == block)
        graph.add_edges_from((name, target) for name in (block, *inside))
    for name in plan.routine.steps:
        for owner in owners_around(plan.routine, name):
            graph.add_edges_from((name, perhaps) for perhaps in owner.perhaps)
    return graph


def _out_of_lanes(plan: Plan) -> set[tuple[str, str]]:
    """The blocks that a step of a lane ends, each with where that leads: what the other lanes are
    in is followed by it too."""
    return {
        (plan.block_of(name), exit_.target)
        for name in plan.outer
        for exit_ in plan.asked_of(name)
        if plan.leaves_lane(exit_)
    }


def reached(graph: Ways, roots: Iterable[str]) -> set[str]:
    """The roots and all that they lead to."""
    return set(next(shared_out(graph, [roots])))


def shared_out(graph: Ways, groups: Iterable[Iterable[str]]) -> Iterator[list[str]]:
    """For each group of roots what it leads to, roots included, and no earlier group does."""
    seen: set[str] = set()
    for roots in groups:
        found: list[str] = []
        waiting = deque(roots)
        while waiting:
            name = waiting.popleft()
            if name in graph and name not in seen:
                seen.add(name)
                found.append(name)
                waiting.extend(graph[name])
        yield found


def played(plan: Plan, graph: Ways) -> set[str]:
    """The steps that a run can reach, or may: all of them where it is not known where runs start.

    `graph` are the ways of the plan.
    """
    if not plan.routine.start:
        return set(graph)
    return reached(graph, (plan.routine.start, *plan.routine.perhaps))


def entries(plan: Plan, graph: Ways) -> list[str]:
    """The steps at which a graph begins, in the order of the text.

    One for each strongly connected component that no edge comes into from another: its first step.
    """
    position = {name: index for index, name in enumerate(plan.routine.steps)}
    first: dict[str, str] = {}
    for component in nx.strongly_connected_components(graph):
        first.update(dict.fromkeys(component, min(component, key=position.__getitem__)))
    led_to = {first[b] for a, b in graph.edges if first[a] != first[b]}
    return sorted(set(first.values()) - led_to, key=position.__getitem__)


@dataclass(frozen=True, slots=True)
class Trap:
    """Steps that lead to each other for ever and to no finish."""

    steps: tuple[str, ...]
    """In the order of the text."""
    doomed: tuple[str, ...]
    """The steps outside it that lead to no finish either, but to it."""


def traps(plan: Plan) -> Iterator[Trap]:
    """The ends of the plan that are no finish and no dead end.

    They are the strongly connected components without a way out (R. Tarjan, "Depth-first search
    and linear graph algorithms", 1972), among the steps from which no finish can be reached.
    """
    graph = ways(plan)
    steps = plan.routine.steps
    # What an incomplete step lacks may be its way to a finish.
    ends = [
        name for name, step in steps.items() if step.is_finish or is_incomplete(plan.routine, name)
    ]
    lost = played(plan, graph) - reached(graph.reverse(copy=False), ends)
    inside = graph.subgraph(lost)
    position = {name: index for index, name in enumerate(steps)}
    components = sorted(
        (
            sorted(component, key=position.__getitem__)
            for component in nx.strongly_connected_components(inside)
            if _is_trap(inside, component)
        ),
        key=lambda component: position[component[0]],
    )
    for component, all_ in zip(
        components, shared_out(inside.reverse(copy=False), components), strict=True
    ):
        doomed = sorted(set(all_).difference(component), key=position.__getitem__)
        yield Trap(tuple(component), tuple(doomed))


def _is_trap(graph: Ways, component: set[str]) -> bool:
    """Whether a component has exits, and all of them stay in it."""
    targets = [target for step in component for target in graph[step]]
    return bool(targets) and component.issuperset(targets)


def _is_routines(exit_: Exit) -> bool:
    # A group's match-clock exit is taken at most once as well; that much is left to proofs.
    return exit_.kind is ExitKind.MATCH and not exit_.group
