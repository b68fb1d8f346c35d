"""Loops that a run need never leave."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import networkx as nx

from planner.graph.lanes import exits_by_block
from planner.graph.owners import groups_left, is_incomplete
from planner.graph.remembered import counted_out
from planner.graph.unfold import Exit, ExitKind, Plan
from planner.graph.walks import layers, own_ways, reached


@dataclass(frozen=True, slots=True)
class Loop:
    """Steps that can follow each other round and round, as often as the sensors say."""

    steps: tuple[str, ...]
    """All steps that are tied together so, in the order of the text."""
    way: tuple[Exit, ...]
    """A short way round that no time limit of a group ends, through the first of them if one is."""


def is_idle(plan: Plan, exit_: Exit) -> bool:
    """Whether an exit leads a step back to itself with nothing to do and nothing to count."""
    step = plan.step(exit_.source)
    counted = exit_.most is not None or exit_.overflow
    return (
        exit_.source == exit_.target
        and not counted
        and not step.commands
        and not step.rules
        and not groups_left(plan, exit_)
    )


def endless_loops(plan: Plan) -> Iterator[Loop]:
    """The loops that no count, match clock or time limit of a group ends, idle ones left out.

    They are the strongly connected components of the exits that may be taken any number of times
    (R. Tarjan, "Depth-first search and linear graph algorithms", 1972). A count inside of a task
    starts anew with the task (M9), so it ends only loops that stay in the task. The match clock
    ends a loop unless runs can be in it when the last match-clock exit has been taken.
    """
    position = {name: index for index, name in enumerate(plan.routine.steps)}
    entered = layers(plan)[-1]
    exits = [
        exit_
        for exit_ in exits_by_block(plan)
        # In an incomplete step a count may be what could not be read.
        if exit_.kind is not ExitKind.MATCH
        and not is_incomplete(plan.routine, exit_.source)
        and {exit_.source, exit_.target} <= entered
        and not is_idle(plan, exit_)
    ]
    clock = _Clock(plan)
    for component, inside in _tied(plan, exits):
        steps = tuple(sorted(component, key=position.__getitem__))
        if _ended_by_limit(plan, inside) or clock.ends(component):
            continue
        yield Loop(steps, _way_round(plan, steps, inside))


def _tied(plan: Plan, exits: Iterable[Exit]) -> Iterator[tuple[set[str], list[Exit]]]:
    """Components of exits that may be taken any number of times, and the exits in each.

    As in the search for fair loops (E. Emerson, C.-L. Lei, "Modalities for model checking", 1987,
    from memory) a component is taken apart until all that it needs lies in it. A counter that is
    counted one way only takes it apart as well.
    """
    waiting = [[exit_ for exit_ in exits if exit_.most is None or _tasks_around(plan, exit_)]]
    while waiting:
        kept = waiting.pop()
        graph: nx.DiGraph[str] = nx.DiGraph()
        graph.add_edges_from((exit_.source, exit_.target) for exit_ in kept)
        number: dict[str, int] = {}
        components = list(nx.strongly_connected_components(graph))
        for index, component in enumerate(components):
            number.update(dict.fromkeys(component, index))
        within: dict[int, list[Exit]] = {}
        for exit_ in kept:
            if number[exit_.source] == number[exit_.target]:
                within.setdefault(number[exit_.source], []).append(exit_)
        for index, inside in within.items():
            left = {group for exit_ in inside for group in groups_left(plan, exit_)}
            spent = [
                exit_
                for exit_ in inside
                if exit_.most is not None and not left.intersection(_tasks_around(plan, exit_))
            ]
            if spent:
                gone = {(exit_.source, exit_.number) for exit_ in spent}
                waiting.append([e for e in inside if (e.source, e.number) not in gone])
                continue
            ended = counted_out(plan, inside)
            if ended is None:
                yield components[index], inside
            else:
                waiting.extend(ended)


def _tasks_around(plan: Plan, exit_: Exit) -> list[str]:
    """The tasks whose start sets the count of an exit to 0."""
    groups = plan.routine.groups
    name = exit_.counted_by or ""
    if name in plan.routine.steps:
        name = plan.step(name).group
    found = []
    while name:
        if groups[name].task:
            found.append(name)
        name = groups[name].inside
    return found


def _limited(plan: Plan, exit_: Exit) -> str:
    """The outermost group with a time limit that an exit stays in; empty where there is none."""
    left = groups_left(plan, exit_)
    around = plan.routine.groups_around(exit_.source)
    return next((group.name for group in around if group.afters and group.name not in left), "")


def _ended_by_limit(plan: Plan, inside: list[Exit]) -> bool:
    """Whether a group's time limit ends every way round; it is one group if it is so at all."""
    first = _limited(plan, inside[0])
    return bool(first) and all(_limited(plan, exit_) == first for exit_ in inside)


class _Clock:
    """The match-clock exits of groups: each is taken at most once."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._ways = own_ways(plan)
        self._after: dict[str, set[str]] = {}

    def ends(self, steps: set[str]) -> bool:
        """Whether one of them takes a run out of a loop for good."""
        targets = {
            exit_.target
            for step in steps
            for group in self._plan.routine.groups_around(step)
            for exit_ in group.match_exits
        }
        return any(self._reached(target).isdisjoint(steps) for target in targets)

    def _reached(self, target: str) -> set[str]:
        if target not in self._after:
            self._after[target] = reached(self._ways, [target])
        return self._after[target]


def _way_round(plan: Plan, steps: tuple[str, ...], inside: list[Exit]) -> tuple[Exit, ...]:
    """A way round that no limit ends: a shortest one through the first step, or through an exit
    that leaves the group whose limit would end it."""
    following: dict[str, list[Exit]] = {}
    for exit_ in inside:
        following.setdefault(exit_.source, []).append(exit_)
    way = _shortest(following, steps[0], steps[0])
    if _ended_by_limit(plan, list(way)):
        out = next(exit_ for exit_ in inside if not _limited(plan, exit_))
        back = _shortest(following, out.target, out.source) if out.target != out.source else ()
        way = (out, *back)
    return way


def _shortest(following: dict[str, list[Exit]], first: str, last: str) -> tuple[Exit, ...]:
    """A shortest way from one step to another, of at least one exit if they are the same."""
    came: dict[str, Exit] = {}
    waiting = deque([first])
    while last not in came:
        for exit_ in following[waiting.popleft()]:
            if exit_.target not in came:
                came[exit_.target] = exit_
                waiting.append(exit_.target)
    back = [came[last]]
    while back[-1].source != first:
        back.append(came[back[-1].source])
    return tuple(reversed(back))
