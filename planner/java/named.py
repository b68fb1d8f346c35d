"""What a plan and its robot file name, and what it is like: by that a new name is told from a new
thing when the plan is exported again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.graph import Plan
from planner.java.plan_code import step_constants
from planner.java.robot_names import RobotNames, names_of
from planner.model.robot import (
    STATES,
    Command,
    Mechanism,
    Output,
    Reading,
    Robot,
    Sensor,
    SensorKind,
)
from planner.model.routine import Group, Routine, Step, StepExit

STEP = "step"
FINISH = "finish"
LANE = "lane"
MECHANISM = "mechanism"
COMMAND = "command"
READING = "reading"
_CAMERA = SensorKind.CAMERA.value


@dataclass(frozen=True, slots=True)
class Named:
    """Something that a name stands for."""

    what: str
    """The word of the language for it: ``step``, ``command``, ``touch``, ``motor``."""
    owner: str
    """The mechanism that it belongs to; empty for what belongs to none."""
    name: str
    java: tuple[str, ...]
    """Its names in the Java, by which other code speaks of it."""
    like: tuple[str, ...]
    """What the text says of it, in the words of the language."""

    @property
    def is_device(self) -> bool:
        """Whether it has its name in the configuration on the robot's controller."""
        return self.what not in (STEP, FINISH, LANE, MECHANISM, COMMAND, READING, _CAMERA)

    @property
    def spoken(self) -> str:
        """How a plan names it."""
        return f"{self.owner} {self.name}" if self.owner else self.name


def names_in_routine(plan: Plan) -> tuple[Named, ...]:
    """The steps and lanes of a routine, as written."""
    return tuple(_steps(plan.routine))


def names_in_robot(robot: Robot) -> tuple[Named, ...]:
    """The devices of a robot, its mechanisms, and their commands and readings, as written."""
    names = names_of(robot)
    return (*_devices(robot, names), *_mechanisms(robot, names))


def _steps(routine: Routine) -> Iterator[Named]:
    constants = step_constants(routine)
    inside: dict[str, list[str]] = {}
    for step in routine.steps.values():
        java = (constants[step.name],)
        lane = routine.lane_around(step.name)
        if step.ends_lane and lane:
            # Of a lane there is nothing else to say than what stands in it, above its end.
            yield Named(LANE, "", lane.name, java, tuple(inside.get(lane.name, ())))
            continue
        if lane:
            inside.setdefault(lane.name, []).append(f"step {step.name}")
        what = FINISH if step.is_finish else STEP
        lines = [*_lines(step)]
        if step.is_block:
            lines += _lines_of_block(routine.groups[step.name])
        yield Named(what, "", step.name, java, tuple(lines))


def _lines_of_block(block: Group) -> Iterator[str]:
    exits: tuple[StepExit, ...] = (*block.whens, *block.afters)
    yield from (exit_.place.words for exit_ in exits)
    yield from (rule.place.words for rule in block.rules)
    yield from (f"lane {lane.removeprefix(block.name).strip()}" for lane in block.lanes)


def _lines(step: Step) -> Iterator[str]:
    if step.is_finish:
        # Often there is nothing else to say of one.
        yield FINISH
    if step.title:
        yield step.title
    yield from (given.place.words for given in step.commands)
    yield from (exit_.place.words for exit_ in step.exits)
    yield from (rule.place.words for rule in step.rules)


def _devices(robot: Robot, names: RobotNames) -> Iterator[Named]:
    devices: list[Output | Sensor] = [*robot.outputs.values(), *robot.sensors.values()]
    for device in devices:
        java = _java_of_device(device, names)
        yield Named(device.kind.value, "", device.name, java, tuple(_like_device(device)))


def _java_of_device(device: Output | Sensor, names: RobotNames) -> tuple[str, ...]:
    """Its fields and getters, each name once."""
    found = []
    for own in names.mechanisms.values():
        found += [given[device.name] for given in (own.fields, own.getters) if device.name in given]
    if device.name in names.cameras:
        found += [names.cameras[device.name].sees, names.cameras[device.name].camera]
    return tuple(dict.fromkeys(found))


def _like_device(device: Output | Sensor) -> Iterator[str]:
    plug = device.plug
    yield device.kind.value
    if plug.hub:
        address = f" {plug.address:#x}" if plug.address is not None else ""
        yield f"{plug.hub} {plug.port_kind} {plug.port}{address}"
    if isinstance(device, Sensor) and device.kind not in STATES:
        yield from device.values


def _mechanisms(robot: Robot, names: RobotNames) -> Iterator[Named]:
    for mechanism in robot.mechanisms.values():
        own = names.mechanisms[mechanism.name]
        java = (own.type_name, own.variable)
        yield Named(MECHANISM, "", mechanism.name, java, tuple(_like_mechanism(mechanism)))
        for command in mechanism.commands.values():
            if command.place is not None:
                yield _command(mechanism, command, own.commands[command.name])
        for reading in mechanism.readings.values():
            yield _reading(reading, own.readings[reading.name])


def _like_mechanism(mechanism: Mechanism) -> Iterator[str]:
    yield from (output.name for output in mechanism.outputs)
    yield from (sensor.name for sensor in mechanism.sensors)
    yield from (f"command {name}" for name, one in mechanism.commands.items() if one.place)
    yield from (f"reading {name}" for name in mechanism.readings)


def _command(mechanism: Mechanism, command: Command, java: str) -> Named:
    like = ["runs" if command.runs else "holds"]
    like += ["reports done"] if command.reports_done else []
    like += [f"{p.name} {p.unit.name}" for p in command.parameters]
    like += [action.place.words for action in command.actions]
    return Named(COMMAND, mechanism.name, command.name, (java,), tuple(like))


def _reading(reading: Reading, java: str) -> Named:
    like = [reading.unit.name]
    like += ["wraps"] if reading.wraps else []
    like += ["from step start"] if reading.from_step_start else []
    like += ["mirrors"] if reading.mirrors else []
    return Named(READING, reading.mechanism, reading.name, (java,), tuple(like))
