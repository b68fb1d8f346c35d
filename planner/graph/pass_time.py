"""How long a pass may take, estimated from the robot file and the plan.

A call to a hub takes about 3 ms, and reading a device on its I2C bus up to 7 ms. With bulk reading
one call fetches all motors, encoders, switches and voltages of a hub at once. All of that is common
practice, no source; who has measured it writes a `pass` line in the robot file, and that counts.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.graph.doing import Doings, Stance, doings
from planner.graph.owners import owners_around, rules_around
from planner.graph.unfold import Plan
from planner.model.condition import (
    Answers,
    Compare,
    Condition,
    Done,
    Steady,
    Unreadable,
    Within,
    leaves,
)
from planner.model.mechanisms import STOP
from planner.model.robot import Mechanism, Plug, Reading, Sensor, SensorKind
from planner.model.routine import Given

CALL_US = 3_000
I2C_READ_US = 7_000
USUAL_PASS_US = 40_000
"""The longest pass assumed where the robot file says none, if no step is estimated to take longer:
a garbage collection now and then is part of what a pass can take (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class PassTime:
    """What a pass asks of the hubs."""

    calls: int
    i2c_reads: int

    @property
    def us(self) -> int:
        """How long that takes at most, in microseconds."""
        return self.calls * CALL_US + self.i2c_reads * I2C_READ_US


def longest_pass_us(plan: Plan) -> int:
    """The longest time between two passes: as the robot file states it, else what is assumed or the
    longest estimate, whichever is longer, since what is proved for it has to hold on the robot."""
    stated = plan.routine.robot.pass_us
    if stated:
        return stated[1]
    estimates = [time.us for time in pass_times(plan).values()]
    return max([USUAL_PASS_US, *estimates])


def longest_passes_us(plan: Plan) -> dict[str, int]:
    """For each step by itself what is stated or estimated; what is assumed if that is nothing."""
    stated = plan.routine.robot.pass_us
    if stated:
        return dict.fromkeys(plan.routine.steps, stated[1])
    return {step: time.us or USUAL_PASS_US for step, time in pass_times(plan).items()}


def pass_times(plan: Plan) -> dict[str, PassTime]:
    """By step, what the longest pass in it asks of the hubs, the one that enters it included.

    While lanes run, a pass reads for all of them, and each may give its commands (M8).
    """
    flows = {name: doings(plan, name) for name in plan.routine.robot.mechanisms}
    works = {step: _work(plan, step, flows) for step in plan.routine.steps}
    found = {step: _time(work.read, work.writes) for step, work in works.items()}
    for block in plan.begins:
        inside = [name for name in plan.outer if plan.block_of(name) == block]
        read = frozenset().union(*(works[name].read for name in (block, *inside)))
        most: dict[str, int] = {}
        for name in inside:
            lane = plan.routine.lane_around(name)
            key = lane.name if lane else ""
            most[key] = max(most.get(key, 0), works[name].writes)
        time = _time(read, works[block].writes + sum(most.values()))
        found.update(dict.fromkeys((block, *inside), time))
    return found


@dataclass(frozen=True, slots=True)
class _Work:
    read: frozenset[Plug]
    writes: int


def _time(read: frozenset[Plug], writes: int) -> PassTime:
    on_i2c = [plug for plug in read if plug.port_kind == "i2c"]
    bulk = {plug.hub for plug in read if plug.hub and plug.port_kind != "i2c"}
    return PassTime(len(bulk) + writes, len(on_i2c))


def _work(plan: Plan, step: str, flows: Mapping[str, Doings | None]) -> _Work:
    """What is read and written for a step by itself."""
    robot = plan.routine.robot
    read: list[Plug] = []
    for condition in _conditions(plan, step):
        read += _plugs(robot.mechanisms, condition)
    writes = sum(_written(given) for given in _given(plan, step))
    for name, flow in flows.items():
        if _steered(flow, step):
            mechanism = robot.mechanisms[name]
            read += _plugs_of(mechanism)
            writes += len(mechanism.outputs)
    return _Work(frozenset(read), writes)


def _conditions(plan: Plan, step: str) -> Iterator[Condition]:
    """All that is asked in a pass of a step."""
    for rule in rules_around(plan.routine, step):
        yield rule.condition
    for owner in owners_around(plan.routine, step):
        yield from (when.condition for when in owner.whens)


def _given(plan: Plan, step: str) -> Iterator[Given]:
    """The commands that one pass may give: those of the step, and of the rules in it."""
    last = {given.mechanism.name: given for given in plan.step(step).commands}
    yield from last.values()
    yield from (
        rule.given
        for rule in rules_around(plan.routine, step)
        if rule.given.mechanism.name not in last
    )


def _written(given: Given) -> int:
    """How many outputs a command sets when it is given."""
    if _is_steered(given):
        return 0
    if given.command.name == STOP.name or not given.command.actions:
        return len(given.mechanism.outputs)
    return len(given.command.actions)


def _is_steered(given: Given) -> bool:
    """Whether the team's Java may set its outputs in every pass: no line under the command says
    what it sets, and it goes on until it is done or its step is left."""
    goes_on = given.command.runs or given.command.reports_done
    return goes_on and not given.command.actions and given.command.name != STOP.name


def _steered(flow: Doings | None, step: str) -> bool:
    """Whether a mechanism may be steered in every pass of a step."""
    return flow is not None and any(
        doing.stance is Stance.TOLD and doing.given is not None and _is_steered(doing.given)
        for doing in flow.during.get(step, ())
    )


def _plugs(mechanisms: Mapping[str, Mechanism], condition: Condition) -> Iterator[Plug]:
    """Where the devices are plugged in that a condition is answered from."""
    for leaf in leaves(condition):
        match leaf:
            case Answers(sensor):
                yield sensor.plug
            case Done(mechanism):
                yield from _plugs_of(mechanism)
            case Compare(source) | Within(source) | Steady(source) | Unreadable(source):
                if isinstance(source, Reading):
                    yield from _plugs_of(mechanisms[source.mechanism])
                else:
                    yield source.plug
            case _:
                pass


def _plugs_of(mechanism: Mechanism) -> Iterator[Plug]:
    """What a mechanism's own readings may be taken from: its outputs and its sensors."""
    yield from (output.plug for output in mechanism.outputs)
    yield from (sensor.plug for sensor in mechanism.sensors if _tells_a_number(sensor))


def _tells_a_number(sensor: Sensor) -> bool:
    """Whether it helps to say how far something has moved; words and cameras do not."""
    return not sensor.values and sensor.kind is not SensorKind.CAMERA
