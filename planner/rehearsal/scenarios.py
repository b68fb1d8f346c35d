"""Plays a scenario on the reference machine, and says what differed from what must be seen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from planner.graph import Plan
from planner.graph.monitor import judged
from planner.graph.run import Commanded, Entered, Event, Finished, LimitReached
from planner.model.requirement import Requirement
from planner.model.routine import path_of
from planner.model.scenario import (
    Cue,
    Demand,
    MustBeCutOff,
    MustFinish,
    MustGive,
    MustVisit,
    Ramp,
    Scenario,
)
from planner.model.units import Amount, seconds_text
from planner.rehearsal.conditions import Readings
from planner.rehearsal.lanes import LaneView, lane_view
from planner.rehearsal.machine import Machine
from planner.rehearsal.world import World


@dataclass(frozen=True, slots=True)
class Difference:
    """A demand of a scenario that the run did not meet, and what was seen instead.

    A requirement of the routine is demanded of every run.
    """

    demand: Demand | Requirement
    seen: str


@dataclass(frozen=True, slots=True)
class Played:
    """A scenario's run: all its events, and the demands that it did not meet."""

    scenario: Scenario
    events: tuple[Event, ...]
    differences: tuple[Difference, ...]
    seen: Mapping[int, Readings]
    """What the plan saw in each pass in which something happened, by its time."""

    @property
    def passed(self) -> bool:
        """Whether the run met every demand."""
        return not self.differences


def play(plan: Plan, scenario: Scenario) -> Played:
    """Runs the plan, free of errors, until it finishes or its limit cuts it off.

    A cue takes effect in the first pass at or past its moment.
    """
    lanes = lane_view(plan)
    machine, world = Machine(plan), World(plan.routine.robot, lanes)
    cues = _Cues(lanes, scenario, world)
    events: list[Event] = []
    seen: dict[int, Readings] = {}
    now_us = 0
    while not machine.finished and not machine.state.over:
        cues.apply(now_us)
        happened = machine.pass_(now_us, world.readings())
        if happened:
            seen[now_us] = world.all_shown()
        world.take(happened)
        cues.follow(happened, now_us)
        events.extend(happened)
        now_us += scenario.pass_us
    run = tuple(events)
    return Played(scenario, run, tuple(_differences(plan, scenario, run)), seen)


class _Cues:
    """The cues and ramps that are still to come, each with the time it counts from.

    They belong to the lane in which their step was entered; others to no lane.
    """

    def __init__(self, lanes: LaneView, scenario: Scenario, world: World) -> None:
        self._lanes = lanes
        self._world = world
        self._all: list[Cue | Ramp] = [*scenario.cues, *scenario.ramps]
        self._to_come = [("", 0, cue) for cue in self._all if not cue.step]
        self._around: dict[str, list[str]] = {}
        """By lane, the steps around the active one that do the tasks it stands in."""

    def follow(self, events: tuple[Event, ...], now_us: int) -> None:
        """A step that is entered brings its own cues, and those of the step it left are over."""
        for event in events:
            if not isinstance(event, Entered):
                continue
            lane = self._lanes.of(event.step)
            *around, step = path_of(event.step)
            stay = {"", *around} & {"", *self._around.get(lane, ())}
            new = {step, *around} - stay
            if lane:
                # What goes on around the block has brought its cues already.
                new -= {*self._around.get("", ())}
            else:
                for other in [name for name in self._around if name]:
                    del self._around[other]
            self._to_come = [
                (of, base, cue)
                for of, base, cue in self._to_come
                if cue.step in stay or (lane and of != lane)
            ]
            self._to_come += [(lane, now_us, cue) for cue in self._all if cue.step in new]
            self._around[lane] = around

    def apply(self, now_us: int) -> None:
        """Sets what is due by now, in the order of the moments."""
        left: list[tuple[str, int, Cue | Ramp]] = []
        for lane, base, part in sorted(self._to_come, key=lambda due: due[1] + _moment(due[2])):
            clock_us = now_us - base
            if _moment(part) > clock_us:
                left.append((lane, base, part))
            elif isinstance(part, Cue):
                self._world.set(part.reading, part.value, lane)
            else:
                self._world.set(part.reading, _on_the_way(part, clock_us), lane)
                if clock_us < part.end_us:
                    left.append((lane, base, part))
        self._to_come = left


def _moment(part: Cue | Ramp) -> int:
    return part.at_us if isinstance(part, Cue) else part.start_us


def _on_the_way(ramp: Ramp, clock_us: int) -> Amount:
    """The number a ramp has reached."""
    low, high = ramp.low.number, ramp.high.in_unit(ramp.low.unit)
    part = Fraction(min(clock_us, ramp.end_us) - ramp.start_us, ramp.end_us - ramp.start_us)
    return Amount(low + (high - low) * part, ramp.low.unit)


# What must be seen.


def _differences(plan: Plan, scenario: Scenario, events: tuple[Event, ...]) -> Iterator[Difference]:
    for demand in scenario.demands:
        seen = _missed(plan, demand, events)
        if seen:
            yield Difference(demand, seen)
    for broken in judged(plan, events):
        yield Difference(broken.requirement, broken.seen)


def _missed(plan: Plan, demand: Demand, events: tuple[Event, ...]) -> str:
    """What was seen instead of what was demanded; empty where the demand was met."""
    match demand:
        case MustVisit(steps):
            return _not_visited(plan, steps, events)
        case MustFinish(finish, by_us):
            return _not_finished(finish, by_us, events)
        case MustBeCutOff():
            cut_off = any(isinstance(event, LimitReached) and event.cut_off for event in events)
            return "" if cut_off else _end(events)
        case MustGive():
            return _given(demand, events)


def _not_visited(plan: Plan, steps: tuple[str, ...], events: tuple[Event, ...]) -> str:
    entered = [
        event.step
        for event in events
        if isinstance(event, Entered) and not plan.step(event.step).ends_lane
    ]
    rest = iter(_names_entered(plan, entered))
    missing = next((step for step in steps if step not in rest), None)
    if missing is None:
        return ""
    return f"`{missing}` was not entered in its turn; the way was {', '.join(entered)}"


def _names_entered(plan: Plan, steps: list[str]) -> Iterator[str]:
    """The steps entered; before the first step of a task, also the step that does the task."""
    before: dict[str, list[str]] = {}
    lanes = lane_view(plan)
    for step in steps:
        *around, own = path_of(step)
        lane = lanes.of(step)
        if not lane:
            before = {"": before.get("", [])}
        known = [*before.get("", ()), *before.get(lane, ())]
        yield from (name for name in around if name not in known)
        yield own
        before[lane] = around


def _not_finished(finish: str | None, by_us: int | None, events: tuple[Event, ...]) -> str:
    last = events[-1]
    if not isinstance(last, Finished) or finish not in (None, last.step):
        return _end(events)
    if by_us is not None and last.at_us > by_us:
        return f"it was reached only at {seconds_text(last.at_us)}"
    return ""


def _given(demand: MustGive, events: tuple[Event, ...]) -> str:
    told = (demand.mechanism, demand.command)
    sent = [
        event
        for event in events
        if isinstance(event, Commanded) and (event.mechanism, event.command) == told
    ]
    as_told = [event for event in sent if _fits(demand, event)]
    if demand.negated:
        return f"it was given at {seconds_text(as_told[0].at_us)}" if as_told else ""
    if as_told or not sent:
        return "" if as_told else "it was never given"
    numbers = dict.fromkeys(", ".join(map(str, event.arguments)) for event in sent)
    return f"it was given with {' and with '.join(numbers)}"


def _fits(demand: MustGive, event: Commanded) -> bool:
    """Whether a command was sent with the numbers demanded, exactly, in whatever unit."""
    if demand.arguments is None:
        return True
    return [one.base for one in demand.arguments] == [one.base for one in event.arguments]


def _end(events: tuple[Event, ...]) -> str:
    """How a run ended, in words."""
    last = next(event for event in reversed(events) if isinstance(event, Finished | LimitReached))
    at = seconds_text(last.at_us)
    if isinstance(last, Finished):
        return f"the run finished in `{last.step}` at {at}"
    return f"the run was cut off in `{last.step}` at {at}"
