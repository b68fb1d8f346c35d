"""Every run of a small plan, by the reference machine, pass by pass: judge of clever answers."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product
from typing import TypeAlias

from planner.graph import Plan
from planner.graph.monitor import Watch, follow, watches
from planner.graph.run import Entered, LimitReached
from planner.model.requirement import Requirement
from planner.rehearsal import Machine, Readings
from planner.rehearsal.state import State

Playing: TypeAlias = tuple[State, tuple[Watch, ...]]


@dataclass
class AllRuns:
    """What happens on the runs of a plan."""

    entries: dict[str, tuple[int, int]] = field(default_factory=dict)
    """By step, the first and the last time at which some run enters it, in microseconds."""
    cut_off: bool = False
    """Whether some run is cut off outside of a finish."""
    broken: set[Requirement] = field(default_factory=set)
    """The requirements that some run breaks."""


def all_runs(
    plan: Plan, gaps_us: tuple[int, ...], said: Mapping[str, tuple[str | None, ...]]
) -> AllRuns:
    """Plays a plan with any of these times between passes, and anything said in any pass."""
    machine = Machine(plan)
    every = [dict(zip(said, values, strict=True)) for values in product(*said.values())]
    runs = AllRuns()
    waiting: dict[int, dict[Hashable, Playing]] = {0: {}}
    _pass(machine, (machine.state.copy(), watches(plan)), 0, every[0], runs, waiting[0])
    while waiting:
        now_us = min(waiting)
        for state, watched in waiting.pop(now_us).values():
            for gap_us in gaps_us:
                later = waiting.setdefault(now_us + gap_us, {})
                for readings in every:
                    playing = state.copy(), watched
                    _pass(machine, playing, now_us + gap_us, readings, runs, later)
                if not later:
                    del waiting[now_us + gap_us]
    return runs


def _pass(
    machine: Machine,
    playing: Playing,
    now_us: int,
    readings: Readings,
    runs: AllRuns,
    going_on: dict[Hashable, Playing],
) -> None:
    state, watched = playing
    machine.state = state
    events = machine.pass_(now_us, readings)
    for event in events:
        if isinstance(event, Entered):
            low, high = runs.entries.get(event.step, (now_us, now_us))
            runs.entries[event.step] = (min(low, now_us), max(high, now_us))
        elif isinstance(event, LimitReached):
            runs.cut_off |= event.cut_off
    watched = tuple(follow(machine.plan, watch, now_us, events) for watch in watched)
    runs.broken |= {watch.requirement for watch in watched if watch.broken}
    if not machine.finished and not state.over:
        seen = tuple((one.on, one.came, one.since_us, one.broken is None) for one in watched)
        going_on[(*_all_that_counts(state), seen)] = state, watched


def _all_that_counts(state: State) -> Iterator[Hashable]:
    """What tells two states apart; readings at entry are left out, since no plan here asks."""
    yield state.step, tuple(sorted(state.lanes.items()))
    for owner, visit in sorted(state.visits.items()):
        yield owner, visit.entered_us, tuple(sorted(visit.memory.items()))
    yield frozenset(state.spent), tuple(sorted(state.remembered.items()))
    yield tuple(sorted(state.counts.items()))
    yield tuple(sorted(state.running.items()))
