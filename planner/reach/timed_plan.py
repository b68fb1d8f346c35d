"""A plan as a system whose runs can be searched: what M1 to M12 say about time.

A symbolic state is a step in the pass that enters it, with all values that the clocks can have
then; a move is all that happens up to the pass that leaves it. The passes in between are not gone
through one by one. This is what makes it right:

- A pass takes the first exit that is true (M4). So in every pass before the last one, none was.
- The last pass but one comes a longest pass before the last one at the earliest, or it is the one
  that entered the step, in which no exit is asked (M3). So a step is left before its limit T plus
  one longest pass, by whatever exit; and within a longest pass of its entry where the entry itself
  comes after a time at which a pass cannot stay.
- Sensors say anything at any pass. So what waits for a sensor may come in any pass, or in none.

Answers hold for every run, since nothing is left out. Some moves are let in that no run makes: a
pass is taken to be possible at any time from one shortest pass after the entry on; conditions of a
group's exits may have been true in its other steps; and with very many conditions in a step, each
may be true when it likes. What is found with a run is therefore rehearsed before it is believed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import networkx as nx

from planner.graph import Plan
from planner.graph.owners import groups_left
from planner.graph.unfold import Exit
from planner.graph.walks import own_ways
from planner.model.routine import Group, MatchExit
from planner.reach.bound import at_most
from planner.reach.pace import Pace
from planner.reach.search import Change, Meet, Move, Reset, Wait
from planner.reach.staying import Going, Stay, Staying, Way, needs_clock, staying, ways_of
from planner.reach.zone import Constraint, Zone

MATCH, STEP = 1, 2
"""The clocks of the match and of the step; those of groups follow, outer ones first."""
CUT_OFF = ""
"""Where a run is that the routine's limit ended outside of a finish (M11)."""


class Position(NamedTuple):
    """Where a run is, but for its clocks."""

    steps: tuple[str, ...]
    """The active step; `CUT_OFF` alone where the run was cut off."""
    spent: frozenset[int]
    """The match-clock exits that are not taken any more (M4), by number."""
    counts: tuple[tuple[str, int], ...]
    """By counter, how often its exit was taken (M9), where it was and still matters."""

    @property
    def step(self) -> str:
        """The active step."""
        return self.steps[0]


@dataclass(frozen=True, slots=True)
class Leaving:
    """What a move does: leaves a step by an exit, or is cut off where that is None."""

    step: str
    exit: Exit | None
    going: Going
    low: int
    """When the stretch of the match clock begins in which it is left, in ticks."""


class TimedPlan:
    """The runs of a plan for what was chosen, with times in the ticks of its pace.

    The plan must have a start. What is missing in an incomplete plan is missing here too.
    """

    def __init__(self, plan: Plan, pace: Pace | None = None) -> None:
        self.plan = plan
        self.pace = pace or Pace.of(plan)
        routine = plan.routine
        every = (*routine.match_exits, *(e for g in routine.groups.values() for e in g.match_exits))
        self._match_number = {exit_: n for n, exit_ in enumerate(dict.fromkeys(every))}
        self._clocks = _clocks(plan)
        self.size = max([STEP, *self._clocks.values()]) + 1
        self._ways = {step: ways_of(plan, step, self.pace) for step in routine.steps}
        self._open = {
            step: frozenset(
                self._match_number[way.written]
                for way in ways
                if isinstance(way.written, MatchExit)
            )
            for step, ways in self._ways.items()
        }
        self._leads_here = {step: self._leading_to(step) for step in routine.steps}
        self._known: dict[tuple[str, frozenset[int]], Staying] = {}
        self._ranks, self._matters = _order(plan)
        self._counters = {name: _counters(plan, name) for name in routine.groups}
        self._groups = {step: routine.groups_around(step) for step in routine.steps}

    def begin(self) -> tuple[Position, Zone]:
        """The first pass (M2)."""
        return Position((self.plan.routine.start,), frozenset(), ()), Zone.zero(self.size)

    def highest(self, _position: Position) -> Sequence[int] | None:
        """None: the routine's limit bounds all clocks."""
        return None

    def rank(self, position: Position) -> int:
        """Steps that lead to others come first, so that all is known about where they lead to."""
        return self._ranks[position.step]

    def is_over(self, position: Position) -> bool:
        """Whether a run is at its end there."""
        return position.step == CUT_OFF or self.plan.step(position.step).is_finish

    def staying(self, position: Position) -> Staying:
        """What the active step does."""
        return self._staying(position.step, position.spent)

    def moves(self, position: Position, zone: Zone) -> Iterator[Move[Position]]:
        """The ways out of the active step, as far as its clocks allow them."""
        if self.is_over(position):
            return
        here = self._staying(position.step, position.spent)
        for before, after, quick in self._waits(here, zone):
            yield from self._out(position, here, zone, before, after, quick)

    # How long a step is stayed in.

    def _waits(
        self, here: Staying, zone: Zone
    ) -> Iterator[tuple[list[Constraint], list[Constraint], bool]]:
        """Constraints on entry and on leaving, for each way to have come to the last pass; and
        whether that is the first pass that asks."""
        longest, shortest = self.pace.longest, self.pace.shortest
        timed = [(self._clock(limit), limit.last) for limit in here.limits]
        around = [(clock, last) for clock, last in timed if clock != STEP]
        # The first pass after the entry stays only if it can come before all limits.
        at_once = any(last <= shortest for _, last in timed)
        quick = [_from(STEP, shortest), _below(STEP, longest + 1)]
        if at_once:
            yield [], quick, True
            return
        for stay in here.stays:
            before = [_from(MATCH, stay.reached_from), _below(MATCH, stay.high - shortest)]
            before += [_below(clock, last - shortest) for clock, last in around]
            after = [_from(STEP, shortest), _from(MATCH, stay.low + shortest)]
            after += [_below(MATCH, stay.high + longest)]
            after += [_below(clock, last + longest) for clock, last in timed]
            if stay.low:
                # Some pass stays at or past `low`, so no limit may be over by then.
                gaps = (
                    Constraint(clock, MATCH, at_most(last - 1 - stay.low)) for clock, last in timed
                )
                after += gaps
            yield before, after, False
        for begin, end in _between(here.stays, shortest):
            if zone.most(MATCH) >= begin and (end is None or zone.least(MATCH) < end):
                yield [_from(MATCH, begin), *([_below(MATCH, end)] if end else [])], quick, True
        for clock, last in around:
            if zone.most(clock) >= last - shortest:
                yield [_from(clock, last - shortest)], quick, True

    def _out(
        self,
        position: Position,
        here: Staying,
        zone: Zone,
        before: list[Constraint],
        after: list[Constraint],
        quick: bool,
    ) -> Iterator[Move[Position]]:
        waited = zone.meet(before).up().meet(after)
        if waited.is_empty:
            return
        first, last = waited.least(MATCH), waited.most(MATCH)
        for stretch in here.stretches:
            if last < stretch.low or (stretch.high is not None and first >= stretch.high):
                continue
            within = [_from(MATCH, stretch.low)] if stretch.low > first else []
            if stretch.high is not None and stretch.high <= last:
                within.append(_below(MATCH, stretch.high))
            for going in stretch.goings:
                if quick and not going.quick:
                    continue
                guard = Meet((*after, *within, *self._guard(here, going)))
                changes = (Meet(tuple(before)), Wait(), guard)
                yield self._move(position, going, stretch.low, changes)

    def _guard(self, here: Staying, going: Going) -> Iterator[Constraint]:
        """What a way needs of the clocks of steps and groups."""
        way = going.way
        if way is None:
            return
        if way.is_limit:
            yield _from(self._clock(way), way.first)
        elif going.least:
            yield _from(self._clock(way), going.least)
        for limit in here.limits:
            # Of a time chosen before the start it is not known whether it comes before the other.
            if limit.number < way.number and limit.first == limit.last:
                yield _below(self._clock(limit), limit.last)

    # Where a move leads.

    def _move(
        self, position: Position, going: Going, low: int, changes: tuple[Change, ...]
    ) -> Move[Position]:
        step, way = position.step, going.way
        if way is None:
            over = Position((CUT_OFF,), frozenset(), ())
            return Move(Leaving(step, None, going, low), over, changes)
        counts = dict(position.counts)
        exit_ = way.exits[0]
        if exit_.most is not None:
            if counts.get(exit_.counter, 0) < exit_.most:
                counts[exit_.counter] = counts.get(exit_.counter, 0) + 1
            else:
                exit_ = way.exits[1]
        spent = position.spent | self._spent_here(step, low)
        if isinstance(exit_.written, MatchExit):
            spent |= {self._match_number[exit_.written]}
        around = self._groups[exit_.target]
        left = groups_left(self.plan, exit_)
        stays = {group.name for group in self._groups[step]} - set(left)
        resets = [Reset(STEP)]
        running = set()
        for group in around:
            clock = self._clocks.get(group.name)
            if group.name in stays:
                running.add(clock)
                continue
            for counter in self._counters[group.name]:
                counts.pop(counter, None)
            if clock:
                resets.append(Reset(clock))
                running.add(clock)
        idle = {*self._clocks.values()} - running
        resets += [Reset(clock) for clock in sorted(idle)]
        matters = self._matters[exit_.target]
        kept = tuple(sorted((name, n) for name, n in counts.items() if name in matters))
        target = Position((exit_.target,), spent, kept)
        return Move(Leaving(step, exit_, going, low), target, (*changes, *resets))

    def _spent_here(self, step: str, low: int) -> frozenset[int]:
        """The match-clock exits that lead to a step and whose time has come while in it (M4)."""
        ticks = self.pace.ticks
        return frozenset(
            self._match_number[exit_]
            for exit_ in self._leads_here[step]
            if ticks(exit_.at_us) <= low
        )

    def _staying(self, step: str, spent: frozenset[int]) -> Staying:
        key = (step, spent & self._open[step])
        if key not in self._known:
            ways = tuple(
                way
                for way in self._ways[step]
                if not isinstance(way.written, MatchExit)
                or self._match_number[way.written] not in spent
            )
            cuts = frozenset(self.pace.ticks(e.at_us) for e in self._leads_here[step])
            self._known[key] = staying(self.plan, ways, cuts, self.pace)
        return self._known[key]

    def _leading_to(self, step: str) -> tuple[MatchExit, ...]:
        """The match-clock exits that lead to a step and that count while it is active."""
        routine = self.plan.routine
        around = routine.groups_around(step)
        own = (*routine.match_exits, *(exit_ for group in around for exit_ in group.match_exits))
        return tuple(exit_ for exit_ in own if exit_.target == step)

    def _clock(self, way: Way) -> int:
        return self._clocks.get(way.owner, STEP)


def _below(clock: int, tick: int) -> Constraint:
    return Constraint(clock, 0, at_most(tick - 1))


def _from(clock: int, tick: int) -> Constraint:
    return Constraint(0, clock, at_most(-tick))


def _between(stays: tuple[Stay, ...], shortest: int) -> Iterator[tuple[int, int | None]]:
    """The times of the match from which on the first pass cannot stay, or only by a long jump."""
    lows = [0, *(max(0, stay.high - shortest) for stay in stays)]
    highs = [*(stay.low for stay in stays), None]
    return ((low, high) for low, high in zip(lows, highs, strict=True) if low != high)


def _clocks(plan: Plan) -> dict[str, int]:
    """The clock of each group that needs one.

    Groups of one depth share a clock, since only one of them is active at a time.
    """
    routine = plan.routine
    needing = {name for name in routine.groups if needs_clock(routine, name)}
    found: dict[str, int] = {}
    for name, group in routine.groups.items():
        around = list(_around(plan, group))
        if name in needing:
            found[name] = STEP + 1 + sum(1 for outer in around if outer in needing)
    return found


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
        for later in whole.successors(component):
            counted[component] |= counted[later]
    matters = {
        step: frozenset(counted[component])
        for component in order
        for step in whole.nodes[component]["members"]
    }
    return ranks, matters
