"""Every Java name that a robot file gives rise to, chosen once for all files of an export.

They depend on the robot alone, so that the routines of a team share its mechanisms.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planner.java.naming import (
    OBJECT_METHODS,
    UNIT_WORDS,
    class_name,
    constant_name,
    distinct,
    member_name,
    names_in,
)
from planner.model.robot import (
    STATES,
    UNSURE,
    Command,
    Mechanism,
    Parameter,
    Reading,
    Robot,
    Sensor,
    SensorKind,
)
from planner.model.units import Unit

LOOSE = "loose sensors"
"""The key of the class that holds the sensors of no mechanism; no mechanism has this name."""

# Types that the generated files import or that Java always knows.
_TYPES = names_in(
    "AnalogInput AngleUnit ArrayList Autonomous CRServo Choices Colour ColourSorter Configuration "
    "DcMotor DcMotorSimple DigitalChannel DistanceSensor DistanceUnit Double HardwareMap IMU LED "
    "Latest List LogFile LynxModule Math NormalizedColorSensor NormalizedRGBA Object OpMode "
    "Override Percent Readings RevHubOrientationOnRobot RobotParts RunLog RuntimeException Safely "
    "SensorCheck Servo String SuppressWarnings System TeleOp Telemetry TryOut Wiring Words"
)
# Fields that the op modes have or inherit.
OP_MODE_FIELDS = names_in(
    "choices chosen failure gamepad1 gamepad2 hardwareMap hubs internalOpModeServices log looking "
    "plan ready telemetry time trouble troubles tryOut"
)
_MECHANISM_METHODS = OBJECT_METHODS | names_in("init isDone stop switchOff update")
_MECHANISM_FIELDS = frozenset({"hardwareMap", "latest"})


@dataclass(frozen=True, slots=True)
class MechanismNames:
    """The Java names of one mechanism."""

    type_name: str
    variable: str
    """What an op mode calls it."""
    fields: Mapping[str, str]
    """By device."""
    getters: Mapping[str, str]
    """Methods that give a sensor's number or answer, by sensor."""
    commands: Mapping[str, str]
    readings: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class CameraNames:
    """The Java names of a camera: what it can see, and what the team is to write."""

    sees: str
    camera: str
    values: Mapping[str, str]
    """The constants of `sees`, by the word of the plan."""


@dataclass(frozen=True, slots=True)
class RobotNames:
    """The Java names of a robot."""

    mechanisms: Mapping[str, MechanismNames]
    """By mechanism, in the order of the robot file; `LOOSE` last where there are such sensors."""
    cameras: Mapping[str, CameraNames]
    owners: Mapping[str, str]
    """The first mechanism that uses a sensor, by sensor."""


def with_loose(robot: Robot) -> dict[str, Mechanism]:
    """The mechanisms, and one more that holds the sensors of none if there are any."""
    mechanisms = dict(robot.mechanisms)
    loose = robot.loose_sensors()
    if loose:
        title = "the sensors that belong to no mechanism"
        mechanisms[LOOSE] = Mechanism(LOOSE, title, (), loose, {}, {}, robot.place)
    return mechanisms


def names_of(robot: Robot) -> RobotNames:
    """The Java names of a robot; the same robot always gets the same."""
    mechanisms = with_loose(robot)
    owners: dict[str, str] = {}
    for mechanism in mechanisms.values():
        for sensor in mechanism.sensors:
            owners.setdefault(sensor.name, mechanism.name)
    cameras = _camera_names(robot)
    wanted = {name: name.replace(" ", "_") for name in mechanisms}
    taken = _TYPES | {names.camera for names in cameras.values()}
    types = distinct(wanted, class_name, "Mechanism", taken)
    # A field must not go by the name of a parameter.
    parameters = {name for one in mechanisms.values() for name in _parameters(one)}
    variables = distinct(wanted, member_name, "mechanism", OP_MODE_FIELDS | parameters)
    named = {
        name: _mechanism_names(mechanism, types[name], variables[name])
        for name, mechanism in mechanisms.items()
    }
    return RobotNames(named, cameras, owners)


def _mechanism_names(mechanism: Mechanism, type_name: str, variable: str) -> MechanismNames:
    device_names = [o.name for o in mechanism.outputs] + [s.name for s in mechanism.sensors]
    devices = {name: name for name in device_names}
    asked = {("sensor", sensor.name): sensor_words(sensor) for sensor in mechanism.sensors}
    asked |= {("reading", reading.name): reading_words(reading) for reading in _readings(mechanism)}
    methods = distinct(asked, member_name, "reading", _MECHANISM_METHODS)
    # The parameterless stop is the method `stop` that every mechanism has.
    told = {name: name for name, c in mechanism.commands.items() if name != "stop" or c.parameters}
    commands = distinct(told, member_name, "command", {*_MECHANISM_METHODS, *methods.values()})
    return MechanismNames(
        type_name,
        variable,
        distinct(devices, member_name, "device", _MECHANISM_FIELDS | _parameters(mechanism)),
        {sensor.name: methods["sensor", sensor.name] for sensor in mechanism.sensors},
        {"stop": "stop"} | commands,
        {reading.name: methods["reading", reading.name] for reading in _readings(mechanism)},
    )


def _readings(mechanism: Mechanism) -> tuple[Reading, ...]:
    return tuple(mechanism.readings.values())


def _camera_names(robot: Robot) -> dict[str, CameraNames]:
    cameras = {s.name: s for s in robot.sensors.values() if s.kind is SensorKind.CAMERA}
    stems = distinct({name: name for name in cameras}, class_name, "Eye")
    named = {}
    for name, sensor in cameras.items():
        values = {value: value for value in (UNSURE, *sensor.values)}
        constants = distinct(values, constant_name, "VALUE")
        named[name] = CameraNames(f"{stems[name]}Sees", f"{stems[name]}Camera", constants)
    return named


def sensor_words(sensor: Sensor) -> str:
    """The words of a sensor's getter, joined by underscores."""
    if sensor.kind in STATES:
        low, _high = STATES[sensor.kind]
        return f"is_{sensor.name}_{low}"
    if sensor.unit is None:
        return f"{sensor.name}_sees"
    return f"{sensor.name}_{unit_words(sensor.unit)}"


def reading_words(reading: Reading) -> str:
    """The words of the getter that its mechanism has for a reading."""
    return f"{reading.name}_{unit_words(reading.unit)}"


def _parameters(mechanism: Mechanism) -> set[str]:
    """The names of the parameters of all its commands."""
    commands = mechanism.commands.values()
    return {name for one in commands for name in parameter_names(one.parameters).values()}


def parameter_names(parameters: tuple[Parameter, ...]) -> dict[str, str]:
    """Java names for a command's parameters, with their units in them."""
    words = {p.name: f"{p.name}_{unit_words(p.unit)}" for p in parameters}
    return distinct(words, member_name, "value")


def command_line(command: Command) -> str:
    """A command as the robot file has it: ``command turn(angle deg) runs, reports done``."""
    done = ", reports done" if command.reports_done else ""
    return f"command {spoken(command)} {'runs' if command.runs else 'holds'}{done}"


def spoken(command: Command) -> str:
    """A command's name with its parameters, as the robot file writes them."""
    parameters = ", ".join(f"{p.name} {p.unit.name}" for p in command.parameters)
    return f"{command.name}({parameters})" if parameters else command.name


def unit_words(unit: Unit) -> str:
    """A unit as words of a name."""
    return UNIT_WORDS[unit.name]
