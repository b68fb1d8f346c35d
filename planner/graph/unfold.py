"""The routine unfolded into a graph of steps and exits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from enum import Enum
from itertools import count
from typing import TypeAlias

import networkx as nx

from planner.model.numbering import numbered
from planner.model.routine import AfterExit, MatchExit, Routine, Step, StepExit, WhenExit
from planner.text import Place


class ExitKind(Enum):
    """What makes an exit true; the value is the word it is written with."""

    WHEN = "when"
    AFTER = "after"
    MATCH = "at"


@dataclass(frozen=True, slots=True)
class Exit:
    """One way out of a step, as an edge of the graph.

    A counted exit makes two edges: one with `most` set, taken while the count lasts, and one with
    `overflow` set, taken after it. Both carry the same `written` exit.
    """

    source: str
    target: str
    kind: ExitKind
    written: WhenExit | AfterExit | MatchExit
    number: int
    """Its place in the order in which the exits of its step are asked, from 0."""
    most: int | None = None
    overflow: bool = False
    group: str = ""
    """The group whose exit it is; empty for the step's own and for the routine's."""
    restarts: str = ""
    """The group it leaves even if it leads back into it: a task that has ended, or its round."""
    counter: str = ""
    """What it is counted under; exits of one count share it."""
    counted_by: str | None = None
    """The step or group its count belongs to, under no name the routine; None where it has none."""

    @property
    def place(self) -> Place:
        """The line it stands on."""
        return self.written.place


Steps: TypeAlias = "nx.MultiDiGraph[str]"


@dataclass(frozen=True, slots=True)
class Plan:
    """A routine and its graph: nodes are names of steps, edges carry an `Exit` as ``exit``.

    Edges that lines which could not be read may have meant are not in the graph; a step's
    `perhaps` names where they may lead.

    A block of lanes is a step that stays active together with one step of each of its lanes, ends
    of lanes included (M8). `begins` says what is entered together with a block; no exit does that.
    The exits of the block and of all that is around it stand on the block's own step, and again on
    every step of its lanes in front of the lane's own, for whoever follows one lane alone.
    """

    routine: Routine
    steps: Steps
    exits: dict[str, tuple[Exit, ...]] = field(repr=False)
    """By step, in the order they are asked in a pass (M4)."""
    begins: dict[str, tuple[str, ...]] = field(default_factory=dict, repr=False)
    """By the step that stands for a block, the first step of each lane, in the order written."""
    outer: dict[str, frozenset[str]] = field(default_factory=dict, repr=False)
    """By step of a lane, what is around the lane and the lane itself; the routine has no name."""

    def step(self, name: str) -> Step:
        """The step of that name."""
        return self.routine.steps[name]

    def of_lane(self, exit_: Exit) -> bool:
        """Whether an exit belongs to a lane: to one of its steps, or to a group within it."""
        outer = self.outer.get(exit_.source)
        if outer is None:
            return False
        # Of the exits without a group only those by the match clock are the routine's.
        return exit_.group not in outer if exit_.group else exit_.kind is not ExitKind.MATCH

    def asked_of(self, step: str) -> tuple[Exit, ...]:
        """The exits that are asked of a step by itself: in a lane, those of the lane (M8)."""
        exits = self.exits[step]
        return tuple(filter(self.of_lane, exits)) if step in self.outer else exits

    def leaves_lane(self, exit_: Exit) -> bool:
        """Whether an exit of a lane leads out of it, and so ends its block and all its lanes."""
        outer = self.outer.get(exit_.source)
        return outer is not None and self.outer.get(exit_.target) != outer

    def block_of(self, step: str) -> str:
        """The step that stands for the block around a step of a lane; empty for other steps."""
        lane = self.routine.lane_around(step)
        return lane.inside if lane else ""

    def all_exits(self) -> Iterator[Exit]:
        """Every exit, by step as written, in the order asked."""
        for exits in self.exits.values():
            yield from exits


def unfold(routine: Routine) -> Plan:
    """The graph of a routine; nodes and edges are in the order of the text.

    Its exits, rules and commands have numbers from here on.
    """
    routine = numbered(routine)
    groups = routine.groups
    begins = {
        name: tuple(first for lane in group.lanes if (first := groups[lane].first))
        for name, group in groups.items()
        if group.is_block
    }
    outer = dict(_outer(routine)) if begins else {}
    steps: Steps = nx.MultiDiGraph()
    steps.add_nodes_from(routine.steps)
    exits = {name: tuple(_exits(routine, step)) for name, step in routine.steps.items()}
    for of_step in exits.values():
        steps.add_edges_from((e.source, e.target, {"exit": e}) for e in of_step)
    return Plan(routine, steps, exits, begins, outer)


def _outer(routine: Routine) -> Iterator[tuple[str, frozenset[str]]]:
    for name in routine.steps:
        around = routine.groups_around(name)
        for index, group in enumerate(around):
            if group.lane:
                yield name, frozenset(("", *(outer.name for outer in around[: index + 1])))


def _exits(routine: Routine, step: Step) -> Iterator[Exit]:
    """A step's exits, outermost first, then as written, then by time (M4)."""
    if step.is_finish:
        return
    number = count()
    yield from _match_exits(routine, routine.match_exits, step, "", number)
    for group in routine.groups_around(step.name):
        yield from _match_exits(routine, group.match_exits, step, group.name, number)
        afters = sorted(group.afters, key=lambda after: after.limit_us)
        yield from _written((*group.whens, *afters), step, group.name, number)
    yield from _written(step.exits, step, "", number)


def _match_exits(
    routine: Routine,
    exits: tuple[MatchExit, ...],
    step: Step,
    group: str,
    number: Iterator[int],
) -> Iterator[Exit]:
    lane = routine.lane_around(step.name)
    for match_exit in exits:
        target = match_exit.target
        # While its lanes run, a block is where an exit that leads to it would lead.
        if target != step.name and not (lane and lane.inside == target):
            yield Exit(
                step.name,
                target,
                ExitKind.MATCH,
                match_exit,
                next(number),
                group=group,
                restarts=match_exit.restarts,
            )


def _written(
    exits: Iterable[StepExit], step: Step, group: str, number: Iterator[int]
) -> Iterator[Exit]:
    for index, written in enumerate(exits):
        kind = ExitKind.WHEN if isinstance(written, WhenExit) else ExitKind.AFTER
        counted = written.count
        if counted is None:
            yield Exit(
                step.name,
                written.target,
                kind,
                written,
                next(number),
                group=group,
                restarts=written.restarts,
            )
            continue
        own = group or step.name
        counter = counted.counter or f"{own} {index}"
        owner = own if counted.owner is None else counted.owner
        first = (written.target, counted.most, written.restarts)
        for target, most, restarts in (first, (counted.then, None, counted.then_restarts)):
            yield Exit(
                step.name,
                target,
                kind,
                written,
                next(number),
                most,
                overflow=most is None,
                group=group,
                restarts=restarts,
                counter=counter,
                counted_by=owner,
            )
