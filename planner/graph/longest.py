"""The longest time that the limits of a plan add up to."""

from __future__ import annotations

from dataclasses import dataclass

import networkx as nx

from planner.graph.unfold import Plan
from planner.graph.walks import Ways, own_exits, reached
from planner.model.routine import Step


@dataclass(frozen=True, slots=True)
class LongestWay:
    """A way through a plan on which every step lasts as long as its limit."""

    total_us: int
    from_us: int
    """When it begins: 0, or the time of the match-clock exit that it begins with."""
    steps: tuple[tuple[str, int], ...]
    """Each step of it with its limit in microseconds; 0 where it has none."""


def longest_way(plan: Plan) -> LongestWay:
    """The longest way from the start to where it ends, as the limits add up.

    Each loop is gone through once: the exits that lead back, found depth first in the order of
    the text, are left out, and the rest is a longest path in an acyclic graph (T. Cormen et al.,
    "Introduction to Algorithms", section "Single-source shortest paths in directed acyclic
    graphs", from memory). A match-clock exit at T cuts short what lasts longer than T. What
    could not be read adds nothing.

    Raises ValueError where the routine has no start.
    """
    start = plan.routine.start
    if not start:
        raise ValueError("a routine without a start has no longest way")
    graph: Ways = nx.DiGraph()
    graph.add_nodes_from(plan.routine.steps)
    graph.add_edges_from((exit_.source, exit_.target) for exit_ in own_exits(plan))
    roots = [start, *(exit_.target for exit_ in plan.routine.match_exits)]
    forward = forward_ways(graph, roots)
    lasts = {name: _lasts_us(plan, name) for name in forward}
    left, following = _longest_from(forward, lasts)
    may_last = _may_last(plan, graph)
    from_us = 0
    for exit_ in plan.routine.match_exits:
        over_before = from_us + left[start] <= exit_.at_us and start not in may_last
        if over_before or exit_.at_us >= plan.routine.limit_us:
            break
        from_us, start = exit_.at_us, exit_.target
    way = [start]
    while way[-1] in following:
        way.append(following[way[-1]])
    return LongestWay(from_us + left[start], from_us, tuple((s, lasts[s]) for s in way))


def forward_ways(graph: Ways, roots: list[str]) -> Ways:
    """What the roots lead to, without the edges that lead back: an acyclic graph.

    An edge leads back where it ends in a step that a depth-first walk is still inside of. Where
    every loop has one way in, that is the same for every order of walking (M. Hecht, J. Ullman,
    "Characterizations of reducible flow graphs", 1974, from memory).
    """
    forward: Ways = nx.DiGraph()
    inside: set[str] = set()
    for root in roots:
        if root in forward:
            continue
        forward.add_node(root)
        inside.add(root)
        trail = [(root, iter(graph[root]))]
        while trail:
            step, rest = trail[-1]
            target = next(rest, None)
            if target is None:
                trail.pop()
                inside.discard(step)
            elif target not in forward:
                forward.add_edge(step, target)
                inside.add(target)
                trail.append((target, iter(graph[target])))
            elif target not in inside:
                forward.add_edge(step, target)
    return forward


def _lasts_us(plan: Plan, name: str) -> int:
    """How long a step can last by its own limits; 0 where they are not known, or none."""
    step = plan.step(name)
    known = not step.is_finish and not step.incomplete
    return min((after.limit_us for after in step.afters), default=0) if known else 0


def _longest_from(forward: Ways, lasts: dict[str, int]) -> tuple[dict[str, int], dict[str, str]]:
    """By step of an acyclic graph, the longest time from its entry on, and the step that follows.

    Of ways equally long the first in the order of the text is taken.
    """
    left: dict[str, int] = {}
    following: dict[str, str] = {}
    for step in reversed(list(nx.topological_sort(forward))):
        after = max(forward[step], key=left.__getitem__, default=None)
        left[step] = lasts[step] + (left[after] if after is not None else 0)
        if after is not None:
            following[step] = after
    return left, following


def _may_last(plan: Plan, graph: Ways) -> set[str]:
    """The steps from which a run can go on until the match clock ends it.

    It goes round an endless loop, or waits in a step that no time limit ends.
    """
    lasting = {name for name, step in plan.routine.steps.items() if _waits(step)}
    free: nx.DiGraph[str] = nx.DiGraph()
    free.add_edges_from((e.source, e.target) for e in own_exits(plan) if e.most is None)
    for component in nx.strongly_connected_components(free):
        first = next(iter(component))
        if len(component) > 1 or free.has_edge(first, first):
            lasting |= component
    return reached(graph.reverse(copy=False), lasting)


def _waits(step: Step) -> bool:
    return not step.is_finish and not step.afters and not step.incomplete
