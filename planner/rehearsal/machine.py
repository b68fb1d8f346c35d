"""The reference machine: its obvious code is what the rules mean (grammar/README.md, section 6)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from planner.graph import Plan
from planner.graph.run import (
    Commanded,
    Counted,
    Entered,
    Event,
    Finished,
    Left,
    LimitReached,
    Remembered,
    Stopped,
    SwitchedOff,
)
from planner.graph.unfold import Exit
from planner.model.memory import Counting, Number, NumberMemory, WordMemory
from planner.model.routine import AfterExit, Given, Group, MatchExit, Rule, WhenExit
from planner.model.units import Amount
from planner.rehearsal.compiled import Compiled, Way
from planner.rehearsal.conditions import Look, Readings, reckoner
from planner.rehearsal.state import Active, Asked, State, Visit

_NO_LANES: Mapping[str, str] = {}


@dataclass(slots=True)
class _Pass:
    """One pass on its way: what it sees, and what it will have told the mechanisms at its end."""

    now_us: int
    match_us: int
    readings: Readings
    orders: dict[str, Event]
    """By mechanism, the last thing told to it; in the order of the last telling (M7)."""
    lanes: Mapping[str, str]
    """By lane of the active block, the step it is in as the pass begins (M8)."""

    def tell(self, mechanism: str, order: Event) -> None:
        """Tells a mechanism something; whatever it was told before in this pass is not sent."""
        self.orders.pop(mechanism, None)
        self.orders[mechanism] = order


class Machine:
    """Runs a plan pass by pass. It has no clock and no sensors: both are handed in.

    The plan must be free of errors: it has a start, and every exit leads somewhere. To go back to
    an earlier moment, keep a copy of `state` and set it again.
    """

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self._compiled = Compiled(plan)
        self.state = State(remembered=dict(self._compiled.begins))

    @property
    def finished(self) -> bool:
        """Whether a finish was reached."""
        return bool(self.state.step) and self.plan.step(self.state.step).is_finish

    def pass_(self, now_us: int, readings: Readings) -> tuple[Event, ...]:
        """One pass (M1) at `now_us` on a clock that never runs backwards; what it did, in order."""
        state = self.state
        if state.over:
            return ()
        match_us = now_us - state.started_us
        if not state.step:
            state.started_us, match_us = now_us, 0
        elif match_us >= self.plan.routine.limit_us:
            return self._all_off(LimitReached(match_us, state.step, not self.finished))
        lanes = dict(state.lanes) if state.lanes else _NO_LANES
        this = _Pass(now_us, match_us, readings, {}, lanes)
        moved = tuple(self._moves(this))
        ended = (Finished(match_us, state.step),) if moved and self.finished else ()
        return (*moved, *this.orders.values(), *ended)

    def look_before_start(self, readings: Readings) -> tuple[Event, ...]:
        """Takes in what the cameras answer while the robot waits for the start (M13).

        To be called as often as one likes before the first pass, which does it once more itself.
        """
        if self.state.step:
            return ()
        return tuple(self._seen_before_start(readings))

    def stop(self, now_us: int) -> tuple[Event, ...]:
        """The operator's stop, at once and from any step (M11)."""
        if self.state.over or not self.state.step:
            return ()
        return self._all_off(Stopped(now_us - self.state.started_us, self.state.step))

    # What is asked (M2 to M6, M8, M12).

    def _moves(self, this: _Pass) -> Iterator[Event]:
        """The one move of a pass, if there is one (M3); of a block, one of each lane (M8)."""
        state = self.state
        if not state.step:
            yield from self._seen_before_start(this.readings)
            state.visits[""] = Visit(this.now_us, dict(this.readings))
            yield from self._enter(self.plan.routine.start, this)
            return
        for step in (state.step, *this.lanes.values()):
            self._follow_rules(step, this)
        # The block comes before its lanes, and these follow in the order written (M4, M8).
        for step in (state.step, *this.lanes.values()):
            taken = self._taken(step, this)
            if taken is not None:
                yield Left(this.match_us, step, taken)
                yield from self._leave(taken, this)
                yield from self._enter(taken.target, this)
                if not self._stays_in_lane(taken):
                    return

    def _stays_in_lane(self, exit_: Exit) -> bool:
        """Whether an exit leads from one step of a lane to another, so that the block goes on."""
        lane = self._compiled.lane_of.get(exit_.source)
        return lane is not None and lane == self._compiled.lane_of.get(exit_.target)

    def _look(self, owner: str, this: _Pass) -> Look:
        """The pass as the conditions of a step, a group or the routine see it."""
        visit = self.state.visits[owner]
        return Look(
            this.now_us,
            this.readings,
            visit.at_entry,
            this.match_us,
            visit.memory,
            this.lanes,
            self.state.remembered,
        )

    def _follow_rules(self, step: str, this: _Pass) -> None:
        """Gives the commands of side rules whose condition has become true (M12)."""
        for owner, number, ask, rule in self._compiled.rules[step]:
            look = self._look(owner, this)
            true, was = ask(look) > 0, look.memory.get(number, False)
            look.memory[number] = true
            if true and not was and not self.finished:
                self._give(rule.given, owner, this, rule)

    def _taken(self, step: str, this: _Pass) -> Exit | None:
        """The first exit of an active step that is true, in the order of M4."""
        for match_exit in self._compiled.leads_here[step]:
            if this.match_us >= match_exit.at_us:
                self.state.spent.add(match_exit)
        for way in self._compiled.ways[step]:
            if self._is_true(way, this):
                return self._counted(way)
        return None

    def _is_true(self, way: Way, this: _Pass) -> bool:
        match way.written:
            case WhenExit():
                return way.ask(self._look(way.owner, this)) > 0
            case AfterExit(limit_us):
                return this.now_us - self.state.visits[way.owner].entered_us >= limit_us
            case MatchExit(at_us) as match_exit:
                return this.match_us >= at_us and match_exit not in self.state.spent

    def _counted(self, way: Way) -> Exit:
        """Where a true exit leads: to its target while its count lasts, then elsewhere (M9)."""
        first = way.exits[0]
        if first.most is None or self.state.counts.get(first.counter, 0) < first.most:
            return first
        return way.exits[1]

    # What is remembered and counted (M13, M14).

    def _seen_before_start(self, readings: Readings) -> Iterator[Event]:
        """The answers of cameras that are waited for, where they are new."""
        for memory in self.plan.routine.memories.values():
            if isinstance(memory, WordMemory) and memory.seen_by is not None:
                said = readings.get(memory.seen_by.name)
                known = isinstance(said, str) and said in memory.words
                if known and said != self.state.remembered[memory.name]:
                    self.state.remembered[memory.name] = str(said)
                    yield Remembered(0, memory.name, str(said))

    def _remember(self, owner: str, this: _Pass) -> Iterator[Event]:
        """What a step remembers in the pass that leaves it; what cannot be had changes nothing."""
        for line, noting in self._compiled.remembers[owner]:
            value = noting(self._look(owner, this))
            if value is None:
                continue
            memory = line.memory
            self.state.remembered[memory.name] = value
            if isinstance(memory, NumberMemory) and not isinstance(value, str):
                yield Remembered(this.match_us, memory.name, Amount(Fraction(value), memory.unit))
            else:
                yield Remembered(this.match_us, memory.name, str(value))

    def _count(self, lines: tuple[Counting, ...], this: _Pass) -> Iterator[Event]:
        """What a step counts on entry, in the order written."""
        for line in lines:
            name = line.counter.name
            number = line.after(int(self.state.remembered[name]))
            self.state.remembered[name] = number
            yield Counted(this.match_us, name, number)

    # What a move does (M7 to M10).

    def _leave(self, exit_: Exit, this: _Pass) -> Iterator[Event]:
        """Leaves the step, and the groups that the exit leads out of or starts again; with a
        block all its lanes (M8)."""
        state = self.state
        if isinstance(exit_.written, MatchExit):
            state.spent.add(exit_.written)
        elif exit_.most is not None:
            state.counts[exit_.counter] = state.counts.get(exit_.counter, 0) + 1
        left = self._left(exit_)
        # The step's own clock and readings are still there when it remembers.
        for owner in [owner for owner in self._compiled.remembers if owner in left]:
            yield from self._remember(owner, this)
        for owner in left:
            del state.visits[owner]
        if not self._stays_in_lane(exit_):
            state.lanes.clear()
        for mechanism in [name for name, owner in state.running.items() if owner in left]:
            self._switch_off(mechanism, this)

    def _left(self, exit_: Exit) -> set[str]:
        """The steps and groups that an exit leaves, those that it enters again among them."""
        if self._stays_in_lane(exit_):
            leaving = [exit_.source]
        else:
            leaving = [self.state.step, *self.state.lanes.values()]
        around = [group.name for step in leaving for group in self._around(step)]
        stays = {group.name for group in self._around(exit_.target)} - {exit_.target}
        own = [group.name for group in self._around(exit_.source)]
        for outermost in (exit_.group, exit_.restarts):
            if outermost:
                stays -= set(own[own.index(outermost) :])
        return {*leaving, *(name for name in around if name not in stays)}

    def _around(self, step: str) -> tuple[Group, ...]:
        return self.plan.routine.groups_around(step)

    def _enter(self, name: str, this: _Pass) -> Iterator[Event]:
        """Enters a step and the groups around it that were not active; with a block the first
        step of each lane (M8)."""
        state, step = self.state, self.plan.step(name)
        yield Entered(this.match_us, name)
        for group in self.plan.routine.groups_around(name):
            if group.name not in state.visits:
                state.visits[group.name] = Visit(this.now_us, dict(this.readings))
                # Each start of a task counts anew (M9).
                for counter in self._compiled.counters[group.name]:
                    state.counts.pop(counter, None)
                yield from self._count(group.counts, this)
        lane = self._compiled.lane_of.get(name)
        if lane is None:
            state.step = name
        else:
            state.lanes[lane] = name
        state.visits[name] = Visit(this.now_us, dict(this.readings))
        yield from self._count(step.counts, this)
        if step.is_finish:
            self._finish(step.commands, this)
        else:
            for given in step.commands:
                self._give(given, "" if given.keep else name, this)
            for first in self.plan.begins.get(name, ()):
                yield from self._enter(first, this)

    def _finish(self, commands: tuple[Given, ...], this: _Pass) -> None:
        """Gives a finish's commands, then switches off all that runs (M10)."""
        for given in commands:
            self._give(given, "", this)
        for mechanism in sorted(self.state.running):
            self._switch_off(mechanism, this)

    def _give(self, given: Given, owner: str, this: _Pass, rule: Rule | None = None) -> None:
        name = given.mechanism.name
        if given.command.runs:
            self.state.running[name] = owner
        else:
            self.state.running.pop(name, None)
        numbers = tuple(self._amount(number) for number in given.arguments)
        this.tell(name, Commanded(this.match_us, name, given.command.name, numbers, rule))

    def _amount(self, number: Number) -> Amount:
        """A command's number as it is when the command is given (M13)."""
        if isinstance(number, Amount):
            return number
        value = reckoner(number, number.unit)(Look(remembered=self.state.remembered))
        assert value is not None, "no reading stands in a command's number"
        return Amount(Fraction(value), number.unit)

    def _switch_off(self, mechanism: str, this: _Pass) -> None:
        del self.state.running[mechanism]
        this.tell(mechanism, SwitchedOff(this.match_us, mechanism))

    def _all_off(self, why: LimitReached | Stopped) -> tuple[Event, ...]:
        """Switches off every mechanism, those that hold included (M11)."""
        self.state.over = True
        self.state.running.clear()
        mechanisms = self.plan.routine.robot.mechanisms
        return (why, *(SwitchedOff(why.at_us, name) for name in mechanisms))

    # What the machine tells of itself, for a person who plays it by hand.

    def active(self) -> tuple[Active, ...]:
        """The steps that are active; none before the first pass. With a block's own step those
        of its lanes, in the order written."""
        state = self.state
        steps = (state.step, *state.lanes.values()) if state.step else ()
        return tuple(
            Active(step, state.visits[step].entered_us - state.started_us) for step in steps
        )

    def asked(self, now_us: int, readings: Readings) -> tuple[Asked, ...]:
        """What a pass would find, in the order of M4, without making it.

        Exits that are spent or counted out are left out, and so is what follows a count that is
        not out yet.
        """
        if self.state.over or not self.state.step:
            return ()
        kept, self.state = self.state, self.state.copy()
        started_us = kept.started_us
        now = _Pass(now_us, now_us - started_us, readings, {}, kept.lanes)
        # At the end of the match every condition was held for long enough.
        end_us = max(now_us, started_us + self.plan.routine.limit_us)
        end = _Pass(end_us, end_us - started_us, readings, {}, kept.lanes)
        try:
            return tuple(
                self._asked(way, now, end)
                for step in (kept.step, *kept.lanes.values())
                for way in self._compiled.ways[step]
                if not (isinstance(way.written, MatchExit) and way.written in kept.spent)
            )
        finally:
            self.state = kept

    def _asked(self, way: Way, now: _Pass, end: _Pass) -> Asked:
        exit_ = self._counted(way)
        if isinstance(way.written, WhenExit):
            value = way.ask(self._look(way.owner, now))
        else:
            value = 1 if self._is_true(way, now) else -1
        left = None
        if exit_.most is not None:
            left = exit_.most - self.state.counts.get(exit_.counter, 0)
        return Asked(exit_, value, self._is_true(way, end), self._due(way), left)

    def _due(self, way: Way) -> int | None:
        match way.written:
            case AfterExit(limit_us):
                return self.state.visits[way.owner].entered_us - self.state.started_us + limit_us
            case MatchExit(at_us):
                return at_us
            case _:
                return None
