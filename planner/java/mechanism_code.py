"""A mechanism of the robot file as a Java class, ready to be printed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.java.errors import CannotExport
from planner.java.naming import constant_name, distinct
from planner.java.robot_names import (
    LOOSE,
    MechanismNames,
    RobotNames,
    command_line,
    parameter_names,
    spoken,
)
from planner.java.sensor_code import HARDWARE, sensor_code
from planner.java.wording import comment, double, string
from planner.model.robot import (
    Action,
    Command,
    Mechanism,
    Output,
    OutputKind,
    ParameterUse,
    Reading,
    Robot,
    SensorKind,
    SetLamp,
    Setpoint,
    SetPosition,
    SetPower,
)


@dataclass(frozen=True, slots=True)
class Field:
    """A private hardware member."""

    type_name: str
    name: str
    value: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Method:
    """A public method: comment lines, return type, name, parameters and body."""

    doc: tuple[str, ...]
    returns: str
    name: str
    parameters: str
    body: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MechanismCode:
    """All that the template prints of a mechanism."""

    key: str
    """Its name in the robot file, or `LOOSE`."""
    title: str
    type_name: str
    imports: tuple[str, ...]
    fields: tuple[Field, ...]
    init: tuple[tuple[str, ...], ...]
    """The lines that make each device ready."""
    latest: tuple[str, ...]
    """The commands that `isDone` tells apart, none first; empty where nothing reports done."""
    latest_stop: str
    commands: tuple[Method, ...]
    done: tuple[tuple[str, tuple[str, ...]], ...]
    """For each command that reports done, the lines that answer."""
    readings: tuple[Method, ...]
    moves: bool
    """Whether it can be told anything, and so be switched off."""
    update: str
    """Why nothing has to be done in every pass, in a sentence."""
    off: tuple[str, ...]
    """The lines that switch off all it has."""
    stop: tuple[str, ...]
    """What the robot file's own `stop` does after that; empty where it has none."""

    unwritten: frozenset[str]
    """The readings that only the team can write."""

    @property
    def off_method(self) -> str:
        """The method that switches off all it has, whatever `stop` is written to do."""
        return "switchOff" if self.stop else "stop"


def mechanism_code(robot: Robot, names: RobotNames, mechanism: Mechanism) -> MechanismCode:
    """The class of a mechanism; it depends on the robot file alone."""
    return _Writer(robot, names, mechanism).code()


class _Writer:
    def __init__(self, robot: Robot, names: RobotNames, mechanism: Mechanism) -> None:
        self.mechanism = mechanism
        self.own: MechanismNames = names.mechanisms[mechanism.name]
        self.sensors = [sensor_code(robot, names, self.own, s) for s in mechanism.sensors]
        self.positioned = {
            action.output.name
            for command in mechanism.commands.values()
            for action in command.actions
            if isinstance(action, SetPosition)
        }
        commands = mechanism.commands.values()
        self.latest: dict[str, str] = {}
        if mechanism.reports_done:
            wanted = {"": "nothing"} | {c.name: c.name for c in commands}
            self.latest = distinct(wanted, constant_name, "COMMAND")

    def code(self) -> MechanismCode:
        mechanism = self.mechanism
        own_stop = mechanism.commands.get("stop")
        plain_stop = own_stop if own_stop and not own_stop.parameters else None
        return MechanismCode(
            mechanism.name,
            comment(self._title()),
            self.own.type_name,
            self._imports(),
            tuple(self._fields()),
            tuple(self._init()),
            tuple(self.latest.values()),
            self.latest.get("stop", ""),
            tuple(self._command(c) for c in mechanism.commands.values() if c is not plain_stop),
            tuple(self._done()),
            (*self._getters(), *(self._reading(r) for r in mechanism.readings.values())),
            bool(mechanism.commands),
            self._update(),
            tuple(line for output in mechanism.outputs for line in self._off(output)),
            tuple(self._actions(plain_stop)) if plain_stop else (),
            frozenset(r.name for r in mechanism.readings.values() if not self._counts(r)),
        )

    def _title(self) -> str:
        name, title = self.mechanism.name, self.mechanism.title
        if name == LOOSE:
            return f"The {title}"
        return f"The {name}: {title}" if title else f"The {name}"

    def _update(self) -> str:
        written = all(c.actions for c in self.mechanism.commands.values() if c.name != "stop")
        if written:
            return "Every command here sets its devices once, so nothing is left to do."
        return "A command that you write may need this; the others set their devices once."

    def _imports(self) -> tuple[str, ...]:
        found = {name for sensor in self.sensors for name in sensor.imports}
        found.add(HARDWARE + "HardwareMap")
        for output in self.mechanism.outputs:
            found.add(HARDWARE + OUTPUT_TYPES[output.kind])
            if output.reversed and output.kind is not OutputKind.SERVO:
                found.add(HARDWARE + "DcMotorSimple")
        return tuple(sorted(found, key=lambda name: (name.startswith("."), name)))

    def _fields(self) -> Iterator[Field]:
        for output in self.mechanism.outputs:
            yield Field(OUTPUT_TYPES[output.kind], self.own.fields[output.name])
        for sensor, code in zip(self.mechanism.sensors, self.sensors, strict=True):
            name = self.own.fields[sensor.name]
            yield Field(code.field_type, name, code.field_value, code.field_note)

    # Making ready.

    def _init(self) -> Iterator[tuple[str, ...]]:
        for output in self.mechanism.outputs:
            yield tuple(self._output_init(output))
        for code in self.sensors:
            yield code.init

    def _output_init(self, output: Output) -> Iterator[str]:
        field, type_name = self.own.fields[output.name], OUTPUT_TYPES[output.kind]
        yield f"{field} = hardwareMap.get({type_name}.class, {string(output.name)});"
        if output.reversed:
            owner = "Servo" if output.kind is OutputKind.SERVO else "DcMotorSimple"
            yield f"{field}.setDirection({owner}.Direction.REVERSE);"
        if output.kind is not OutputKind.MOTOR:
            return
        at_rest = "BRAKE" if output.brakes else "FLOAT"
        yield f"{field}.setZeroPowerBehavior(DcMotor.ZeroPowerBehavior.{at_rest});"
        if output.name in self.positioned:
            yield "// Ticks count from where the motor stands now: put it in its start place first."
            yield f"{field}.setMode(DcMotor.RunMode.STOP_AND_RESET_ENCODER);"
        yield f"{field}.setMode(DcMotor.RunMode.RUN_WITHOUT_ENCODER);"

    # Commands.

    def _command(self, command: Command) -> Method:
        parameters = parameter_names(command.parameters)
        body = list(self._actions(command))
        if not body:
            body = [
                f"// TODO: write what {comment(spoken(command))} does; until then it holds still.",
                *(["// Say in isDone() when it is there."] if command.reports_done else []),
                "stop();",
            ]
        if self.latest:
            # Behind the body, which may call stop.
            body.append(f"latest = Latest.{self.latest[command.name]};")
        return Method(
            (comment(command_line(command)),),
            "void",
            self.own.commands[command.name],
            ", ".join(f"double {name}" for name in parameters.values()),
            tuple(body),
        )

    def _actions(self, command: Command) -> Iterator[str]:
        names = parameter_names(command.parameters)
        for action in command.actions:
            yield from self._action(action, names)

    def _action(self, action: Action, names: dict[str, str]) -> Iterator[str]:
        fields = self.own.fields
        match action:
            case SetPower(output, value) if output.kind is OutputKind.SERVO:
                place = _setpoint(value, names)
                yield f"{fields[output.name]}.setPosition(Percent.place({place}));"
            case SetPower(output, value):
                if output.name in self.positioned:
                    yield f"{fields[output.name]}.setMode(DcMotor.RunMode.RUN_WITHOUT_ENCODER);"
                yield f"{fields[output.name]}.setPower(Percent.power({_setpoint(value, names)}));"
            case SetPosition(output, target, power):
                field, ticks = fields[output.name], _setpoint(target, names)
                # The hub wants the target before the mode.
                yield f"{field}.setTargetPosition((int) Math.round({ticks}));"
                yield f"{field}.setMode(DcMotor.RunMode.RUN_TO_POSITION);"
                yield f"{field}.setPower(Percent.power({_setpoint(power, names)}));"
            case SetLamp(output, on):
                yield f"{fields[output.name]}.enable({'true' if on else 'false'});"
            case _:
                raise CannotExport(f"Java cannot do this action yet: {action}")

    def _off(self, output: Output) -> Iterator[str]:
        field = self.own.fields[output.name]
        match output.kind:
            case OutputKind.MOTOR | OutputKind.CONTINUOUS_SERVO:
                yield f"{field}.setPower(0.0);"
            case OutputKind.LAMP:
                yield f"{field}.enable(false);"
            case OutputKind.SERVO:
                return
            case _:
                raise CannotExport(f"Java cannot switch off a {output.kind.value} yet")

    def _done(self) -> Iterator[tuple[str, tuple[str, ...]]]:
        for command in self.mechanism.commands.values():
            if not command.reports_done:
                continue
            runs_to = [a.output.name for a in command.actions if isinstance(a, SetPosition)]
            if runs_to:
                busy = [f"!{self.own.fields[name]}.isBusy()" for name in dict.fromkeys(runs_to)]
                lines: tuple[str, ...] = (f"return {' && '.join(busy)};",)
            elif command.actions:
                lines = (
                    f"// TODO: say when {comment(spoken(command))} is there; until then it never "
                    "is, and the plan's time limit decides.",
                    "return false;",
                )
            else:
                lines = ("// Not written yet, so the plan's time limit decides.", "return false;")
            yield self.latest[command.name], lines

    # Readings.

    def _getters(self) -> Iterator[Method]:
        for sensor, code in zip(self.mechanism.sensors, self.sensors, strict=True):
            name = self.own.getters[sensor.name]
            yield Method((code.doc,), code.value_type, name, "", code.body)

    def _reading(self, reading: Reading) -> Method:
        doc = comment(f"reading {reading.name} in {reading.unit.name}")
        if reading.from_step_start:
            doc += "; the plan itself subtracts what it was when a step began"
        counted = self._counts(reading)
        if counted:
            body: tuple[str, ...] = (f"return {counted};",)
        else:
            body = (
                f"// TODO: work out {comment(reading.spoken)} from your own sensors; until then it "
                "cannot be had,",
                "// and the plan's time limits decide.",
                "return Double.NaN;",
            )
        return Method((f"{doc}.",), "double", self.own.readings[reading.name], "", body)

    def _counts(self, reading: Reading) -> str | None:
        """What counts a reading in ticks, if the mechanism has just one thing that does."""
        if reading.unit.name != "ticks":
            return None
        encoders = [s for s in self.mechanism.sensors if s.kind is SensorKind.ENCODER]
        motors = [o for o in self.mechanism.outputs if o.kind is OutputKind.MOTOR]
        if len(encoders) == 1:
            return f"{self.own.getters[encoders[0].name]}()"
        if not encoders and len(motors) == 1:
            return f"{self.own.fields[motors[0].name]}.getCurrentPosition()"
        return None


OUTPUT_TYPES = {
    OutputKind.MOTOR: "DcMotor",
    OutputKind.SERVO: "Servo",
    OutputKind.CONTINUOUS_SERVO: "CRServo",
    OutputKind.LAMP: "LED",
}


def _setpoint(value: Setpoint, names: dict[str, str]) -> str:
    if isinstance(value, ParameterUse):
        return f"{'-' if value.negated else ''}{names[value.parameter.name]}"
    # Shares come in percent and positions in ticks, each the only unit of its dimension.
    return double(value.base)
