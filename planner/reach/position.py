"""Where a run is but for its clocks, and where a move leads it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

import networkx as nx

from planner.graph import Plan
from planner.graph.owners import groups_left
from planner.graph.unfold import Exit
from planner.graph.walks import own_ways
from planner.model.condition import MemoryCompare, MemoryIs, Reckoned, leaves
from planner.model.memory import Counter, WordMemory
from planner.model.routine import Group, MatchExit, Step, WhenExit
from planner.reach.search import Reset
from planner.reach.staying import Going, held_name, needs_clock

MATCH, EVENT = 1, 2
"""The clock of the match, and that of the time since the latest pass in which a step was entered;
the latter is the clock of a step outside of lanes. Those of groups and lanes follow."""
CUT_OFF = ""
"""Where a run is that the routine's limit ended outside of a finish (M11)."""


Held: TypeAlias = "tuple[tuple[str, int | str], ...]"
"""By counter its number, by word memory its word."""


class Position(NamedTuple):
    """Where a run is, but for its clocks."""

    steps: tuple[str, ...]
    """The active step, and with a block those of its lanes, in the order written (M8); `CUT_OFF`
    alone where the run was cut off."""
    spent: frozenset[int]
    """The match-clock exits that are not taken any more (M4), by number."""
    counts: tuple[tuple[str, int], ...]
    """By counter, how often its exit was taken (M9), where it was and still matters."""
    held: Held = ()
    """What is counted and remembered (M13, M14), where that is known and still matters."""

    @property
    def step(self) -> str:
        """The active step; the block's own where lanes are active too."""
        return self.steps[0]


OVER = Position((CUT_OFF,), frozenset(), ())


@dataclass(frozen=True, slots=True)
class Taken:
    """A way that a step is left by in a pass; the exit is None where the limit ends the run."""

    step: str
    going: Going
    exit: Exit | None


@dataclass(frozen=True, slots=True)
class Leaving:
    """What happens in the pass that a move ends with."""

    taken: tuple[Taken, ...]
    """One exit; of a block, one for each lane that moves, in the order asked (M8)."""
    entered: tuple[str, ...]
    """The steps that are entered, in order."""
    low: int
    """When the stretch of the match clock begins in which it happens, in ticks."""


class Leads:
    """Where exits lead, and which clocks there are."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        routine = plan.routine
        every = (*routine.match_exits, *(e for g in routine.groups.values() for e in g.match_exits))
        self.match_number = {exit_: n for n, exit_ in enumerate(dict.fromkeys(every))}
        self.clocks = _clocks(plan)
        """By step of a lane, and by group where anything depends on it, the number of its clock."""
        self.size = _size(self.clocks)
        self.ranks, self._matters = _order(plan)
        self._remembering = {
            owner.name: owner.remembers for owner in _owners(plan) if owner.remembers
        }
        self.changed_in_lanes = frozenset(_changed_in_lanes(plan))
        """What is counted and remembered in lanes."""
        self._counting = {owner.name: owner.counts for owner in _owners(plan) if owner.counts}
        self._counters = {name: _counters(plan, name) for name in routine.groups}
        self._groups = {step: routine.groups_around(step) for step in routine.steps}
        self._lane_of = {
            step: lane.name for step in plan.outer if (lane := routine.lane_around(step))
        }

    def begin(self) -> Position:
        """Where runs start. What a camera says before the start is not known (M13)."""
        routine = self.plan.routine
        steps = self._entered(routine.start)
        held: dict[str, int | str] = {}
        for name, memory in routine.memories.items():
            if isinstance(memory, Counter):
                held[name] = memory.normal
            elif isinstance(memory, WordMemory) and memory.seen_by is None:
                held[name] = memory.first
        self._count(steps, {g.name for step in steps for g in self._groups[step]}, held)
        return Position(steps, frozenset(), (), self._that_matters(steps, held))

    def move(
        self, position: Position, goings: tuple[tuple[str, Going], ...], spent: frozenset[int]
    ) -> tuple[Position, tuple[Taken, ...], tuple[str, ...], tuple[Reset, ...]]:
        """The position after some exits are taken in one pass; the exits, the steps entered, and
        the clocks set to 0."""
        steps, counts, held = position.steps, dict(position.counts), dict(position.held)
        taken: list[Taken] = []
        entered: list[str] = []
        fresh: set[str] = set()
        for step, going in goings:
            exit_ = self.next_exit(going, counts)
            if exit_.most is not None:
                counts[exit_.counter] = counts.get(exit_.counter, 0) + 1
            taken.append(Taken(step, going, exit_))
            if isinstance(exit_.written, MatchExit):
                spent |= {self.match_number[exit_.written]}
            lane = self._lane_of.get(step)
            in_lane = lane is not None and self._lane_of.get(exit_.target) == lane
            new = (exit_.target,) if in_lane else self._entered(exit_.target)
            steps_before = steps
            steps = tuple(exit_.target if one == step else one for one in steps) if in_lane else new
            entered += new
            left = groups_left(self.plan, exit_)
            self._remember((*left, *((step,) if in_lane else steps_before)), held)
            kept = {group.name for group in self._groups[step]} - {*left}
            groups = {g.name for one in new for g in self._groups[one] if g.name not in kept}
            self._count(new, groups, held)
            fresh |= groups | set(new)
        for group in fresh & self._counters.keys():
            for counter in self._counters[group]:
                counts.pop(counter, None)
        resets = (Reset(EVENT), *(Reset(clock) for clock in self._stopped(steps, fresh)))
        matters = frozenset().union(*(self._matters[step] for step in steps))
        kept_counts = tuple(sorted((name, n) for name, n in counts.items() if name in matters))
        target = Position(steps, spent, kept_counts, self._that_matters(steps, held))
        return target, tuple(taken), tuple(entered), resets

    def _remember(self, owners: Iterable[str], held: dict[str, int | str]) -> None:
        """What is remembered when steps and groups are left; a sensor may have said anything."""
        left = set(owners)
        for owner, lines in self._remembering.items():
            for line in lines if owner in left else ():
                if isinstance(line.value, str):
                    held[line.memory.name] = line.value
                else:
                    held.pop(line.memory.name, None)

    def _count(self, steps: Iterable[str], groups: set[str], held: dict[str, int | str]) -> None:
        """What is counted when steps, and groups that were not active, are entered (M14)."""
        counted: set[str] = set()
        for step in steps:
            around = [g.name for g in self._groups[step] if g.name in groups - counted]
            counted.update(around)
            for owner in (*around, step):
                for line in self._counting.get(owner, ()) if owner in {*groups, step} else ():
                    number = held.get(line.counter.name)
                    if isinstance(number, int):
                        held[line.counter.name] = line.after(number)

    def _that_matters(self, steps: tuple[str, ...], held: Mapping[str, int | str]) -> Held:
        matters = frozenset().union(*(self._matters[step] for step in steps))
        return tuple(sorted((name, value) for name, value in held.items() if f"={name}" in matters))

    def next_exit(self, going: Going, counts: Mapping[str, int]) -> Exit:
        """Where an exit leads: to its target while its count lasts, then elsewhere (M9)."""
        assert going.way is not None
        first = going.way.exits[0]
        if first.most is None or counts.get(first.counter, 0) < first.most:
            return first
        return going.way.exits[1]

    def by_lane(self, steps: tuple[str, ...]) -> dict[str, str]:
        """The steps of lanes, by the group that is the lane."""
        return {self._lane_of[step]: step for step in steps}

    def _entered(self, target: str) -> tuple[str, ...]:
        """What is entered with a step outside of lanes: with a block its lanes (M8)."""
        return (target, *self.plan.begins.get(target, ()))

    def _stopped(self, steps: tuple[str, ...], fresh: set[str]) -> list[int]:
        """The clocks that begin anew, and those that nothing goes by."""
        owners = {*steps, *(group.name for step in steps for group in self._groups[step])}
        going_on = {self.clocks[o] for o in owners - fresh if o in self.clocks}
        return sorted({*self.clocks.values()} - going_on)


def clocks_of(plan: Plan) -> int:
    """How many clocks a search of a plan's runs has, clock 0 among them: 3, and with lanes more."""
    return _size(_clocks(plan))


def knows_all_it_holds(plan: Plan) -> bool:
    """Whether a position tells all that conditions ask of what is counted and remembered.

    Numbers that are remembered are not known, nor are words that a sensor has said.
    """
    conditions = [
        exit_.written.condition for exit_ in plan.all_exits() if isinstance(exit_.written, WhenExit)
    ]
    asked = [leaf for condition in conditions for leaf in leaves(condition)]
    words = {leaf.memory.name for leaf in asked if isinstance(leaf, MemoryIs)}
    said = {
        line.memory.name
        for owner in _owners(plan)
        for line in owner.remembers
        if not isinstance(line.value, str)
    }
    seen = {
        name
        for name, memory in plan.routine.memories.items()
        if isinstance(memory, WordMemory) and memory.seen_by is not None
    }
    numbers = any(isinstance(leaf, MemoryCompare | Reckoned) for leaf in asked)
    return not numbers and words.isdisjoint(said | seen)


def _owners(plan: Plan) -> Iterator[Step | Group]:
    """What remembers and counts, in the order in which it remembers: inner ones first (M13)."""
    yield from plan.routine.steps.values()
    groups = plan.routine.groups.values()
    yield from sorted(groups, key=lambda group: -len(list(_around(plan, group))))


def _changed_in_lanes(plan: Plan) -> Iterator[str]:
    groups = {group.name for step in plan.outer for group in plan.routine.groups_around(step)}
    for owner in _owners(plan):
        if owner.name in plan.outer or owner.name in groups:
            yield from (line.counter.name for line in owner.counts)
            yield from (line.memory.name for line in owner.remembers)


def _held(plan: Plan, step: str) -> Iterator[str]:
    """The counters and word memories that the exits of a step ask."""
    for exit_ in plan.exits[step]:
        if isinstance(exit_.written, WhenExit):
            yield from (n for leaf in leaves(exit_.written.condition) if (n := held_name(leaf)))


def _clocks(plan: Plan) -> dict[str, int]:
    """The clocks of groups that need one, and of the steps of lanes.

    Groups of one depth share a clock, since only one of them is active at a time; so do the steps
    of one lane. Each lane has clocks of its own.
    """
    routine = plan.routine
    needing = [name for name in routine.groups if needs_clock(routine, name)]
    lanes = {name: _lane_place(plan, group) for name, group in routine.groups.items()}
    depth = {
        name: sum(
            1
            for outer in _around(plan, routine.groups[name])
            if outer in needing and lanes[outer] == lanes[name]
        )
        for name in needing
    }
    outer = max((depth[name] + 1 for name in needing if lanes[name] is None), default=0)
    inner = max((depth[name] + 1 for name in needing if lanes[name] is not None), default=0)
    found: dict[str, int] = {}
    for name in needing:
        place = lanes[name]
        base = EVENT + 1 if place is None else EVENT + 2 + outer + place * (1 + inner)
        found[name] = base + depth[name]
    for step in plan.outer:
        place = lanes[routine.steps[step].group]
        assert place is not None
        found[step] = EVENT + 1 + outer + place * (1 + inner)
    return found


def _size(clocks: Mapping[str, int]) -> int:
    return max([EVENT, *clocks.values()]) + 1


def _lane_place(plan: Plan, group: Group) -> int | None:
    """The place of the lane around a group among those of its block; None outside of lanes."""
    groups = plan.routine.groups
    for name in (group.name, *_around(plan, group)):
        if groups[name].lane:
            return groups[groups[name].inside].lanes.index(name)
    return None


def _around(plan: Plan, group: Group) -> Iterator[str]:
    while group.inside:
        group = plan.routine.groups[group.inside]
        yield group.name


def _counters(plan: Plan, group: str) -> tuple[str, ...]:
    """The counters that each start of a task sets to 0: those of what stands in it (M9)."""
    routine = plan.routine
    if not routine.groups[group].task:
        return ()
    found: dict[str, None] = {}
    for step, exits in plan.exits.items():
        around = [outer.name for outer in routine.groups_around(step)]
        inside = {step, *around[around.index(group) :]} if group in around else set()
        found.update((exit_.counter, None) for exit_ in exits if exit_.counted_by in inside)
    return tuple(found)


def _order(plan: Plan) -> tuple[dict[str, int], dict[str, frozenset[str]]]:
    """By step, its place in an order in which no way leads back but round a loop; and the counters
    that still matter from there on."""
    graph = own_ways(plan)
    for exit_ in plan.all_exits():
        graph.add_edge(exit_.source, exit_.target)
    whole = nx.condensation(graph)
    ranks = {CUT_OFF: len(whole)}
    counted: dict[int, set[str]] = {}
    order = list(nx.lexicographical_topological_sort(whole))
    for rank, component in enumerate(order):
        ranks.update(dict.fromkeys(whole.nodes[component]["members"], rank))
    for component in reversed(order):
        inside = whole.nodes[component]["members"]
        counted[component] = {e.counter for step in inside for e in plan.exits[step] if e.counter}
        counted[component] |= {f"={name}" for step in inside for name in _held(plan, step)}
        for later in whole.successors(component):
            counted[component] |= counted[later]
    matters = {
        step: frozenset(counted[component])
        for component in order
        for step in whole.nodes[component]["members"]
    }
    return ranks, matters
