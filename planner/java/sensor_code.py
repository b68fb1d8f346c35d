"""How a sensor is made ready and read, as Java lines."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from planner.java.errors import CannotExport
from planner.java.robot_names import MechanismNames, RobotNames
from planner.java.wording import comment, string
from planner.model.robot import COLOURS, STATES, Output, OutputKind, Robot, Sensor, SensorKind
from planner.model.units import Unit

HARDWARE = "com.qualcomm.robotcore.hardware."
NAVIGATION = "org.firstinspires.ftc.robotcore.external.navigation."


@dataclass(frozen=True, slots=True)
class SensorCode:
    """A sensor in a mechanism's class: its field, how it is found, and how it is read."""

    imports: tuple[str, ...]
    """Full names; a name that starts with a dot belongs to the export's own package."""
    field_type: str
    field_value: str
    """What the field starts as; empty where `init` finds it."""
    field_note: str
    init: tuple[str, ...]
    doc: str
    value_type: str
    body: tuple[str, ...]


_Writer: TypeAlias = Callable[["_Case"], SensorCode]


@dataclass(frozen=True, slots=True)
class _Case:
    robot: Robot
    names: RobotNames
    sensor: Sensor
    field: str

    @property
    def unit(self) -> Unit:
        assert self.sensor.unit is not None, "only sensors that give numbers are asked"
        return self.sensor.unit

    def found(self, type_name: str, configured: str = "") -> str:
        """The line that looks the device up under its name in the hub's configuration."""
        name = string(configured or self.sensor.name)
        return f"{self.field} = hardwareMap.get({type_name}.class, {name});"


def sensor_code(robot: Robot, names: RobotNames, own: MechanismNames, sensor: Sensor) -> SensorCode:
    """The Java of a sensor; raises `CannotExport` for a kind that Java cannot do yet."""
    case = _Case(robot, names, sensor, own.fields[sensor.name])
    match sensor.kind:
        case SensorKind.TOUCH | SensorKind.SWITCH | SensorKind.BEAM:
            return _digital(case)
        case SensorKind.DISTANCE:
            return _distance(case)
        case SensorKind.COLOUR:
            return _colour(case)
        case SensorKind.LIGHT:
            return _light(case)
        case SensorKind.ANALOG:
            return _analog(case)
        case SensorKind.HEADING:
            return _heading(case)
        case SensorKind.ENCODER:
            return _encoder(case)
        case SensorKind.CAMERA:
            return _camera(case)
        case _:
            raise CannotExport(f"Java cannot read a {sensor.kind.value} sensor yet: {sensor.name}")


def encoder_motor(robot: Robot, sensor: Sensor) -> Output | None:
    """The motor on an encoder's port, whose name the hub's configuration then has."""
    for output in robot.outputs.values():
        same = (output.plug.hub, output.plug.port) == (sensor.plug.hub, sensor.plug.port)
        if output.kind is OutputKind.MOTOR and same:
            return output
    return None


def _digital(case: _Case) -> SensorCode:
    low, high = STATES[case.sensor.kind]
    sign = "" if case.sensor.active_high else "!"
    wire = "high" if case.sensor.active_high else "low"
    return SensorCode(
        (HARDWARE + "DigitalChannel",),
        "DigitalChannel",
        "",
        "",
        (
            case.found("DigitalChannel"),
            f"{case.field}.setMode(DigitalChannel.Mode.INPUT);",
        ),
        f"True while it is {low}, false while it is {high}: {low} makes the wire {wire}.",
        "boolean",
        (f"return {sign}{case.field}.getState();",),
    )


# A factor for units that the distance sensor does not give by itself.
_DISTANCE_UNITS = {"mm": "MM", "cm": "CM", "m": "METER", "in": "INCH", "ft": "INCH"}


def _distance(case: _Case) -> SensorCode:
    unit = case.unit.name
    share = " / 12.0" if unit == "ft" else ""
    return SensorCode(
        (HARDWARE + "DistanceSensor", NAVIGATION + "DistanceUnit"),
        "DistanceSensor",
        "",
        "",
        (case.found("DistanceSensor"),),
        f"Distance in {unit}; not a number where the sensor sees nothing.",
        "double",
        (
            f"double distance = {case.field}.getDistance(DistanceUnit.{_DISTANCE_UNITS[unit]});",
            f"return distance >= DistanceSensor.distanceOutOfRange ? Double.NaN : distance{share};",
        ),
    )


def _colour(case: _Case) -> SensorCode:
    known = [value for value in case.sensor.values if value in COLOURS]
    test = " || ".join(f"seen == Colour.{value.upper()}" for value in known) or "false"
    return SensorCode(
        (
            HARDWARE + "NormalizedColorSensor",
            HARDWARE + "NormalizedRGBA",
            ".plans.Colour",
        ),
        "NormalizedColorSensor",
        "",
        "",
        (case.found("NormalizedColorSensor"),),
        f"The colour it sees, out of {', '.join(known)}; anything else is unsure.",
        "Colour",
        (
            f"NormalizedRGBA shares = {case.field}.getNormalizedColors();",
            "Colour seen = ColourSorter.sort(shares.red, shares.green, shares.blue);",
            f"boolean expected = {test};",
            "return expected ? seen : Colour.UNSURE;",
        ),
    )


def _light(case: _Case) -> SensorCode:
    if case.sensor.plug.port_kind == "analog":
        return SensorCode(
            (HARDWARE + "AnalogInput",),
            "AnalogInput",
            "",
            "",
            (case.found("AnalogInput"),),
            "Brightness in percent of the most that the input can tell.",
            "double",
            (f"return 100.0 * {case.field}.getVoltage() / {case.field}.getMaxVoltage();",),
        )
    return SensorCode(
        (HARDWARE + "NormalizedColorSensor",),
        "NormalizedColorSensor",
        "",
        "",
        (case.found("NormalizedColorSensor"),),
        "Brightness in percent of the most that the sensor can tell.",
        "double",
        (f"return 100.0 * {case.field}.getNormalizedColors().alpha;",),
    )


def _analog(case: _Case) -> SensorCode:
    factor = "1000.0 * " if case.unit.name == "mV" else ""
    return SensorCode(
        (HARDWARE + "AnalogInput",),
        "AnalogInput",
        "",
        "",
        (case.found("AnalogInput"),),
        f"Voltage in {case.unit.name}.",
        "double",
        (f"return {factor}{case.field}.getVoltage();",),
    )


def _heading(case: _Case) -> SensorCode:
    return SensorCode(
        (
            "com.qualcomm.hardware.rev.RevHubOrientationOnRobot",
            HARDWARE + "IMU",
            NAVIGATION + "AngleUnit",
        ),
        "IMU",
        "",
        "",
        (
            case.found("IMU"),
            "// TODO: say how your hub sits on the robot: where its logo and its USB ports point.",
            f"{case.field}.initialize(new IMU.Parameters(new RevHubOrientationOnRobot(",
            "        RevHubOrientationOnRobot.LogoFacingDirection.UP,",
            "        RevHubOrientationOnRobot.UsbFacingDirection.FORWARD)));",
            "// The robot faces 0 degrees as it stands now.",
            f"{case.field}.resetYaw();",
        ),
        "Heading in degrees from -180 to 180; turning left counts up.",
        "double",
        (f"return {case.field}.getRobotYawPitchRollAngles().getYaw(AngleUnit.DEGREES);",),
    )


def _encoder(case: _Case) -> SensorCode:
    motor = encoder_motor(case.robot, case.sensor)
    sign = "-" if case.sensor.reversed else ""
    shared = ""
    if motor is not None:
        shared = f" It sits on the port of {motor.name} and counts the way that motor does."
    return SensorCode(
        (HARDWARE + "DcMotor",),
        "DcMotor",
        "",
        "",
        (case.found("DcMotor", motor.name if motor else ""),),
        f"Position in ticks.{comment(shared)}",
        "double",
        (f"return {sign}{case.field}.getCurrentPosition();",),
    )


def _camera(case: _Case) -> SensorCode:
    own = case.names.cameras[case.sensor.name]
    return SensorCode(
        (f".plans.{own.sees}",),
        own.camera,
        f"new {own.camera}.Unsure()",
        f"TODO: put your own class here, one that implements {own.camera}.",
        (f"{case.field}.init(hardwareMap);",),
        "What the camera sees.",
        own.sees,
        (f"return {case.field}.sees();",),
    )
