"""Loops that a run need never leave."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass

import networkx as nx

from planner.graph.unfold import Exit, Plan
from planner.graph.walks import layers, own_exits


@dataclass(frozen=True, slots=True)
class Loop:
    """Steps that can follow each other round and round, as often as the sensors say."""

    steps: tuple[str, ...]
    """All steps that are tied together so, in the order of the text."""
    way: tuple[Exit, ...]
    """A shortest way round from the first of them; its last exit leads back to it."""


def is_idle(plan: Plan, exit_: Exit) -> bool:
    """Whether an exit leads a step back to itself with nothing to do and nothing to count."""
    step = plan.step(exit_.source)
    counted = exit_.most is not None or exit_.overflow
    return exit_.source == exit_.target and not counted and not step.commands


def endless_loops(plan: Plan) -> Iterator[Loop]:
    """The loops that neither a count nor the match clock ends, idle ones left out.

    They are the strongly connected components of the exits that may be taken any number of times
    (R. Tarjan, "Depth-first search and linear graph algorithms", 1972). The match clock ends a
    loop unless runs can be in it when the last match-clock exit has been taken.
    """
    graph: nx.DiGraph[str] = nx.DiGraph()
    entered = layers(plan)[-1]
    for exit_ in own_exits(plan):
        # In an incomplete step a count may be what could not be read.
        free = exit_.most is None and not plan.step(exit_.source).incomplete
        inside = free and {exit_.source, exit_.target} <= entered and not is_idle(plan, exit_)
        # Of several exits to one step the first stands for all.
        if inside and not graph.has_edge(exit_.source, exit_.target):
            graph.add_edge(exit_.source, exit_.target, exit=exit_)
    position = {name: index for index, name in enumerate(plan.routine.steps)}
    for component in nx.strongly_connected_components(graph):
        steps = tuple(sorted(component, key=position.__getitem__))
        if len(steps) > 1 or graph.has_edge(steps[0], steps[0]):
            yield Loop(steps, _way_round(graph, steps[0], component))


def _way_round(graph: nx.DiGraph[str], first: str, component: set[str]) -> tuple[Exit, ...]:
    """A shortest cycle through `first` that stays in its component."""
    came: dict[str, Exit] = {}
    waiting = deque([first])
    while first not in came:
        exit_: Exit
        for _, target, exit_ in graph.out_edges(waiting.popleft(), data="exit"):
            if target in component and target not in came:
                came[target] = exit_
                waiting.append(target)
    back = [came[first]]
    while back[-1].source != first:
        back.append(came[back[-1].source])
    return tuple(reversed(back))
