"""What a move tells the mechanisms (M7, M10, M11), as the events of the pass that it ends with.

A move does not know its time, so the events stand at 0. Commands of side rules come in passes of
their own and are not among them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from planner.graph import Plan
from planner.graph.owners import groups_left
from planner.graph.run import Commanded, Entered, Event, Finished, Left, LimitReached, SwitchedOff
from planner.graph.unfold import Exit
from planner.model.routine import Given
from planner.model.units import Amount
from planner.reach.position import Leaving


@dataclass(slots=True)
class Sending:
    """One pass on its way."""

    plan: Plan
    running: dict[str, str]
    """The mechanisms whose latest command is one that runs, with the step whose end switches it
    off; with no name if it was given with `keep`."""
    moves: list[Event] = field(default_factory=list)
    orders: dict[str, Event] = field(default_factory=dict)
    """By mechanism, the last thing told to it."""

    def begin(self, steps: Iterable[str]) -> tuple[Event, ...]:
        """The first pass, which enters these steps."""
        self._enter(steps)
        return self._events(tuple(steps))

    def move(self, active: tuple[str, ...], leaving: Leaving) -> tuple[Event, ...]:
        """The pass that ends a move out of the active steps."""
        entered = iter(leaving.entered)
        for taken in leaving.taken:
            if taken.exit is None:
                return self._cut_off(active)
            self.moves.append(Left(0, taken.step, taken.exit))
            in_lane = self._stays_in_lane(taken.exit)
            self._leave([taken.step] if in_lane else active, taken.exit)
            if in_lane:
                active = tuple(taken.exit.target if s == taken.step else s for s in active)
            self._enter([next(entered)] if in_lane else list(entered))
        return self._events(leaving.entered)

    def _stays_in_lane(self, exit_: Exit) -> bool:
        return exit_.source in self.plan.outer and not self.plan.leaves_lane(exit_)

    def _leave(self, steps: Iterable[str], exit_: Exit) -> None:
        left = {*steps, *groups_left(self.plan, exit_)}
        for mechanism in [name for name, owner in self.running.items() if owner in left]:
            self._switch_off(mechanism)

    def _enter(self, steps: Iterable[str]) -> None:
        for name in steps:
            step = self.plan.step(name)
            self.moves.append(Entered(0, name))
            for given in step.commands:
                self._give(given, "" if given.keep or step.is_finish else name)
            if step.is_finish:
                for mechanism in sorted(self.running):
                    self._switch_off(mechanism)

    def _give(self, given: Given, owner: str) -> None:
        name = given.mechanism.name
        self.running.pop(name, None)
        if given.command.runs:
            self.running[name] = owner
        # Of a number that is worked out on the way nothing is known; then nobody asks for it.
        numbers = tuple(number for number in given.arguments if isinstance(number, Amount))
        self._tell(name, Commanded(0, name, given.command.name, numbers))

    def _switch_off(self, mechanism: str) -> None:
        del self.running[mechanism]
        self._tell(mechanism, SwitchedOff(0, mechanism))

    def _tell(self, mechanism: str, order: Event) -> None:
        self.orders.pop(mechanism, None)
        self.orders[mechanism] = order

    def _cut_off(self, active: tuple[str, ...]) -> tuple[Event, ...]:
        self.running.clear()
        mechanisms = self.plan.routine.robot.mechanisms
        return (LimitReached(0, active[0], True), *(SwitchedOff(0, name) for name in mechanisms))

    def _events(self, entered: tuple[str, ...]) -> tuple[Event, ...]:
        return (*self.moves, *self.orders.values(), *self._finished(entered))

    def _finished(self, entered: tuple[str, ...]) -> Iterator[Event]:
        return (Finished(0, name) for name in entered if self.plan.step(name).is_finish)
