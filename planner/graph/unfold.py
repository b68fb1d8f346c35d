"""The routine unfolded into a graph of steps and exits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from enum import Enum
from itertools import count
from typing import TypeAlias

import networkx as nx

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
    """

    routine: Routine
    steps: Steps
    exits: dict[str, tuple[Exit, ...]] = field(repr=False)
    """By step, in the order they are asked in a pass (M4)."""

    def step(self, name: str) -> Step:
        """The step of that name."""
        return self.routine.steps[name]

    def all_exits(self) -> Iterator[Exit]:
        """Every exit, by step as written, in the order asked."""
        for exits in self.exits.values():
            yield from exits


def unfold(routine: Routine) -> Plan:
    """The graph of a routine; nodes and edges are in the order of the text."""
    steps: Steps = nx.MultiDiGraph()
    steps.add_nodes_from(routine.steps)
    exits = {name: tuple(_exits(routine, step)) for name, step in routine.steps.items()}
    for of_step in exits.values():
        steps.add_edges_from((e.source, e.target, {"exit": e}) for e in of_step)
    return Plan(routine, steps, exits)


def _exits(routine: Routine, step: Step) -> Iterator[Exit]:
    """A step's exits, outermost first, then as written, then by time (M4)."""
    if step.is_finish:
        return
    number = count()
    yield from _match_exits(routine.match_exits, step, "", number)
    for group in routine.groups_around(step.name):
        yield from _match_exits(group.match_exits, step, group.name, number)
        afters = sorted(group.afters, key=lambda after: after.limit_us)
        yield from _written((*group.whens, *afters), step, group.name, number)
    yield from _written(step.exits, step, "", number)


def _match_exits(
    exits: tuple[MatchExit, ...], step: Step, group: str, number: Iterator[int]
) -> Iterator[Exit]:
    for match_exit in exits:
        if match_exit.target != step.name:
            target = match_exit.target
            yield Exit(step.name, target, ExitKind.MATCH, match_exit, next(number), group=group)


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
