"""One line of a hub to the sensor or output it declares."""

from __future__ import annotations

from planner.model.ledger import NOT_RESERVED, Ledger, declare
from planner.model.robot import (
    COLOURS,
    STATES,
    UNSURE,
    Output,
    OutputKind,
    Plug,
    Sensor,
    SensorKind,
    default_bounds,
)
from planner.model.units import UNITS, Unit
from planner.model.values import bounds_of
from planner.text import Place
from planner.tree import nodes as n

# The unit a sensor's number is given in where its line does not say.
_UNITS = {
    SensorKind.DISTANCE: "cm",
    SensorKind.LIGHT: "%",
    SensorKind.ANALOG: "V",
    SensorKind.HEADING: "deg",
    SensorKind.ENCODER: "ticks",
}


ADDRESSES = range(0x08, 0x78)
"""The addresses of seven bits that a device on an i2c bus can have: those that begin with 0000 or
1111 are kept for the bus. Source: NXP UM10204, "I2C-bus specification and user manual", on
reserved addresses; from memory."""


def device(ledger: Ledger, hub: str, written: n.Device) -> Sensor | Output:
    """The sensor or output that a line under a hub declares."""
    address = int(written.address.text, 16) if written.address else None
    if address is not None and written.address and address not in ADDRESSES:
        ledger.add("no-such-address", written.address.place, written.address.text)
    plug = Plug(hub, written.port_kind, _port(ledger, written), address)
    output = _output_kind(written)
    if output is not None:
        reversed_, brakes = "reversed" in written.words, "brakes" in written.words
        return Output(written.name.text, output, plug, written.name.place, reversed_, brakes)
    return _sensor(ledger, written, plug)


def _port(ledger: Ledger, written: n.Device) -> int:
    if written.port.text.isdigit():
        return int(written.port.text)
    ledger.add("no-such-port", written.port.place, written.port.text, kind=written.port_kind)
    return -1


def _output_kind(written: n.Device) -> OutputKind | None:
    if written.kind == "servo" and "continuous" in written.words:
        return OutputKind.CONTINUOUS_SERVO
    kinds = {kind.value: kind for kind in OutputKind}
    return kinds.get(written.kind)


def _sensor(ledger: Ledger, written: n.Device, plug: Plug) -> Sensor:
    kind = SensorKind(written.kind)
    unit = UNITS[_UNITS[kind]] if kind in _UNITS else None
    bounds = default_bounds(kind, unit) if unit else None
    if written.span and unit:
        whose = f"`{written.name.text}`"
        bounds = bounds_of(ledger, written.span, unit.dimension, whose) or bounds
        unit = _unit_of(written.span, unit)
    return Sensor(
        written.name.text,
        kind,
        plug,
        written.name.place,
        unit,
        bounds,
        _values(ledger, kind, written.values),
        "active high" in written.words,
        "reversed" in written.words,
        "mirrors" in written.words,
    )


def _unit_of(span: n.Span, otherwise: Unit) -> Unit:
    """The unit the span is written in, so that a sensor given in inches speaks in inches."""
    unit = UNITS.get(span.high.unit or "")
    return unit if unit and unit.dimension is otherwise.dimension else otherwise


def _values(ledger: Ledger, kind: SensorKind, written: tuple[n.Name, ...]) -> tuple[str, ...]:
    if kind is not SensorKind.COLOUR:
        return STATES.get(kind, ())
    taken: dict[str, Place] = {}
    for name in written:
        if name.text in COLOURS:
            if declare(ledger, name, taken, "colour", NOT_RESERVED):
                taken[name.text] = name.place
        elif name.text != UNSURE:
            ledger.unknown("unknown-colour", name, COLOURS)
    return (*taken, UNSURE)
