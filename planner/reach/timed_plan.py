"""A plan as a system whose runs can be searched: what M1 to M12 say about time.

A symbolic state is a step in the pass that enters it, with all values that the clocks can have
then; a move is all that happens up to the pass that leaves it. The passes in between are not gone
through one by one. This is what makes it right:

- A pass takes the first exit that is true (M4). So in every pass before the last one, none was.
- The last pass but one comes a longest pass before the last one at the earliest, or it is the one
  that entered the step, in which no exit is asked (M3). So a step is left before its limit T plus
  one longest pass, by whatever exit; and within a longest pass of its entry where the entry itself
  comes after a time at which a pass cannot stay.
- In a block all active steps go by the same passes. In the last one the block stays or leaves, and
  each lane that does not move stays: none of its limits is over then (M8).
- In one pass a sensor says the same to all active steps (`agreeing`).
- Sensors say anything at any pass. So what waits for a sensor may come in any pass, or in none.

Answers hold for every run, since nothing is left out. Some moves are let in that no run makes: a
pass is taken to be possible at any time from one shortest pass after the entry on; conditions of a
group's exits may have been true in its other steps; and with very many conditions in a step, each
may be true when it likes. What is found with a run is therefore rehearsed before it is believed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from planner.graph import Plan
from planner.model.routine import MatchExit, WhenExit
from planner.reach.agreeing import ANYTHING, Sayings, Shared, agreeing, looks_of, shared_by
from planner.reach.bound import at_most
from planner.reach.coming import Coming, below_tick, comings, from_tick
from planner.reach.pace import Pace
from planner.reach.position import (
    CUT_OFF,
    EVENT,
    MATCH,
    OVER,
    Held,
    Leads,
    Leaving,
    Position,
    Taken,
)
from planner.reach.search import Meet, Move, Wait
from planner.reach.staying import (
    Around,
    Going,
    Stay,
    Staying,
    Stretch,
    Way,
    held_for,
    joined,
    looks_at_lanes,
    staying,
    ways_of,
)
from planner.reach.zone import Constraint, Zone


@dataclass(frozen=True, slots=True)
class Together:
    """What all active steps do, while the match clock is in one stretch for each of them."""

    low: int
    high: int | None
    parts: tuple[Stretch, ...]

    @property
    def may_stay(self) -> bool:
        """Whether a pass can leave all of them as they are."""
        said = ANYTHING
        for part in self.parts:
            said = agreeing(said, part.sayings)
        return bool(said) and all(part.may_stay for part in self.parts)


@dataclass(frozen=True, slots=True)
class Here:
    """All active steps at once: one, or a block's and those of its lanes."""

    parts: tuple[Staying, ...]
    stretches: tuple[Together, ...]
    stays: tuple[Stay, ...]
    limits: tuple[tuple[int, int], ...]
    """The clocks of all limits, with the tick at which each is over at the latest."""
    comings: tuple[Coming, ...]


class TimedPlan:
    """The runs of a plan for what was chosen, with times in the ticks of its pace.

    A limit chosen from a range before the start is any of it, or `as_chosen` in this variant. The
    plan must have a start. What is missing in an incomplete plan is missing here too.
    """

    def __init__(self, plan: Plan, pace: Pace | None = None, as_chosen: bool = False) -> None:
        self.plan = plan
        self.pace = pace or Pace.of(plan)
        self._leads = Leads(plan)
        self.size = self._leads.size
        self._ways = {
            step: ways_of(plan, step, self.pace, as_chosen) for step in plan.routine.steps
        }
        self._open = {
            step: frozenset(
                self._leads.match_number[way.written]
                for way in ways
                if isinstance(way.written, MatchExit)
            )
            for step, ways in self._ways.items()
        }
        self._asks_lanes = {step: looks_at_lanes(ways) for step, ways in self._ways.items()}
        self._leads_here = {step: self._leading_to(step) for step in plan.routine.steps}
        self._looks = {
            step: looks_of(
                way.written.condition for way in ways if isinstance(way.written, WhenExit)
            )
            for step, ways in self._ways.items()
        }
        self._asks_held = {step: held_for(ways) for step, ways in self._ways.items()}
        self._known: dict[
            tuple[str, frozenset[int], tuple[str, ...], Held, tuple[str, ...]], Staying
        ] = {}
        self._here: dict[tuple[tuple[str, ...], frozenset[int], Held], Here] = {}
        self._moves: dict[tuple[Position, int, int], tuple[Move[Position], ...]] = {}

    def begin(self) -> tuple[Position, Zone]:
        """The first pass (M2)."""
        return self._leads.begin(), Zone.zero(self.size)

    def highest(self, _position: Position) -> Sequence[int] | None:
        """None: the routine's limit bounds all clocks."""
        return None

    def rank(self, position: Position, _zone: Zone, _moves: int) -> int:
        """Steps that lead to others come first, so that all is known about where they lead to."""
        ranks = self._leads.ranks
        return ranks[position.step] * 100 * len(ranks) + sum(ranks[s] for s in position.steps[1:])

    def is_over(self, position: Position) -> bool:
        """Whether a run is at its end there."""
        return position.step == CUT_OFF or self.plan.step(position.step).is_finish

    def clock_of(self, way: Way) -> int:
        """The clock that a way goes by, where it is not that of the match."""
        return self._leads.clocks.get(way.owner, EVENT)

    def moves(self, position: Position, zone: Zone) -> Iterator[Move[Position]]:
        """What can happen in the next pass in which something does, as far as the clocks allow."""
        if self.is_over(position):
            return
        here = self.here(position)
        for number, coming in enumerate(here.comings):
            waited = coming.leaving.after(_WAIT.after(coming.entry.after(zone)))
            if waited.is_empty:
                continue
            first, last = waited.least(MATCH), waited.most(MATCH)
            for at, stretch in enumerate(here.stretches):
                if stretch.low <= last and (stretch.high is None or first < stretch.high):
                    key = (position, number, at)
                    if key not in self._moves:
                        self._moves[key] = tuple(self._moves_in(position, here, coming, stretch))
                    yield from self._moves[key]

    def _moves_in(
        self, position: Position, here: Here, coming: Coming, stretch: Together
    ) -> Iterator[Move[Position]]:
        """The moves whose last pass is in a stretch; what they have in common is the same object,
        which the search makes use of."""
        within = [from_tick(MATCH, stretch.low)]
        if stretch.high is not None:
            within.append(below_tick(MATCH, stretch.high))
        start = (coming.entry, _WAIT, coming.leaving, Meet(tuple(within)))
        for goings, guards in self._choices(position, here, stretch, coming.is_quick):
            yield self._move(position, goings, stretch.low, (*start, *guards))

    # What the last pass does.

    def _choices(
        self, position: Position, here: Here, stretch: Together, quick: bool
    ) -> Iterator[tuple[tuple[tuple[str, Going], ...], tuple[Meet, ...]]]:
        """The exits that can be taken together, with what they need of the clocks."""
        alone, own = len(here.parts) == 1, here.parts[0]
        for going in stretch.parts[0].goings:
            if not (quick and alone) or going.quick:
                guards = self._guard(own, going, position.step, quick)
                yield ((position.step, going),), _meets(guards)
        if not alone and stretch.parts[0].may_stay:
            stays, said = _meets(self._not_over(own)), stretch.parts[0].sayings
            yield from self._of_lanes(position, here, stretch, quick, 1, stays, said)

    def _of_lanes(
        self,
        position: Position,
        here: Here,
        stretch: Together,
        quick: bool,
        number: int,
        guards: tuple[Meet, ...],
        said: Sayings,
        taken: tuple[tuple[str, Going], ...] = (),
    ) -> Iterator[tuple[tuple[tuple[str, Going], ...], tuple[Meet, ...]]]:
        """What the lanes do from one of them on, in the order written (M8)."""
        if number == len(position.steps):
            if taken:
                yield taken, guards
            return
        part, step, own = here.parts[number], position.steps[number], stretch.parts[number]
        together = agreeing(said, own.sayings) if own.may_stay else frozenset()
        if together:
            stays = (*guards, *_meets(self._not_over(part)))
            yield from self._of_lanes(
                position, here, stretch, quick, number + 1, stays, together, taken
            )
        for going in own.goings:
            together = agreeing(said, going.sayings)
            if going.way is None or not together:
                continue
            now = (*taken, (step, going))
            needs = (*guards, *_meets(self._guard(part, going, step, quick)))
            # A lane that leads out of the block is the last one asked.
            if self.plan.leaves_lane(self._leads.next_exit(going, dict(position.counts))):
                yield now, needs
            else:
                yield from self._of_lanes(
                    position, here, stretch, quick, number + 1, needs, together, now
                )

    def _guard(self, part: Staying, going: Going, step: str, quick: bool) -> Iterator[Constraint]:
        """What a way needs of the clocks of steps and groups; `quick` in the first pass after the
        entry of some active step."""
        way = going.way
        if way is None:
            return
        if quick and not going.quick and step in self._leads.clocks:
            # Its step was entered in an earlier pass than that one.
            yield Constraint(EVENT, self._leads.clocks[step], at_most(-self.pace.shortest))
        if way.is_limit:
            yield from_tick(self.clock_of(way), way.first)
        elif going.least:
            yield from_tick(self.clock_of(way), going.least)
        for limit in part.limits:
            # Of a time chosen before the start it is not known whether it comes before the other.
            if limit.number < way.number and limit.first == limit.last:
                yield below_tick(self.clock_of(limit), limit.last)

    def _not_over(self, part: Staying) -> Iterator[Constraint]:
        """No limit of a step that stays is over."""
        return (below_tick(self.clock_of(limit), limit.last) for limit in part.limits)

    def _move(
        self,
        position: Position,
        goings: tuple[tuple[str, Going], ...],
        low: int,
        changes: tuple[Meet | Wait, ...],
    ) -> Move[Position]:
        step, first = goings[0]
        if first.way is None:
            return Move(Leaving((Taken(step, first, None),), (), low), OVER, changes)
        spent = position.spent.union(*(self._spent_here(one, low) for one in position.steps))
        target, taken, entered, resets = self._leads.move(position, goings, spent)
        return Move(Leaving(taken, entered, low), target, (*changes, *resets))

    # What the active steps do.

    def here(self, position: Position) -> Here:
        """All active steps, with the match-clock exits that are open."""
        key = (position.steps, position.spent, position.held)
        if key not in self._here:
            parts = tuple(self._staying(step, position) for step in position.steps)
            limits = tuple(
                (self.clock_of(limit), limit.last) for part in parts for limit in part.limits
            )
            stretches = tuple(_together(parts))
            longest = self.pace.longest
            stays = joined(
                ((one.low, one.high) for one in stretches if one.high is not None and one.may_stay),
                longest,
            )
            ways_there = tuple(comings(stays, limits, self.pace))
            self._here[key] = Here(parts, stretches, stays, limits, ways_there)
        return self._here[key]

    def _staying(self, step: str, position: Position) -> Staying:
        spent = position.spent & self._open[step]
        lanes = position.steps[1:] if self._asks_lanes[step] else ()
        asks = self._asks_held[step]
        if step in position.steps[2:]:
            # An earlier lane may change it in the same pass (M13).
            asks -= self._leads.changed_in_lanes
        held = tuple(pair for pair in position.held if pair[0] in asks) if asks else ()
        shared = self._shared(step, position.steps)
        key = (step, spent, lanes, held, position.steps if shared else ())
        if key not in self._known:
            ways = tuple(
                way
                for way in self._ways[step]
                if not isinstance(way.written, MatchExit)
                or self._leads.match_number[way.written] not in spent
            )
            cuts = frozenset(self.pace.ticks(e.at_us) for e in self._leads_here[step])
            in_block = len(position.steps) > 1
            around = Around(self._leads.by_lane(lanes), dict(held), in_block, shared)
            self._known[key] = staying(self.plan, ways, cuts, self.pace, around)
        return self._known[key]

    def _shared(self, step: str, steps: tuple[str, ...]) -> Shared:
        """What active steps ask of the readings that this one looks at with others."""
        if len(steps) == 1:
            return {}
        every = shared_by([self._looks[one] for one in steps])
        return {name: asked for name, asked in every.items() if name in self._looks[step]}

    def _spent_here(self, step: str, low: int) -> frozenset[int]:
        """The match-clock exits that lead to a step and whose time has come while in it (M4)."""
        ticks = self.pace.ticks
        return frozenset(
            self._leads.match_number[exit_]
            for exit_ in self._leads_here[step]
            if ticks(exit_.at_us) <= low
        )

    def _leading_to(self, step: str) -> tuple[MatchExit, ...]:
        """The match-clock exits that lead to a step and that count while it is active."""
        routine = self.plan.routine
        around = routine.groups_around(step)
        own = (*routine.match_exits, *(exit_ for group in around for exit_ in group.match_exits))
        return tuple(exit_ for exit_ in own if exit_.target == step)


def _together(parts: tuple[Staying, ...]) -> Iterator[Together]:
    """The stretches of all parts, cut wherever one of them is."""
    if len(parts) == 1:
        yield from (Together(one.low, one.high, (one,)) for one in parts[0].stretches)
        return
    lows = sorted({stretch.low for part in parts for stretch in part.stretches})
    for low, high in pairwise([*lows, None]):
        assert low is not None
        yield Together(low, high, tuple(_at(part, low) for part in parts))


def _at(part: Staying, tick: int) -> Stretch:
    return next(s for s in part.stretches if s.high is None or tick < s.high)


_WAIT = Wait()


def _meets(constraints: Iterator[Constraint]) -> tuple[Meet, ...]:
    """Some constraints as one change, or none where there are none."""
    kept = tuple(constraints)
    return (Meet(kept),) if kept else ()
