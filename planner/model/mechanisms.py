"""The lines of a mechanism to what it uses, can be told and reports."""

from __future__ import annotations

from collections.abc import Mapping

from planner.findings import nearest
from planner.model.ledger import NOT_RESERVED, RESERVED_FOR_READINGS, Ledger, declare
from planner.model.robot import (
    Action,
    Command,
    Mechanism,
    Output,
    OutputKind,
    Parameter,
    ParameterUse,
    Reading,
    Sensor,
    SetLamp,
    Setpoint,
    SetPosition,
    SetPower,
)
from planner.model.units import Dimension, units_of
from planner.model.values import bounds_of, plain_amount, unit_named
from planner.text import Place
from planner.tree import nodes as n

STOP = Command("stop", (), False, False, (), None)
"""Every mechanism can be told to stop; a line of its own may say how."""


def mechanism(
    ledger: Ledger,
    line: n.Line,
    head: n.MechanismHead,
    sensors: Mapping[str, Sensor],
    outputs: Mapping[str, Output],
) -> Mechanism:
    """The mechanism of a line and the lines under it."""
    used = _used(ledger, line, {**sensors, **outputs})
    own_outputs = tuple(d for d in used if isinstance(d, Output))
    lost = {name.text for name in _names_used(line)} - {device.name for device in used}
    commands: dict[str, Command] = {}
    readings: dict[str, Reading] = {}
    taken: dict[str, Place] = {}
    for under in line.under:
        statement = under.statement
        if isinstance(statement, n.CommandHead) and _free(ledger, statement.name, taken, "command"):
            commands[statement.name.text] = _command(ledger, under, statement, own_outputs, lost)
        if isinstance(statement, n.ReadingLine) and _free(ledger, statement.name, taken, "reading"):
            reading = _reading(ledger, head.name.text, statement)
            if reading:
                readings[reading.name] = reading
    commands.setdefault("stop", STOP)
    own_sensors = tuple(d for d in used if isinstance(d, Sensor))
    return Mechanism(
        head.name.text, head.title, own_outputs, own_sensors, commands, readings, head.name.place
    )


def _free(ledger: Ledger, name: n.Name, taken: dict[str, Place], what: str) -> bool:
    # They stand behind their mechanism's name, so most reserved words may name them.
    reserved = RESERVED_FOR_READINGS if what == "reading" else NOT_RESERVED
    free = declare(ledger, name, taken, what, reserved)
    taken.setdefault(name.text, name.place)
    return free


def _used(
    ledger: Ledger, line: n.Line, devices: Mapping[str, Sensor | Output]
) -> list[Sensor | Output]:
    found: dict[str, Sensor | Output] = {}
    for name in _names_used(line):
        if name.text in found:
            place = found[name.text].place
            ledger.add("name-used-twice", name.place, name.text, other=place, what="device")
        elif name.text in devices:
            found[name.text] = devices[name.text]
        else:
            ledger.unknown("unknown-device", name, devices)
    return list(found.values())


def _names_used(line: n.Line) -> list[n.Name]:
    uses = (part.statement for part in line.under if isinstance(part.statement, n.Uses))
    return [name for written in uses for name in written.names]


def _command(
    ledger: Ledger,
    line: n.Line,
    head: n.CommandHead,
    outputs: tuple[Output, ...],
    lost: set[str],
) -> Command:
    """The command of a line; names in `lost` are a slip of the `uses` line already."""
    parameters: dict[str, Parameter] = {}
    places: dict[str, Place] = {}
    whole = not line.salvaged
    for written in head.parameters:
        unit = unit_named(ledger, written.unit)
        if unit and declare(ledger, written.name, places, "parameter"):
            places[written.name.text] = written.name.place
            parameters[written.name.text] = Parameter(written.name.text, unit, written.mirrors)
        else:
            whole, lost = False, lost | {written.name.text}
    own = {output.name: output for output in outputs}
    actions = tuple(
        action
        for under in line.under
        if not _speaks_of(under, lost, own)
        and (action := _action(ledger, under, own, parameters)) is not None
    )
    return Command(
        head.name.text,
        tuple(parameters.values()),
        head.lasts == "runs",
        head.reports_done,
        actions,
        head.name.place,
        salvaged=not whole,
    )


def _speaks_of(line: n.Line, lost: set[str], own: Mapping[str, Output]) -> bool:
    """Whether a line names what another line has lost already, or what that line nearly says."""
    match line.statement:
        case n.Power(output, value):
            names, values = [output.text], [value]
        case n.Position(output, place, power):
            names, values = [output.text], [place, power]
        case n.LampLine(output, _):
            names, values = [output.text], []
        case _:
            return False
    names += [value.name.text for value in values if isinstance(value, n.NameValue)]
    meant = lost and names[0] not in own and nearest(names[0], lost)
    return bool(meant) or any(name in lost for name in names)


def _action(
    ledger: Ledger, line: n.Line, outputs: Mapping[str, Output], parameters: Mapping[str, Parameter]
) -> Action | None:
    statement = line.statement
    if not isinstance(statement, n.Power | n.Position | n.LampLine):
        return None
    output = outputs.get(statement.output.text)
    if output is None:
        ledger.unknown("unknown-device", statement.output, outputs, of_mechanism="yes")
        return None
    if not _suits(ledger, statement, output, line.place):
        return None
    name = f"`{output.name}`"
    match statement:
        case n.Power(_, value):
            power = _setpoint(ledger, value, Dimension.SHARE, name, parameters)
            return SetPower(output, power, line.place) if power else None
        case n.Position(_, target, value):
            ticks = _setpoint(ledger, target, Dimension.TICKS, name, parameters)
            power = _setpoint(ledger, value, Dimension.SHARE, name, parameters)
            return SetPosition(output, ticks, power, line.place) if ticks and power else None
        case n.LampLine(_, state):
            return SetLamp(output, state == "on", line.place)


_FORMS = {
    OutputKind.MOTOR: "at 40 %",
    OutputKind.SERVO: "at 80 %",
    OutputKind.CONTINUOUS_SERVO: "at 40 %",
    OutputKind.LAMP: "on",
}


def _suits(
    ledger: Ledger, statement: n.Power | n.Position | n.LampLine, output: Output, place: Place
) -> bool:
    """Whether an output can do what a line asks of it."""
    lamp = isinstance(statement, n.LampLine) == (output.kind is OutputKind.LAMP)
    motor = not isinstance(statement, n.Position) or output.kind is OutputKind.MOTOR
    if lamp and motor:
        return True
    example = f"{output.name} {_FORMS[output.kind]}"
    ledger.add("wrong-action", place, output.name, kind=output.kind.value, example=example)
    return False


def _setpoint(
    ledger: Ledger,
    value: n.Setpoint,
    dimension: Dimension,
    whose: str,
    parameters: Mapping[str, Parameter],
) -> Setpoint | None:
    if isinstance(value, n.Quantity):
        return plain_amount(ledger, value, dimension, whose)
    parameter = parameters.get(value.name.text)
    if parameter is None:
        ledger.unknown("unknown-parameter", value.name, parameters)
        return None
    if parameter.unit.dimension is not dimension:
        ledger.add(
            "wrong-unit",
            value.place,
            parameter.name,
            whose=whose,
            wanted=dimension.value,
            got=parameter.unit.dimension.value,
            unit=parameter.unit.name,
        )
        return None
    return ParameterUse(parameter, value.negated)


def _reading(ledger: Ledger, owner: str, written: n.ReadingLine) -> Reading | None:
    unit = unit_named(ledger, written.unit)
    if unit is None:
        return None
    if written.wraps and unit.dimension is not Dimension.ANGLE:
        ledger.add(
            "wrong-unit",
            written.unit.place,
            unit.name,
            known=units_of(Dimension.ANGLE),
            whose=f"`{owner} {written.name.text}`, which wraps,",
            wanted=Dimension.ANGLE.value,
            got=unit.dimension.value,
            unit=unit.name,
        )
    bounds = None
    if written.span:
        whose = f"`{owner} {written.name.text}`"
        bounds = bounds_of(ledger, written.span, unit.dimension, whose)
    return Reading(
        owner,
        written.name.text,
        unit,
        bounds,
        written.wraps,
        written.from_step_start,
        written.name.place,
        written.mirrors,
    )
