"""The op modes, ready to be printed: the one that runs a plan, and the sensor check."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.java.mechanism_code import OUTPUT_TYPES, MechanismCode
from planner.java.naming import distinct, member_name
from planner.java.plan_names import plan_type, routine_type
from planner.java.plan_parts import Asked, Key, Told, sensor_key, source_key
from planner.java.printed_plan import PlanCode
from planner.java.robot_names import OP_MODE_FIELDS, RobotNames
from planner.java.sensor_code import HARDWARE
from planner.java.wording import comment, double, string
from planner.model.condition import Source
from planner.model.memory import WordMemory
from planner.model.robot import STATES, Output, OutputKind, Robot, Sensor
from planner.model.routine import Routine


@dataclass(frozen=True, slots=True)
class Part:
    """A mechanism as an op mode has it."""

    type_name: str
    variable: str
    moves: bool
    off_call: str
    """The call that switches all of it off where stopping may not; empty where it does."""
    off_name: str
    """The method that switches all of it off, as something that can be called later."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A line of the screen: the name of a reading, and the expression that puts it in words."""

    caption: str
    words: str


@dataclass(frozen=True, slots=True)
class Pick:
    """A choice as an op mode has it: a field that a gamepad changes until the start."""

    java_type: str
    made_type: str
    """The same where it is made, its argument left to the compiler."""
    variable: str
    arguments: str
    """What it is made with."""
    value: str
    """What the plan is made with."""


@dataclass(frozen=True, slots=True)
class AutoCode:
    """The op mode of a routine."""

    type_name: str
    plan_type: str
    routine: str
    """Its name in the plan, a literal."""
    title: str
    name: str
    group: str
    parts: tuple[Part, ...]
    imports: tuple[str, ...]
    """Types of the export's plans that it names."""
    asked: tuple[Asked, ...]
    told: tuple[Told, ...]
    shown: tuple[Shown, ...]
    picks: tuple[Pick, ...]
    looks: bool = False
    """Whether the plan looks at cameras while the robot waits for the start."""


@dataclass(frozen=True, slots=True)
class Tried:
    """A motor or lamp that the sensor check can switch on: what it is called and plugged into."""

    method: str
    name: str
    port: str
    type_name: str


@dataclass(frozen=True, slots=True)
class SensorCheckCode:
    """The op mode that shows every sensor and tries every motor."""

    group: str
    parts: tuple[Part, ...]
    imports: tuple[str, ...]
    """Types of the robot SDK that it names."""
    shown: tuple[Shown, ...]
    tried: tuple[Tried, ...]


def auto_code(
    routine: Routine, plan: PlanCode, names: RobotNames, mechanisms: dict[str, MechanismCode]
) -> AutoCode:
    """The op mode of a routine, for its plan."""
    parts = plan.parts
    sensors = _sensors_of(routine.robot)
    # The plan itself shows what it looks at before the start.
    shown = sensors.keys() - {sensor_key(sensor) for sensor in seen_before_start(routine)}
    values = {asked.value_type for asked in parts.asked.values()} - {"boolean", "double"}
    return AutoCode(
        auto_type(routine),
        plan_type(routine),
        string(routine.name),
        comment(routine.title or routine.name),
        string(routine.title or routine.name),
        _group(routine.robot),
        tuple(_part(names, mechanisms[name]) for name in parts.mechanisms),
        tuple(sorted(values)),
        tuple(parts.asked.values()),
        (*parts.told.values(), *parts.stops.values()),
        tuple(_shown(sensors[key], names, mechanisms) for key in parts.asked if key in shown),
        tuple(_picks(plan, names)),
        bool(plan.seen),
    )


def auto_type(routine: Routine) -> str:
    """The name of the class of a routine's op mode."""
    return f"{routine_type(routine)}Auto"


def seen_before_start(routine: Routine) -> Iterator[Sensor]:
    """The cameras and colour sensors whose answers are remembered until the start."""
    for memory in routine.memories.values():
        if isinstance(memory, WordMemory) and memory.seen_by:
            yield memory.seen_by


def _picks(plan: PlanCode, names: RobotNames) -> Iterator[Pick]:
    taken = {*OP_MODE_FIELDS, *(own.variable for own in names.mechanisms.values())}
    taken |= {
        name
        for told in plan.parts.told.values()
        for name in told.parameters.replace(",", "").split()
    }
    wanted = {choice.name: choice.name for choice in plan.choices}
    variables = distinct(wanted, member_name, "choice", taken)
    for choice in plan.choices:
        variable = variables[choice.name]
        if choice.values:
            words = f"{plan.type_name}.{choice.java_type}"
            made = f"{string(choice.name)}, {words}.values()"
            yield Pick(
                f"Choices.Word<{words}>", "Choices.Word<>", variable, made, f"{variable}.value()"
            )
            continue
        made = ", ".join([string(choice.name), choice.unit, *choice.numbers])
        value = f"{variable}.nanos({choice.nanos})" if choice.is_time else f"{variable}.value()"
        yield Pick("Choices.Range", "Choices.Range", variable, made, value)


def sensor_check_code(
    robot: Robot, names: RobotNames, mechanisms: dict[str, MechanismCode]
) -> SensorCheckCode:
    """The sensor check; it depends on the robot file alone."""
    sources = list(_sensors_of(robot).values())
    owners = {_owner(source, names) for source in sources}
    # What is tried has its direction from its mechanism.
    owners |= {mechanism.name for mechanism in robot.mechanisms.values() if mechanism.outputs}
    tried = tuple(_tried(output) for output in robot.outputs.values() if output.kind in _TRIED)
    return SensorCheckCode(
        _group(robot),
        tuple(_part(names, code) for name, code in mechanisms.items() if name in owners),
        tuple(sorted({HARDWARE + one.type_name for one in tried})),
        tuple(_shown(source, names, mechanisms) for source in sources),
        tried,
    )


# A servo is not tried: how far it may turn, only the team knows.
_TRIED = {
    OutputKind.MOTOR: "motor",
    OutputKind.CONTINUOUS_SERVO: "motor",
    OutputKind.LAMP: "lamp",
}


def _tried(output: Output) -> Tried:
    port = f"{output.plug.hub} {output.plug.port_kind} {output.plug.port}"
    return Tried(_TRIED[output.kind], string(output.name), string(port), OUTPUT_TYPES[output.kind])


def _group(robot: Robot) -> str:
    return string(robot.title or robot.name)


def _sensors_of(robot: Robot) -> dict[Key, Source]:
    """Every sensor, then every reading, in the order of the robot file."""
    sensors: dict[Key, Source] = {sensor_key(sensor): sensor for sensor in robot.sensors.values()}
    readings = (r for mechanism in robot.mechanisms.values() for r in mechanism.readings.values())
    return sensors | {source_key(reading): reading for reading in readings}


def _owner(source: Source, names: RobotNames) -> str:
    return names.owners[source.name] if isinstance(source, Sensor) else source.mechanism


def _part(names: RobotNames, code: MechanismCode) -> Part:
    own = names.mechanisms[code.key]
    off_call = "" if code.off_method == "stop" else f"{own.variable}.{code.off_method}();"
    off_name = f"{own.variable}::{code.off_method}"
    return Part(own.type_name, own.variable, code.moves, off_call, off_name)


def _shown(source: Source, names: RobotNames, mechanisms: dict[str, MechanismCode]) -> Shown:
    owner = _owner(source, names)
    own = names.mechanisms[owner]
    if not isinstance(source, Sensor):
        call = f"{own.variable}.{own.readings[source.name]}()"
        unwritten = source.name in mechanisms[owner].unwritten
        return Shown(string(source.spoken), _number_words(call, source, unwritten))
    call = f"{own.variable}.{own.getters[source.name]}()"
    if source.kind in STATES:
        low, high = STATES[source.kind]
        return Shown(string(source.name), f"Words.of({call}, {string(low)}, {string(high)})")
    words = f"Words.of({call})" if source.unit is None else _number_words(call, source)
    return Shown(string(source.name), words)


def _number_words(call: str, source: Source, unwritten: bool = False) -> str:
    assert source.unit is not None, "what answers in words is no number"
    # What counts from the start of a step has no range by itself.
    from_start = not isinstance(source, Sensor) and source.from_step_start
    arguments = [call, string(source.unit.name)]
    if source.bounds is not None and not from_start:
        arguments.append(double(source.bounds.low.in_unit(source.unit)))
        arguments.append(double(source.bounds.high.in_unit(source.unit)))
    method = "ofYours" if unwritten else "of"
    return f"Words.{method}({', '.join(arguments)})"
