"""Exits of one step that can be true in one pass and lead to different places: conflicting
transitions, of which the order in the text takes the first (M4).

That two of them are never true together is decided over every value that tells answers apart
(`planner.graph.possible`). Readings that make both true are shown only once the machine has been
handed them, and has taken the exit that is said to win.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product

from planner.graph import Plan, unfold
from planner.graph.atoms import SOURCE, Asking, Assumed, Atoms, Cell, Key, lane_key
from planner.graph.crossing import steadily
from planner.graph.owners import Owner, asked_around, owners
from planner.graph.pass_time import longest_pass_us
from planner.graph.possible import Outcome, together
from planner.graph.run import Left
from planner.model.condition import (
    Condition,
    Held,
    Looks,
    MatchClock,
    Once,
    Source,
    Steady,
    lasting_parts,
    leaves,
)
from planner.model.robot import Reading
from planner.model.routine import WhenExit
from planner.rehearsal.conditions import Number, Readings
from planner.rehearsal.machine import Machine
from planner.rehearsal.state import Visit
from planner.rehearsal.world import World

MOST_PASSES = 10_000
"""So many passes are played for two exits; where both are true in none, nothing is shown."""


@dataclass(frozen=True, slots=True)
class Shown:
    """Readings that make two exits true in one pass."""

    said: Readings
    """In that pass, what makes a difference, by the names that a plan uses. ``match`` is a time on
    the match clock in microseconds, ``memory side``, ``counter shots`` and ``lane wheels`` are what
    is remembered, counted, and the step that a lane is in."""
    before: Readings
    """What the sensors said in all passes before it."""
    waited_us: int
    """How long they have said so, from the entry on; 0 where it makes no difference."""
    lasts_us: int
    """How long they say what is `said`, up to that pass; 0 where it makes no difference."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two exits of a step or group that can be true in one pass, none that is asked before them
    being so."""

    owner: str
    """The step or group at which the second stands."""
    around: str
    """The group at which the first stands, where that is another."""
    first: WhenExit
    """The one that is taken."""
    then: WhenExit
    shown: Shown | None
    """None where nothing was found that makes both true, nor that nothing does."""


def conflicts(
    plan: Plan, earliest_us: Mapping[str, int] | None = None, whole: bool = True
) -> Iterator[Conflict]:
    """The conflicts of a plan, by step or group, in the order of M4.

    `earliest_us` are the earliest entries of steps; steps that are not among them are never
    entered, if they are the `whole` of those that are, and left out.
    """
    routine = plan.routine
    entered = routine.steps if earliest_us is None or not whole else earliest_us
    for owner in owners(routine):
        steps = [step for step in owner.steps if step in entered]
        if not owner.whens or not steps:
            continue
        since_us = min((earliest_us or {}).get(step, 0) for step in steps)
        yield from _of_owner(plan, owner, steps[0], since_us if whole else 0)


def differ(first: WhenExit, then: WhenExit) -> bool:
    """Whether it makes a difference which of two exits is taken."""
    return (first.target, first.count) != (then.target, then.count)


@dataclass(frozen=True, slots=True)
class _Exit:
    when: WhenExit
    owner: str

    @property
    def asking(self) -> Asking:
        return Asking(self.when.condition, self.owner)

    @property
    def steady(self) -> _Exit:
        """The exit as it is once the readings have stayed as they are."""
        return replace(self, when=replace(self.when, condition=steadily(self.when.condition)))


def _of_owner(plan: Plan, owner: Owner, step: str, since_us: int) -> Iterator[Conflict]:
    around = asked_around(plan.routine, owner)
    outer = [_Exit(when, group.name) for group in around for when in group.whens]
    exits = [*outer, *(_Exit(when, owner.name) for when in owner.whens)]
    stage = _Stage(plan, step, exits)
    place = _Place(plan, owner.name, (*(group.name for group in around), owner.name), since_us)
    for index, then in enumerate(exits[len(outer) :], len(outer)):
        for number, first in enumerate(exits[:index]):
            if not differ(first.when, then.when):
                continue
            outcome = place.together(exits[:number], first, then)
            if not outcome.never:
                lasts_us = stage.lasts_us(first.when, then.when)
                ways = [
                    place.together(exits[:number], first.steady, then.steady, lasts_us),
                    place.together(exits[:number], first, then, lasts_us),
                    outcome,
                ]
                shown = stage.shown([one for one in ways if one.possible], first.when, then.when)
                beyond = "" if first.owner == owner.name else first.owner
                yield Conflict(owner.name, beyond, first.when, then.when, shown)


@dataclass(frozen=True, slots=True)
class _Place:
    """A step or group, with what is known wherever its exits are asked."""

    plan: Plan
    name: str
    names: tuple[str, ...]
    """It and the groups around it, outermost first."""
    since_us: int
    """When it is entered at the earliest."""

    def together(
        self, earlier: Sequence[_Exit], first: _Exit, then: _Exit, lasts_us: int = 0
    ) -> Outcome:
        """Whether two exits can be true in one pass in which no earlier one is, when the step has
        lasted for a time or longer."""
        exits = (*earlier, first, then)
        every = [leaf for one in exits for leaf in leaves(one.when.condition)]
        clocks = [leaf for leaf in every if isinstance(leaf, MatchClock)]
        # Nothing is asked before the pass after the entry (M3).
        since_us = self.since_us + lasts_us
        since = [Asking(MatchClock(">", since_us, leaf.place)) for leaf in clocks[:1]]
        assumed = Assumed(self.plan.routine.limit_us, given=self._given())
        true, others = [first.asking, then.asking, *since], [one.asking for one in earlier]
        return together(true, others, self.names, assumed)

    def _given(self) -> Mapping[Key, Cell]:
        """What is asked about its own lane is answered by the step itself."""
        routine = self.plan.routine
        lane = routine.lane_around(self.name) if self.name in routine.steps else None
        return {lane_key(lane.name): self.name} if lane else {}


class _Stage:
    """A step on which readings are tried, from its entry on, in passes of the longest kind."""

    def __init__(self, plan: Plan, step: str, exits: Sequence[_Exit]) -> None:
        robot = plan.routine.robot
        block = plan.block_of(step)
        self._step, self._lane = step, plan.routine.lane_around(step)
        self._plan = unfold(replace(plan.routine, start=block or step))
        self._pass_us = longest_pass_us(plan)
        self._exits = exits
        readings = [one for m in robot.mechanisms.values() for one in m.readings.values()]
        sources: list[Source] = [*robot.sensors.values(), *readings]
        self._sizes = {one.spoken: one.unit.size for one in sources if one.unit}
        self._from_start = {
            one.spoken: 0 for one in sources if isinstance(one, Reading) and one.from_step_start
        }
        self._rest = World(robot).all_shown()
        self._left_to_play = 0

    def shown(self, outcomes: Iterable[Outcome], first: WhenExit, then: WhenExit) -> Shown | None:
        """Readings like those of some outcomes, once the machine has gone that way."""
        passes, numbers = self._passes(first, then), (first.number, then.number)
        self._left_to_play = MOST_PASSES
        for outcome in outcomes:
            said = {name: self._read(name, cell) for name, cell in outcome.says.items()}
            sensed = {name: value for name, value in said.items() if name in self._rest}
            during = {**self._rest, **sensed}
            for before in self._before(during) if passes > 1 else [during]:
                # What makes no difference in that pass goes on as before.
                found = self._played(before, {**before, **sensed}, said, passes, numbers)
                if found or self._left_to_play <= 0:
                    return found
        return None

    def _read(self, name: str, cell: Cell) -> Number | str | bool | None:
        if isinstance(cell, Fraction):
            return cell / self._sizes.get(name, 1)
        return cell

    def lasts_us(self, first: WhenExit, then: WhenExit) -> int:
        """How long a step lasts at most until both are true, if the readings let them."""
        return self._passes(first, then) * self._pass_us

    def _passes(self, first: WhenExit, then: WhenExit) -> int:
        """How many passes from the entry on both need at most."""
        if not any(map(_lasts, (first.condition, then.condition))):
            return 1
        return 2 + max(_needs(one.condition, self._pass_us) for one in (first, then))

    def _before(self, during: Readings) -> Iterator[dict[str, Number | str | bool | None]]:
        """What may have been said before: first what is said in that pass, then all else."""
        lasting = [one.asking for one in self._exits if _lasts(one.when.condition)]
        atoms = Atoms(lasting or [self._exits[0].asking], Assumed())
        domains: dict[str, list[Number | str | bool | None]] = {}
        for key, cells in atoms.domains.items():
            if (name := str(key[1])) in self._rest and _is_source(key):
                others = [self._read(name, cell) for cell in cells if cell != ""]
                now = during[name]
                domains[name] = [now, *(one for one in others if one != now)]
        for values in product(*domains.values()):
            yield {**during, **dict(zip(domains, values, strict=True))}
        # What makes no difference in the pass itself may have ended the step before.
        for values in product(*domains.values()):
            yield {**self._rest, **dict(zip(domains, values, strict=True))}

    def _played(
        self,
        before: Readings,
        during: Readings,
        said: Readings,
        passes: int,
        exits: tuple[int, int],
    ) -> Shown | None:
        """One way to a pass in which the machine takes the first of two exits with both true: some
        passes in which the sensors say one thing, then some in which they say another."""
        machine = self._entered({**before, **self._from_start}, said, passes)
        if machine is None:
            return None
        for number in range(passes):
            kept = machine.state.copy()
            more = self._goes_on(machine, number, passes, during, exits)
            machine.state = kept
            if more:
                told = {n: v for n, v in before.items() if v != self._rest[n] or n in said}
                if "match" in said:
                    at_us = (number + more) * self._pass_us - kept.started_us
                    said = {**said, "match": Fraction(at_us)}
                said = {**{n: v for n, v in told.items() if n not in said}, **said}
                lasting = passes > 1
                waited_us = number * self._pass_us if before != during else 0
                lasts_us = (number + more) * self._pass_us - waited_us
                return Shown(said, told, waited_us * lasting, lasts_us * lasting)
            if before == during or self._left(machine, number + 1, before):
                return None
        return None

    def _goes_on(
        self, machine: Machine, number: int, passes: int, said: Readings, exits: tuple[int, int]
    ) -> int:
        """In how many passes the machine comes to take the first of two exits with both true."""
        for more in range(1, passes - number + 1):
            now_us = (number + more) * self._pass_us
            true = {one.exit.written.number for one in machine.asked(now_us, said) if one.truth > 0}
            left = self._left(machine, number + more, said)
            if left:
                return more if left.exit.written.number == exits[0] and exits[1] in true else 0
        return 0

    def _entered(self, readings: Readings, said: Readings, passes: int) -> Machine | None:
        """A machine that has just entered the step, everything else being as it is to be."""
        machine = Machine(self._plan)
        machine.pass_(0, readings)
        state = machine.state
        at_us = said.get("match")
        if isinstance(at_us, Fraction):
            state.started_us = passes * self._pass_us - int(at_us)
            if state.started_us > 0:
                return None
        for name, value in said.items():
            kind, _, of = name.partition(" ")
            if kind == "lane" and value:
                state.lanes[of] = str(value)
            elif kind in ("memory", "counter") and of in state.remembered:
                assert isinstance(value, str | Fraction)
                state.remembered[of] = value if isinstance(value, str) else int(value)
        if self._lane:
            state.lanes[self._lane.name] = self._step
        for step in state.lanes.values():
            state.visits.setdefault(step, Visit(0, dict(readings)))
        return machine

    def _left(self, machine: Machine, number: int, said: Readings) -> Left | None:
        """By what the step is left in a pass, if it is."""
        self._left_to_play -= 1
        own = {self._step, self._plan.routine.start}
        events = machine.pass_(number * self._pass_us, said)
        return next((one for one in events if isinstance(one, Left) and one.step in own), None)


def _is_source(key: Key) -> bool:
    return key[0] == SOURCE


def _lasts(condition: Condition) -> bool:
    """Whether it rests on several passes (M5)."""
    return any(True for _ in lasting_parts(condition))


def _needs(condition: Condition, pass_us: int) -> int:
    """In how many passes all that a condition remembers has come about, at the latest."""
    needed = 0
    for part in lasting_parts(condition):
        match part:
            case Held() | Steady():
                needed += -(-part.duration_us // pass_us)
            case Looks():
                needed += part.looks - 1
            case Once():
                needed += 1
    return needed
