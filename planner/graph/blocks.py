"""How long a plan can last, block by block: a limited group, or a task, is one block of its steps.

Within a block, and in the routine around all blocks, the longest way is sought over states of a
step and the counts used up so far. That is a longest path in an acyclic graph (T. Cormen et al.,
"Introduction to Algorithms", section "Single-source shortest paths in directed acyclic graphs",
from memory), component by component. A block then lasts no longer than its limit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import prod
from typing import TypeAlias

import networkx as nx

from planner.graph.clocks import FOREVER_US, ended_by_clock_us
from planner.graph.lanes import exits_by_block, is_joined
from planner.graph.owners import groups_left, is_incomplete
from planner.graph.timed_way import NOWHERE, Lasting, Longest, Way, forward_ways, offer, spelt_out
from planner.graph.unfold import Exit, ExitKind, Plan
from planner.graph.walks import own_ways
from planner.model.routine import MatchExit

MOST_STATES = 20_000
"""Loops with more states than these are gone through once, and nothing more is concluded."""

MOST_ENTRIES = 8
"""A block that is entered at more of its steps is taken as if all its entries were one."""

_Node: TypeAlias = tuple[str, str]
"""A step and nothing, or a block and the step at which it is entered."""


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
            # A block of lanes is one step, which lasts as long as its lanes or its limit.
            if group.lane
            or (not group.is_block and (group.task or group.afters or group.match_exits))
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
        self._counting: set[str] = set()
        """The blocks with counts in them that go on from one time to the next."""
        self._again: set[str] = set()
        """The blocks that may be entered several times."""
        self._sort_exits()
        self._clock = {
            name: ended_by_clock_us(plan, name) for name in (*self._blocks, *plan.begins)
        }
        self._inner: dict[_Node, dict[str, Way]] = {}
        """By block with its entry and step in it, the longest way from there out of that step."""
        self._endless_blocks: set[str] = set()
        for name in reversed(list(self._blocks)):
            entries = self._entries[name]
            if len(entries) > MOST_ENTRIES:
                self._inner[name, ""] = self._through(name, entries)
            else:
                self._inner.update({(name, step): self._through(name, [step]) for step in entries})
            lane = self._blocks[name].lane
            limiting = self._blocks[name].inside if lane else name
            if self._is_limited(limiting):
                # Of a lane it is still to be known that its block lasts as long as its limit.
                self._endless_blocks -= {name} if not lane else set()
                self.endless -= {step for step, a in self._around.items() if name in a}
            elif lane and name in self._endless_blocks and self._around[limiting]:
                self._endless_blocks.update(self._around_block(self._around[limiting][-1]))

    def longest_from(self, start: str) -> Longest:
        """The longest way from a step to where it ends."""
        found = self._leaving("", self._arrivals("", [start])).values()
        longest = max(found, key=lambda way: way.total_us, default=NOWHERE)
        return Longest(longest.total_us, tuple(spelt_out(longest)))

    def is_limited(self, step: str) -> bool:
        """Whether a group around a step ends it, by its own limit or by the match clock."""
        return any(self._is_limited(g.name) for g in self.plan.routine.groups_around(step))

    # What belongs to which block.

    def _is_limited(self, block: str) -> bool:
        afters = self.plan.routine.groups[block].afters
        return bool(afters) or self._clock.get(block, FOREVER_US) < FOREVER_US

    def _sort_exits(self) -> None:
        tied: dict[str, int] = {}
        for number, component in enumerate(nx.strongly_connected_components(own_ways(self.plan))):
            tied.update(dict.fromkeys(component, number))
        for exit_ in exits_by_block(self.plan):
            left = groups_left(self.plan, exit_)
            stays = [name for name in self._around[exit_.source] if name not in left]
            block = stays[-1] if stays else ""
            if exit_.most is not None:
                self._counting.update(self._up_to_task(stays))
            source = self._child(block, exit_.source)
            self._exits.setdefault(block, {}).setdefault(source, []).append(exit_)
            entered = self._enter(exit_.target, block)
            if tied[exit_.source] == tied[exit_.target]:
                self._again.update(entered)
                if exit_.target in self.plan.begins:
                    self._again.update(self.plan.routine.groups[exit_.target].lanes)
        for block, first in self.plan.begins.items():
            for step in first:
                self._enter(step, self._around[block][-1] if self._around[block] else "")
        routine = self.plan.routine
        for target in (routine.start, *(exit_.target for exit_ in routine.match_exits)):
            if target:
                self._enter(target, "")

    def _up_to_task(self, around: list[str]) -> Iterator[str]:
        """The blocks of some, innermost first, until a task that sets counts to 0."""
        for name in reversed(around):
            if self._blocks[name].task:
                return
            yield name

    def _enter(self, step: str, block: str) -> tuple[str, ...]:
        """Notes that the blocks around a step, inside of `block`, are entered there; gives them."""
        around = self._around[step]
        entered = around[around.index(block) + 1 if block else 0 :]
        for name in entered:
            self._entries[name][step] = None
        return entered

    def _child(self, block: str, step: str) -> str:
        """The step, or the block around it, as it stands directly in a block."""
        around = self._around[step]
        index = around.index(block) + 1 if block else 0
        return around[index] if index < len(around) else step

    # How long it lasts.

    def _node(self, block: str, step: str) -> _Node:
        """What is entered in a block when a step is."""
        child = self._child(block, step)
        if child not in self._blocks:
            return child, ""
        return child, step if len(self._entries[child]) <= MOST_ENTRIES else ""

    def _through(self, name: str, entries: Iterable[str]) -> dict[str, Way]:
        """The longest ways through a block, its own limit counted in."""
        group = self._blocks[name]
        arrivals = self._arrivals(name, entries)
        leaving = self._leaving(name, arrivals)
        if group.incomplete or not self._is_limited(name):
            return leaving
        limit_us = min((after.limit_us for after in group.afters), default=FOREVER_US)
        capped = Way(limit_us + self.pass_us, None, Lasting(name, limit_us))
        endless = name in self._endless_blocks
        return {
            step: capped if endless or way.total_us >= capped.total_us else way
            for step, way in leaving.items()
        }

    def _leaving(self, block: str, arrivals: Mapping[_Node, Way]) -> dict[str, Way]:
        """By step inside, the longest way out of it."""
        leaving: dict[str, Way] = {}
        for node, way in arrivals.items():
            for step in self._inner.get(node, (node[0],)):
                offer(leaving, [(step, self._left(block, node, step, way))])
        return leaving

    def _left(self, block: str, node: _Node, step: str, way: Way) -> Way:
        """A way that came to a step or block, until it leaves it from a step."""
        child = node[0]
        if child in self.plan.begins:
            return self._left_lanes(block, child, way)
        if child not in self._blocks:
            if self.plan.step(step).ends_lane:
                return way
            lasts_us = self._lasts_us(step)
            total_us = way.total_us + lasts_us + (self.pass_us if lasts_us else 0)
            return Way(total_us, way, Lasting(step, lasts_us))
        return self._until_clock(block, child, self._inner[node][step], way)

    def _until_clock(self, block: str, child: str, inner: Way, way: Way) -> Way:
        """A way that goes on through a block, and ends where the match clock ends that."""
        total_us = way.total_us + inner.total_us
        latest_us = max(self._clock[child], way.total_us) + self.pass_us
        if block or total_us <= latest_us:
            return Way(total_us, way, within=inner)
        return Way(latest_us, way, Lasting(child, latest_us - self.pass_us - way.total_us))

    def _left_lanes(self, block: str, name: str, way: Way) -> Way:
        """A way that came to a block of lanes, until the longest lane or the limit ends it."""
        group = self.plan.routine.groups[name]
        limit_us = min((after.limit_us for after in group.afters), default=FOREVER_US)
        capped = Way(limit_us + self.pass_us, None, Lasting(name, limit_us))
        inner = [self._inner.get((lane, self._blocks[lane].first), {}) for lane in group.lanes]
        through = (through for ways in inner for through in ways.values())
        longest = max(through, key=lambda way: way.total_us, default=NOWHERE)
        ends = is_joined(self.plan, name) and self._endless_blocks.isdisjoint(group.lanes)
        if ends and longest.total_us < capped.total_us:
            return self._until_clock(block, name, longest, way)
        if is_incomplete(self.plan.routine, name) or not self.is_limited(name):
            return Way(way.total_us, way, Lasting(name, 0))
        return self._until_clock(block, name, capped, way)

    def _lasts_us(self, name: str) -> int:
        """How long a step can last by its own limits; 0 where they are not known, or none."""
        step, routine = self.plan.step(name), self.plan.routine
        if step.is_finish or is_incomplete(routine, name):
            return 0
        otherwise = FOREVER_US if self.is_limited(name) else 0
        return min((after.limit_us for after in step.afters), default=otherwise)

    # The way through one block, component by component.

    def _arrivals(self, block: str, starts: Iterable[str]) -> dict[_Node, Way]:
        """By step or block directly in a block, the longest way that comes to it."""
        arrivals = {self._node(block, start): NOWHERE for start in starts}
        graph: nx.DiGraph[_Node] = nx.DiGraph()
        graph.add_nodes_from(arrivals)
        # By counter, where it counts.
        users: dict[str, set[_Node]] = {}
        waiting = list(arrivals)
        while waiting:
            source = waiting.pop()
            for exit_ in self._exits_of(block, source):
                target = self._node(block, exit_.target)
                if _is_counted(exit_):
                    users.setdefault(_counter(exit_), set()).add(source)
                if target not in graph:
                    waiting.append(target)
                graph.add_edge(source, target)
        for component in reversed(list(nx.strongly_connected_components(graph))):
            entered = {name: arrivals[name] for name in component if name in arrivals}
            first = next(iter(component))
            if len(component) == 1 and not graph.has_edge(first, first):
                found = self._onward(block, first, entered[first]) if entered else []
                offer(arrivals, ((target, way) for target, way, _ in found))
            elif entered:
                offer(arrivals, self._round(block, component, graph, entered, users))
        return arrivals

    def _exits_of(self, block: str, node: _Node) -> Iterator[Exit]:
        """The exits from a step or block directly in a block that stay in it."""
        inner = self._inner.get(node)
        for exit_ in self._exits.get(block, {}).get(node[0], ()):
            if inner is None or exit_.source in inner:
                yield exit_

    def _onward(self, block: str, node: _Node, way: Way) -> Iterator[tuple[_Node, Way, Exit]]:
        """Where a way leads from a step or block that it came to, by each exit that it can take."""
        for exit_ in self._exits_of(block, node):
            left = self._left(block, node, exit_.source, way)
            written = exit_.written
            if block or not isinstance(written, MatchExit) or left.total_us >= written.at_us:
                yield self._node(block, exit_.target), left, exit_

    def _round(
        self,
        block: str,
        component: set[_Node],
        graph: nx.DiGraph[_Node],
        entered: Mapping[_Node, Way],
        users: Mapping[str, set[_Node]],
    ) -> Iterator[tuple[_Node, Way]]:
        """The longest ways to the steps of a loop, and on from it."""
        inside = [
            (node, self._node(block, exit_.target), exit_)
            for node in component
            for exit_ in self._exits_of(block, node)
            if self._node(block, exit_.target) in component
        ]
        exits = [exit_ for _, _, exit_ in inside]
        most = {_counter(exit_): exit_.most or 1 for exit_ in exits if _is_counted(exit_)}
        free: nx.DiGraph[_Node] = nx.DiGraph()
        free.add_nodes_from(component)
        free.add_edges_from((a, b) for a, b, exit_ in inside if not _is_counted(exit_))
        states = len(component) * prod(number + 1 for number in most.values())
        clear = all(
            users[_counter(exit_)] <= component and self._counts_here(block, exit_)
            for exit_ in exits
            if _is_counted(exit_)
        ) and not any(self._is_dim(node) for node in component)
        if not clear:
            self.exact = False
        elif not nx.is_directed_acyclic_graph(free):
            self._note_endless(block, component)
        elif states <= MOST_STATES:
            yield from self._counted(block, list(nx.topological_sort(free)), most, entered)
            return
        else:
            self.exact = False
        yield from self._once(block, component, graph, entered)

    def _is_dim(self, node: _Node) -> bool:
        """Whether a block looks like a step of a loop and may yet end it: its entries are taken as
        one, or a count in it goes on from one time through it to the next."""
        name, entry = node
        if name in self.plan.begins:
            return not self._counting.isdisjoint(self.plan.routine.groups[name].lanes)
        return name in self._blocks and (not entry or name in self._counting)

    def _counts_here(self, block: str, exit_: Exit) -> bool:
        """Whether a count starts with the block, or the block is gone through but once (M9)."""
        owner = exit_.counted_by
        if not block or owner is None:
            return True
        if block in self._again and not self._blocks[block].task:
            return False
        if owner in self._around:
            return block in self._around[owner]
        groups = self.plan.routine.groups
        while owner and owner != block:
            owner = groups[owner].inside
        return owner == block

    def _counted(
        self,
        block: str,
        order: list[_Node],
        most: Mapping[str, int],
        entered: Mapping[_Node, Way],
    ) -> Iterator[tuple[_Node, Way]]:
        """Over all states of a loop: where a way is, and how often each count was used."""
        number = {counter: index for index, counter in enumerate(most)}
        limits, inside = tuple(most.values()), set(order)
        layers: list[dict[tuple[int, ...], dict[_Node, Way]]] = [{} for _ in range(sum(limits) + 1)]
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
                            offer(arrivals, [(target, way)])
                        elif counts[index] < limits[index]:
                            more = (*counts[:index], counts[index] + 1, *counts[index + 1 :])
                            offer(layers[used + 1].setdefault(more, {}), [(target, way)])

    def _once(
        self,
        block: str,
        component: set[_Node],
        graph: nx.DiGraph[_Node],
        entered: Mapping[_Node, Way],
    ) -> Iterator[tuple[_Node, Way]]:
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
                    offer(arrivals, [(target, way)])

    def _note_endless(self, block: str, component: set[_Node]) -> None:
        names = {name for name, _ in component}
        if block:
            self._endless_blocks.update(self._around_block(block))
        for name, around in self._around.items():
            if name in names or names.intersection(around):
                self.endless.add(name)

    def _around_block(self, block: str) -> list[str]:
        """A block and those around it, out to the first that has a limit."""
        found = [block]
        while not self._is_limited(found[-1]) and self._blocks[found[-1]].inside in self._blocks:
            found.append(self._blocks[found[-1]].inside)
        return found


def _is_counted(exit_: Exit) -> bool:
    # A match-clock exit is taken at most once.
    return exit_.most is not None or exit_.kind is ExitKind.MATCH


def _counter(exit_: Exit) -> str:
    return f"at {exit_.written.number}" if exit_.kind is ExitKind.MATCH else exit_.counter
