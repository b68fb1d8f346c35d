"""Ways through a plan with the time they take; they are chains, and share their beginnings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

import networkx as nx

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Lasting:
    """A step, or a group that is left by its own limit, and how long it lasts."""

    name: str
    lasts_us: int


@dataclass(frozen=True, slots=True)
class Longest:
    """A longest way: its time with a longest pass for each limit, and its steps."""

    total_us: int
    steps: tuple[Lasting, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """A way as a chain from its end: what it does last, after `before`."""

    total_us: int
    before: Way | None = None
    step: Lasting | None = None
    within: Way | None = None
    """The way through a block, in place of a step."""


NOWHERE = Way(0)


def forward_ways(graph: nx.DiGraph[_T], roots: list[_T]) -> nx.DiGraph[_T]:
    """What the roots lead to, without the edges that lead back: an acyclic graph.

    An edge leads back where it ends in a step that a depth-first walk is still inside of. Where
    every loop has one way in, that is the same for every order of walking (M. Hecht, J. Ullman,
    "Characterizations of reducible flow graphs", 1974, from memory).
    """
    forward: nx.DiGraph[_T] = nx.DiGraph()
    inside: set[_T] = set()
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


def offer(arrivals: dict[_T, Way], ways: Iterable[tuple[_T, Way]]) -> None:
    """Keeps the longest way to each; of ways equally long the first."""
    for target, way in ways:
        if target not in arrivals or way.total_us > arrivals[target].total_us:
            arrivals[target] = way


def spelt_out(way: Way) -> list[Lasting]:
    """The steps of a way, first to last."""
    found: list[Lasting] = []
    trail: list[Way] = [way]
    while trail:
        last = trail.pop()
        if last.step:
            found.append(last.step)
        if last.before:
            trail.append(last.before)
        if last.within:
            trail.append(last.within)
    return found[::-1]
