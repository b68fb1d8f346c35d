"""A run by hand: a student is the sensors, and time passes when they let it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.graph import Plan
from planner.graph.monitor import Broken, judged
from planner.graph.run import Commanded, Entered, Event, Finished, LimitReached, SwitchedOff
from planner.model.choices import Variant
from planner.model.memory import WordMemory
from planner.model.routine import Group
from planner.model.scenario import DEFAULT_PASS_US
from planner.rehearsal.facts import readings_of_exit
from planner.rehearsal.lanes import lane_view
from planner.rehearsal.machine import Machine
from planner.rehearsal.state import Active, Asked, State
from planner.rehearsal.world import Value, World

PASS_US = DEFAULT_PASS_US
"""How long a pass of a run by hand lasts, so that it can be kept as a scenario."""


@dataclass(frozen=True, slots=True)
class Touch:
    """A reading was set by hand, `in_step_us` after `step` was entered."""

    match_us: int
    step: str
    in_step_us: int
    reading: str
    value: Value
    before_start: bool = False
    """Whether it was a camera that the plan looks at before the start (M13), set in time."""


@dataclass(slots=True)
class _Moment:
    """All there is to go back to."""

    state: State
    world: World
    now_us: int
    events: tuple[Event, ...]
    touches: int
    begin: int


class Session:
    """A plan, free of errors, that is run by hand; the first pass is made at once.

    `events` are all that happened and `touches` all that was set, in order.
    """

    def __init__(self, plan: Plan, choices: Variant | None = None) -> None:
        self.plan = plan
        self.choices: Variant = choices or {}
        """What was chosen before the start; the plan is the one for that."""
        self.machine = Machine(plan)
        self._lanes = lane_view(plan)
        self.world = World(plan.routine.robot, self._lanes)
        self.now_us = 0
        """The match clock: the time of the latest pass."""
        self.events: list[Event] = []
        self.touches: list[Touch] = []
        self._begin = 0
        self._past: list[_Moment] = []
        memories = plan.routine.memories.values()
        cameras = (one.seen_by for one in memories if isinstance(one, WordMemory))
        self._seen_before_start = {camera.name for camera in cameras if camera}
        self._pass()

    @property
    def over(self) -> bool:
        """Whether the run has finished or was cut off."""
        return self.machine.finished or self.machine.state.over

    @property
    def end(self) -> Finished | LimitReached | None:
        """How the run ended; None as long as it goes on."""
        ends = (e for e in reversed(self.events) if isinstance(e, Finished | LimitReached))
        return next(ends, None)

    @property
    def latest(self) -> tuple[Event, ...]:
        """What happened in the latest move."""
        return tuple(self.events[self._begin :])

    def asked(self) -> tuple[Asked, ...]:
        """What the machine waits for, as the readings are now."""
        return () if self.over else self.machine.asked(self.now_us, self.world.readings())

    def around(self, step: str) -> tuple[tuple[Group, int], ...]:
        """The groups around an active step, outermost first, and for how long they have been."""
        visits = self.machine.state.visits
        groups = self.plan.routine.groups_around(step)
        return tuple((group, self.now_us - visits[group.name].entered_us) for group in groups)

    def broken(self) -> tuple[Broken, ...]:
        """The requirements that the run has broken so far (M15)."""
        return judged(self.plan, self.events, self.now_us)

    def told(self) -> dict[str, Commanded]:
        """By mechanism, the command that it follows now."""
        told: dict[str, Commanded] = {}
        for event in self.events:
            if isinstance(event, Commanded):
                told[event.mechanism] = event
            elif isinstance(event, SwitchedOff):
                told.pop(event.mechanism, None)
        return told

    def set(self, reading: str, value: Value) -> None:
        """A move: a reading gives a value from the next pass on.

        What a camera sees is there from the start, where the plan remembers what it saw before the
        start (M13) and no time has passed.
        """
        self._keep()
        lane = self._lanes.of(step_that_asks(self.plan, self.machine, reading).step)
        self.world.set(reading, value, lane)
        before_start = self.now_us == 0 and reading in self._seen_before_start
        if before_start:
            self._start_again()
        step = step_that_asks(self.plan, self.machine, reading)
        in_step_us = self.now_us - step.entered_us
        self.touches.append(Touch(self.now_us, step.step, in_step_us, reading, value, before_start))

    def wait(self, duration_us: int) -> None:
        """A move: lets as many passes go by as the time takes, or until the run is over."""
        self._keep()
        until_us = self.now_us + duration_us
        while self.now_us < until_us and not self.over:
            self._pass(PASS_US)

    def go_on(self) -> None:
        """A move: lets time pass until something happens."""
        self._keep()
        while not self.over and not self._pass(PASS_US):
            pass

    def back(self) -> bool:
        """Goes back to before the latest move; False where there is none."""
        if not self._past:
            return False
        moment = self._past.pop()
        self.machine.state, self.world = moment.state, moment.world
        self.now_us, self._begin = moment.now_us, moment.begin
        self.events[:] = moment.events
        del self.touches[moment.touches :]
        return True

    def visits(self) -> Iterator[str]:
        """The steps that were entered, in order."""
        return (
            event.step
            for event in self.events
            if isinstance(event, Entered) and not self.plan.step(event.step).ends_lane
        )

    def _keep(self) -> None:
        state, world = self.machine.state.copy(), self.world.copy()
        events, touches = tuple(self.events), len(self.touches)
        self._past.append(_Moment(state, world, self.now_us, events, touches, self._begin))
        self._begin = len(self.events)

    def _start_again(self) -> None:
        """Makes the first pass anew, with what the cameras see now."""
        self.machine = Machine(self.plan)
        self.events.clear()
        self._begin = 0
        self._pass()

    def _pass(self, later_us: int = 0) -> bool:
        """One pass; whether anything happened in it."""
        self.now_us += later_us
        happened = self.machine.pass_(self.now_us, self.world.readings())
        self.world.take(happened)
        self.events.extend(happened)
        return bool(happened)


def step_that_asks(plan: Plan, machine: Machine, reading: str) -> Active:
    """The active step that a reading is set for: of those that look at it the youngest."""
    active = [one for one in machine.active() if not plan.step(one.step).ends_lane]
    asking = [
        step
        for step in active
        for exit_ in plan.asked_of(step.step)
        if reading in readings_of_exit(exit_)
    ]
    return max(asking or active, key=lambda step: step.entered_us)
