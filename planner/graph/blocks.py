"""How long a plan can last, block by block: a limited group, or a task, is one block of its steps.

Within a block, and in the routine around all blocks, the longest way is sought over states of a
step and the counts used up so far. That is a longest path in an acyclic graph (T. Cormen et al.,
"Introduction to Algorithms", section "Single-source shortest paths in directed acyclic graphs",
from memory), component by component. A block then lasts no longer than its limit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import prod

import networkx as nx

from planner.graph.owners import groups_left, is_incomplete
from planner.graph.unfold import Exit, ExitKind, Plan
from planner.graph.walks import Ways, own_exits, own_ways, reached
from planner.model.routine import MatchExit

MOST_STATES = 20_000
"""Loops with more states than these are gone through once, and nothing more is concluded."""

_FOREVER_US = 10**15


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
class _Way:
    """A way as a chain from its end: what it does last, after `before`."""

    total_us: int
    before: _Way | None = None
    step: Lasting | None = None
    within: _Way | None = None
    """The way through a block, in place of a step."""


_NOWHERE = _Way(0)


class Blocks:
    """The blocks of a plan; each is gone through once, whatever leads to it."""

    def __init__(self, plan: Plan, pass_us: int) -> None:
        self.plan = plan
        self.pass_us = pass_us
        self.exact = True
        self.endless: set[str] = set()
        """The steps on loops that nothing ends but the match clock of the routine."""
        routine = plan.routine
        self._blocks = {
            group.name: group
            for group in routine.groups.values()
            if group.task or group.afters or group.match_exits
        }
        self._around = {
            name: tuple(
                group.name for group in routine.groups_around(name) if group.name in self._blocks
            )
            for name in routine.steps
        }
        self._exits: dict[str, dict[str, list[Exit]]] = {}
        """By block and the step or block in it, the exits from there that stay in the block."""
        self._entries: dict[str, dict[str, None]] = {name: {} for name in self._blocks}
        self._sort_exits()
        self._clock = {name: self._latest_us(name) for name in self._blocks}
        self._inner: dict[str, dict[str, _Way]] = {}
        """By block and step in it, the longest way from the block's entry out of that step."""
        self._endless_blocks: set[str] = set()
        for name in reversed(list(self._blocks)):
            self._inner[name] = self._through(name)

    def longest_from(self, start: str) -> Longest:
        """The longest way from a step to where it ends."""
        found = self._leaving("", self._arrivals("", [start])).values()
        longest = max(found, key=lambda way: way.total_us, default=_NOWHERE)
        return Longest(longest.total_us, tuple(_spelt_out(longest)))

    def is_limited(self, step: str) -> bool:
        """Whether a group around a step ends it, by its own limit or by the match clock."""
        return any(self._is_limited(block) for block in self._around[step])

    # What belongs to which block.

    def _is_limited(self, block: str) -> bool:
        return bool(self._blocks[block].afters) or self._clock[block] < _FOREVER_US

    def _sort_exits(self) -> None:
        for exit_ in own_exits(self.plan):
            left = groups_left(self.plan, exit_)
            stays = [name for name in self._around[exit_.source] if name not in left]
            block = stays[-1] if stays else ""
            source = self._child(block, exit_.source)
            self._exits.setdefault(block, {}).setdefault(source, []).append(exit_)
            self._enter(exit_.target, block)
        routine = self.plan.routine
        for target in (routine.start, *(exit_.target for exit_ in routine.match_exits)):
            if target:
                self._enter(target, "")

    def _enter(self, step: str, block: str) -> None:
        """Notes that the blocks around a step, inside of `block`, are entered there."""
        around = self._around[step]
        for name in around[around.index(block) + 1 if block else 0 :]:
            self._entries[name][step] = None

    def _child(self, block: str, step: str) -> str:
        """The step, or the block around it, as it stands directly in a block."""
        around = self._around[step]
        index = around.index(block) + 1 if block else 0
        return around[index] if index < len(around) else step

    def _latest_us(self, name: str) -> int:
        """When the match clock takes a run out of a group for good; a long time if it does not."""
        group = self._blocks[name]
        steps = {step for step, around in self._around.items() if name in around}
        if not group.match_exits or group.incomplete:
            return _FOREVER_US
        graph = own_ways(self.plan)
        return min(
            (
                exit_.at_us
                for exit_ in group.match_exits
                if exit_.at_us < self.plan.routine.limit_us
                and reached(graph, [exit_.target]).isdisjoint(steps)
            ),
            default=_FOREVER_US,
        )

    # How long it lasts.

    def _through(self, name: str) -> dict[str, _Way]:
        """The longest ways through a block, its own limit counted in."""
        group = self._blocks[name]
        arrivals = self._arrivals(name, self._entries[name])
        leaving = self._leaving(name, arrivals)
        if group.incomplete or not self._is_limited(name):
            return leaving
        limit_us = min((after.limit_us for after in group.afters), default=_FOREVER_US)
        capped = _Way(limit_us + self.pass_us, None, Lasting(name, limit_us))
        endless = name in self._endless_blocks
        self._endless_blocks.discard(name)
        self.endless -= {step for step, around in self._around.items() if name in around}
        return {
            step: capped if endless or way.total_us >= capped.total_us else way
            for step, way in leaving.items()
        }

    def _leaving(self, block: str, arrivals: Mapping[str, _Way]) -> dict[str, _Way]:
        """By step inside, the longest way out of it."""
        leaving: dict[str, _Way] = {}
        for child, way in arrivals.items():
            for step in self._inner.get(child, (child,)):
                leaving[step] = self._left(block, child, step, way)
        return leaving

    def _left(self, block: str, child: str, step: str, way: _Way) -> _Way:
        """A way that came to a step or block, until it leaves it from a step."""
        if child not in self._blocks:
            lasts_us = self._lasts_us(step)
            total_us = way.total_us + lasts_us + (self.pass_us if lasts_us else 0)
            return _Way(total_us, way, Lasting(step, lasts_us))
        inner = self._inner[child][step]
        total_us = way.total_us + inner.total_us
        latest_us = max(self._clock[child], way.total_us) + self.pass_us
        if block or total_us <= latest_us:
            return _Way(total_us, way, within=inner)
        return _Way(latest_us, way, Lasting(child, latest_us - self.pass_us - way.total_us))

    def _lasts_us(self, name: str) -> int:
        """How long a step can last by its own limits; 0 where they are not known, or none."""
        step, routine = self.plan.step(name), self.plan.routine
        if step.is_finish or is_incomplete(routine, name):
            return 0
        otherwise = _FOREVER_US if self.is_limited(name) else 0
        return min((after.limit_us for after in step.afters), default=otherwise)

    # The way through one block, component by component.

    def _arrivals(self, block: str, starts: Iterable[str]) -> dict[str, _Way]:
        """By step or block directly in a block, the longest way that comes to it."""
        exits = self._exits.get(block, {})
        arrivals = {self._child(block, start): _NOWHERE for start in starts}
        graph: Ways = nx.DiGraph()
        graph.add_nodes_from(arrivals)
        waiting = list(arrivals)
        while waiting:
            source = waiting.pop()
            for exit_ in exits.get(source, ()):
                target = self._child(block, exit_.target)
                if target not in graph:
                    waiting.append(target)
                graph.add_edge(source, target)
        for component in reversed(list(nx.strongly_connected_components(graph))):
            entered = {name: arrivals[name] for name in component if name in arrivals}
            first = next(iter(component))
            if len(component) == 1 and not graph.has_edge(first, first):
                found = self._onward(block, first, entered[first]) if entered else []
                _offer(arrivals, ((target, way) for target, way, _ in found))
            elif entered:
                _offer(arrivals, self._round(block, component, graph, entered))
        return arrivals

    def _onward(self, block: str, child: str, way: _Way) -> Iterator[tuple[str, _Way, Exit]]:
        """Where a way leads from a step or block that it came to, by each exit that it can take."""
        inner = self._inner.get(child)
        for exit_ in self._exits.get(block, {}).get(child, ()):
            if inner is not None and exit_.source not in inner:
                continue
            left = self._left(block, child, exit_.source, way)
            written = exit_.written
            if block or not isinstance(written, MatchExit) or left.total_us >= written.at_us:
                yield self._child(block, exit_.target), left, exit_

    def _round(
        self, block: str, component: set[str], graph: Ways, entered: Mapping[str, _Way]
    ) -> Iterator[tuple[str, _Way]]:
        """The longest ways to the steps of a loop, and on from it."""
        exits = [
            exit_
            for child in component
            for exit_ in self._exits[block].get(child, ())
            if self._child(block, exit_.target) in component
        ]
        most = {_counter(exit_): exit_.most or 1 for exit_ in exits if _is_counted(exit_)}
        free: Ways = nx.DiGraph()
        free.add_nodes_from(component)
        free.add_edges_from(
            (self._child(block, exit_.source), self._child(block, exit_.target))
            for exit_ in exits
            if not _is_counted(exit_)
        )
        endless = not nx.is_directed_acyclic_graph(free)
        if endless:
            self._note_endless(block, component)
        elif not all(self._counts_here(block, exit_) for exit_ in exits):
            pass
        elif len(component) * prod(number + 1 for number in most.values()) <= MOST_STATES:
            yield from self._counted(block, list(nx.topological_sort(free)), most, entered)
            return
        self.exact &= endless
        yield from self._once(block, component, graph, entered)

    def _counts_here(self, block: str, exit_: Exit) -> bool:
        """Whether a count starts with the block; one shared with what is around it does not."""
        owner = exit_.counted_by
        if not block or owner is None:
            return True
        if owner in self._around:
            return block in self._around[owner]
        groups = self.plan.routine.groups
        while owner and owner != block:
            owner = groups[owner].inside
        return owner == block

    def _counted(
        self, block: str, order: list[str], most: Mapping[str, int], entered: Mapping[str, _Way]
    ) -> Iterator[tuple[str, _Way]]:
        """Over all states of a loop: where a way is, and how often each count was used."""
        number = {counter: index for index, counter in enumerate(most)}
        limits, inside = tuple(most.values()), set(order)
        layers: list[dict[tuple[int, ...], dict[str, _Way]]] = [{} for _ in range(sum(limits) + 1)]
        layers[0][(0,) * len(limits)] = dict(entered)
        for used, layer in enumerate(layers):
            for counts, arrivals in layer.items():
                for child in order:
                    if child not in arrivals:
                        continue
                    yield child, arrivals[child]
                    for target, way, exit_ in self._onward(block, child, arrivals[child]):
                        index = number.get(_counter(exit_))
                        if index is not None and exit_.overflow and counts[index] < limits[index]:
                            continue
                        if target not in inside:
                            yield target, way
                        elif index is None or exit_.overflow:
                            _offer(arrivals, [(target, way)])
                        elif counts[index] < limits[index]:
                            more = (*counts[:index], counts[index] + 1, *counts[index + 1 :])
                            _offer(layers[used + 1].setdefault(more, {}), [(target, way)])

    def _once(
        self, block: str, component: set[str], graph: Ways, entered: Mapping[str, _Way]
    ) -> Iterator[tuple[str, _Way]]:
        """Through a loop without the exits that lead back."""
        forward = forward_ways(graph.subgraph(component), list(entered))
        arrivals = dict(entered)
        for child in nx.topological_sort(forward):
            if child not in arrivals:
                continue
            yield child, arrivals[child]
            for target, way, _ in self._onward(block, child, arrivals[child]):
                if target not in component:
                    yield target, way
                elif forward.has_edge(child, target):
                    _offer(arrivals, [(target, way)])

    def _note_endless(self, block: str, component: set[str]) -> None:
        if block:
            self._endless_blocks.update(self._around_block(block))
        for name, around in self._around.items():
            if name in component or component.intersection(around):
                self.endless.add(name)

    def _around_block(self, block: str) -> list[str]:
        """A block and those around it, out to the first that has a limit."""
        found = [block]
        while not self._is_limited(found[-1]) and self._blocks[found[-1]].inside in self._blocks:
            found.append(self._blocks[found[-1]].inside)
        return found


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


def _offer(arrivals: dict[str, _Way], ways: Iterable[tuple[str, _Way]]) -> None:
    """Keeps the longest way to each; of ways equally long the first."""
    for target, way in ways:
        if target not in arrivals or way.total_us > arrivals[target].total_us:
            arrivals[target] = way


def _is_counted(exit_: Exit) -> bool:
    # A match-clock exit is taken at most once.
    return exit_.most is not None or exit_.kind is ExitKind.MATCH


def _counter(exit_: Exit) -> str:
    return f"at {id(exit_.written)}" if exit_.kind is ExitKind.MATCH else exit_.counter


def _spelt_out(way: _Way) -> list[Lasting]:
    """The steps of a way, first to last."""
    found: list[Lasting] = []
    trail: list[_Way] = [way]
    while trail:
        last = trail.pop()
        if last.step:
            found.append(last.step)
        if last.before:
            trail.append(last.before)
        if last.within:
            trail.append(last.within)
    return found[::-1]
