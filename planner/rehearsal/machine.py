"""The reference machine: its obvious code is what M1 to M11 mean (grammar/README.md, section 6)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import count
from typing import Any

from planner.graph import Plan
from planner.graph.run import (
    Commanded,
    Entered,
    Event,
    Finished,
    Left,
    LimitReached,
    Stopped,
    SwitchedOff,
)
from planner.graph.unfold import Exit
from planner.model.routine import AfterExit, Given, MatchExit, WhenExit
from planner.rehearsal.conditions import Look, Question, Readings, question
from planner.rehearsal.truth import Truth, truth


@dataclass(slots=True)
class State:
    """All that a machine remembers between two passes."""

    step: str = ""
    """The active step; empty before the first pass."""
    started_us: int = 0
    entered_us: int = 0
    over: bool = False
    """True once the routine's limit or a stop has switched everything off."""
    spent: set[MatchExit] = field(default_factory=set)
    """The match-clock exits that were taken, or whose time came in their own target (M4)."""
    counts: dict[tuple[str, int], int] = field(default_factory=dict)
    """How often each counted exit was taken, by step and number (M9)."""
    running: set[str] = field(default_factory=set)
    """The mechanisms whose latest command is one that runs."""
    at_entry: Readings = field(default_factory=dict)
    memory: dict[int, Any] = field(default_factory=dict)

    def copy(self) -> State:
        """A state that later passes leave alone."""
        return replace(
            self,
            spent=set(self.spent),
            counts=dict(self.counts),
            running=set(self.running),
            memory=dict(self.memory),
        )


@dataclass(frozen=True, slots=True)
class Active:
    """A step that is active, and since when on the match clock."""

    step: str
    entered_us: int


@dataclass(frozen=True, slots=True)
class Asked:
    """An exit of an active step as the next pass would find it."""

    exit: Exit
    truth: Truth
    in_time: bool
    """Whether it becomes true by itself if no reading changes any more."""
    due_us: int | None
    """When it becomes true on the match clock; None for an exit that waits for a condition."""
    times_left: int | None
    """How often a counted exit can still be taken; None where it is not counted."""


class Machine:
    """Runs a plan pass by pass. It has no clock and no sensors: both are handed in.

    The plan must be free of errors: it has a start, and every exit leads somewhere. To go back to
    an earlier moment, keep a copy of `state` and set it again.
    """

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.state = State()
        self._exits: dict[str, tuple[tuple[Exit, Question], ...]] = {}
        for step, exits in plan.exits.items():
            numbers = count()
            self._exits[step] = tuple((exit_, self._question(exit_, numbers)) for exit_ in exits)
        self._led_here: dict[str, list[MatchExit]] = {step: [] for step in plan.routine.steps}
        for match_exit in plan.routine.match_exits:
            self._led_here[match_exit.target].append(match_exit)

    @property
    def finished(self) -> bool:
        """Whether a finish was reached."""
        return bool(self.state.step) and self.plan.step(self.state.step).is_finish

    def pass_(self, now_us: int, readings: Readings) -> tuple[Event, ...]:
        """One pass (M1) at `now_us` on a clock that never runs backwards; what it did, in order."""
        state = self.state
        if state.over:
            return ()
        if not state.step:
            state.started_us = now_us
            return tuple(self._enter(self.plan.routine.start, now_us, readings, ()))
        match_us = now_us - state.started_us
        if match_us >= self.plan.routine.limit_us:
            return self._all_off(LimitReached(match_us, state.step, not self.finished))
        taken = self._taken(now_us, match_us, readings)
        return () if taken is None else tuple(self._move(taken, now_us, readings))

    def stop(self, now_us: int) -> tuple[Event, ...]:
        """The operator's stop, at once and from any step (M11)."""
        if self.state.over or not self.state.step:
            return ()
        return self._all_off(Stopped(now_us - self.state.started_us, self.state.step))

    def active(self) -> tuple[Active, ...]:
        """The steps that are active; none before the first pass."""
        state = self.state
        if not state.step:
            return ()
        return (Active(state.step, state.entered_us - state.started_us),)

    def asked(self, now_us: int, readings: Readings) -> tuple[Asked, ...]:
        """What a pass would find, in the order of M4, without making it.

        Exits that are spent or counted out are left out, and so is what follows a count that is
        not out yet.
        """
        if self.state.over or not self.state.step:
            return ()
        found: list[Asked] = []
        memory = dict(self.state.memory)
        started_us, entry = self.state.started_us, self.state.at_entry
        now = Look(now_us, readings, entry, now_us - started_us, memory)
        # At the end of the match every condition was held for long enough.
        end_us = max(now_us, started_us + self.plan.routine.limit_us)
        end = Look(end_us, readings, entry, end_us - started_us, memory)
        for exit_, ask in self._exits[self.state.step]:
            if self._is_spent(exit_) or not self._count_allows(exit_):
                continue
            if found and found[-1].exit.written is exit_.written:
                continue
            value = ask(now)
            due_us, times_left = self._due(exit_), self._times_left(exit_)
            found.append(Asked(exit_, value, ask(end) > 0, due_us, times_left))
        return tuple(found)

    def _is_spent(self, exit_: Exit) -> bool:
        return isinstance(exit_.written, MatchExit) and exit_.written in self.state.spent

    def _due(self, exit_: Exit) -> int | None:
        match exit_.written:
            case AfterExit(limit_us):
                return self.state.entered_us - self.state.started_us + limit_us
            case MatchExit(at_us):
                return at_us
            case _:
                return None

    def _times_left(self, exit_: Exit) -> int | None:
        if exit_.most is None:
            return None
        return exit_.most - self.state.counts.get((exit_.source, exit_.number), 0)

    # Which exit is taken (M2 to M6).

    def _question(self, exit_: Exit, numbers: Iterator[int]) -> Question:
        """What makes an exit true, apart from its count."""
        match exit_.written:
            case WhenExit(condition):
                return question(condition, numbers)
            case AfterExit(limit_us):
                return lambda look: _at_or_past(look.now_us - self.state.entered_us, limit_us)
            case MatchExit() as match_exit:
                return lambda look: self._match_time(match_exit, look)

    def _match_time(self, match_exit: MatchExit, look: Look) -> Truth:
        match_us = look.now_us - self.state.started_us
        return truth(match_us >= match_exit.at_us and match_exit not in self.state.spent)

    def _taken(self, now_us: int, match_us: int, readings: Readings) -> Exit | None:
        """The first exit that is true, in the order of M4."""
        state = self.state
        for match_exit in self._led_here[state.step]:
            if match_us >= match_exit.at_us:
                state.spent.add(match_exit)
        look = Look(now_us, readings, state.at_entry, match_us, state.memory)
        for exit_, ask in self._exits[state.step]:
            if ask(look) > 0 and self._count_allows(exit_):
                return exit_
        return None

    def _count_allows(self, exit_: Exit) -> bool:
        """Whether a true exit is still within its count (M9); what comes after the count is."""
        taken = self.state.counts.get((exit_.source, exit_.number), 0)
        return exit_.most is None or taken < exit_.most

    # What a move does (M7, M10).

    def _move(self, exit_: Exit, now_us: int, readings: Readings) -> Iterator[Event]:
        state = self.state
        if isinstance(exit_.written, MatchExit):
            state.spent.add(exit_.written)
        elif exit_.most is not None:
            key = (exit_.source, exit_.number)
            state.counts[key] = state.counts.get(key, 0) + 1
        yield Left(now_us - state.started_us, state.step, exit_)
        left = self.plan.step(state.step)
        # Of several commands to one mechanism the last was sent, so its `keep` counts.
        sent = {given.mechanism.name: given for given in left.commands}
        ends = tuple(name for name, given in sent.items() if _ends(given))
        yield from self._enter(exit_.target, now_us, readings, ends)

    def _enter(
        self, name: str, now_us: int, readings: Readings, ends: tuple[str, ...]
    ) -> Iterator[Event]:
        """Enters a step; `ends` are the mechanisms that the left step had running."""
        state, step = self.state, self.plan.step(name)
        state.step, state.entered_us = name, now_us
        state.at_entry, state.memory = dict(readings), {}
        match_us = now_us - state.started_us
        yield Entered(match_us, name)
        told = {given.mechanism.name: given for given in step.commands}
        for mechanism in ends:
            if mechanism not in told and mechanism in state.running:
                yield self._off(mechanism, match_us)
        # Of several commands to one mechanism only the last is sent, where it is written (M7).
        for given in step.commands:
            if told[given.mechanism.name] is given and not (step.is_finish and given.command.runs):
                yield self._sent(given, match_us)
        if step.is_finish:
            ended = {name for name, given in told.items() if given.command.runs} | state.running
            for mechanism in sorted(ended):
                yield self._off(mechanism, match_us)
            yield Finished(match_us, name)

    def _sent(self, given: Given, match_us: int) -> Event:
        running = self.state.running
        (running.add if given.command.runs else running.discard)(given.mechanism.name)
        return Commanded(match_us, given.mechanism.name, given.command.name, given.arguments)

    def _off(self, mechanism: str, match_us: int) -> Event:
        self.state.running.discard(mechanism)
        return SwitchedOff(match_us, mechanism)

    def _all_off(self, why: LimitReached | Stopped) -> tuple[Event, ...]:
        """Switches off every mechanism, those that hold included (M11)."""
        self.state.over = True
        off = [self._off(name, why.at_us) for name in self.plan.routine.robot.mechanisms]
        return (why, *off)


def _ends(given: Given) -> bool:
    """Whether a command is switched off when its step is left."""
    return given.command.runs and not given.keep


def _at_or_past(clock_us: int, limit_us: int) -> Truth:
    return truth(clock_us >= limit_us)
