"""What a robot file has plugged in, as the names that the hub's configuration must hold."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.java.mechanism_code import OUTPUT_TYPES
from planner.java.robot_names import RobotNames, with_loose
from planner.java.sensor_code import HARDWARE, encoder_motor, sensor_code
from planner.java.wording import name as java_name
from planner.java.wording import string
from planner.model.robot import Output, OutputKind, Plug, Robot, Sensor, SensorKind


@dataclass(frozen=True, slots=True)
class Expected:
    """A name that the hub's configuration must hold; all but the type are literals."""

    type_name: str
    kind: str
    name: str
    port: str


def expected_of(robot: Robot, names: RobotNames) -> tuple[Expected, ...]:
    """All of them in the order of the robot file, each once; a camera is on no hub."""
    found = {expected.name: expected for expected in _expected(robot, names)}
    return tuple(found.values())


def imports_of(expected: tuple[Expected, ...]) -> list[str]:
    """The types of the robot SDK that they name."""
    return sorted({HARDWARE + "HardwareMap", *(HARDWARE + one.type_name for one in expected)})


def _expected(robot: Robot, names: RobotNames) -> Iterator[Expected]:
    for output in robot.outputs.values():
        yield _output(output, output.plug)
    owners = {
        sensor.name: names.mechanisms[mechanism.name]
        for mechanism in with_loose(robot).values()
        for sensor in mechanism.sensors
    }
    for sensor in robot.sensors.values():
        if sensor.kind is SensorKind.CAMERA:
            continue
        motor = encoder_motor(robot, sensor) if sensor.kind is SensorKind.ENCODER else None
        if motor is None:
            type_name = sensor_code(robot, names, owners[sensor.name], sensor).field_type
            yield Expected(type_name, _kind(sensor), java_name(sensor.name), _port(sensor.plug))


def _output(output: Output, plug: Plug) -> Expected:
    kind = f"a {_OUTPUTS[output.kind]}"
    return Expected(OUTPUT_TYPES[output.kind], string(kind), java_name(output.name), _port(plug))


_OUTPUTS = {
    OutputKind.MOTOR: "motor",
    OutputKind.SERVO: "servo",
    OutputKind.CONTINUOUS_SERVO: "continuous servo",
    OutputKind.LAMP: "lamp",
}
_SENSORS = {
    SensorKind.TOUCH: "a digital device",
    SensorKind.SWITCH: "a digital device",
    SensorKind.BEAM: "a digital device",
    SensorKind.DISTANCE: "a distance sensor",
    SensorKind.COLOUR: "a colour sensor",
    SensorKind.ANALOG: "an analog input",
    SensorKind.HEADING: "an inertial sensor",
    SensorKind.ENCODER: "a motor",
}


def _kind(sensor: Sensor) -> str:
    if sensor.kind is SensorKind.LIGHT:
        return string("an analog input" if sensor.plug.port_kind == "analog" else "a colour sensor")
    return string(_SENSORS[sensor.kind])


def _port(plug: Plug) -> str:
    return string(f"{plug.port_kind} {plug.port} of hub {plug.hub}")
