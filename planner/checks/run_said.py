"""What the sensors say in a run, as a person would set them: in which step, and after how long."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from planner.graph import Plan
from planner.model.units import Amount, Unit
from planner.reach.picked import PickedPass
from planner.rehearsal import Machine, Number, World
from planner.rehearsal.lanes import lane_view
from planner.rehearsal.session import Touch, step_that_asks
from planner.rehearsal.world import Value


def said_in(plan: Plan, passes: Iterable[PickedPass]) -> Iterator[Touch]:
    """Wherever a reading gives another value than it would by itself, in the order of the run.

    The times are those of the passes that see it first.
    """
    lanes = lane_view(plan)
    machine, world = Machine(plan), World(plan.routine.robot, lanes)
    for one in passes:
        for reading, handed in one.said.items():
            # Before the first pass no step looks at anything.
            if handed == world.readings()[reading] or not machine.active():
                continue
            step = step_that_asks(plan, machine, reading)
            lane = lanes.of(step.step)
            seen = _value(world.seen_as(reading, handed, lane), world.unit(reading))
            world.set(reading, seen, lane)
            yield Touch(one.at_us, step.step, one.at_us - step.entered_us, reading, seen)
        world.take(machine.pass_(one.at_us, one.said))


def _value(seen: Number | str | bool | None, unit: Unit | None) -> Value:
    if seen is None or isinstance(seen, str | bool):
        return seen
    assert unit is not None, "what gives a number has a unit"
    return Amount(Fraction(seen), unit)
