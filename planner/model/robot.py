"""What a robot is: its devices, mechanisms and how often the controller looks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction
from typing import TypeAlias

from planner.model.units import Amount, Unit
from planner.text import Place


class SensorKind(Enum):
    """What a sensor measures; the value is the word of the robot file."""

    TOUCH = "touch"
    SWITCH = "switch"
    BEAM = "beam"
    DISTANCE = "distance"
    COLOUR = "colour"
    LIGHT = "light"
    ANALOG = "analog"
    HEADING = "heading"
    ENCODER = "encoder"
    CAMERA = "camera"


class OutputKind(Enum):
    """What an output is; the value is how it is spoken of."""

    MOTOR = "motor"
    SERVO = "servo"
    CONTINUOUS_SERVO = "continuous servo"
    LAMP = "lamp"


# The two answers a digital sensor can give; the first is the one that a low wire means,
# unless the robot file says `active high`.
STATES: Mapping[SensorKind, tuple[str, str]] = {
    SensorKind.TOUCH: ("pressed", "released"),
    SensorKind.SWITCH: ("closed", "open"),
    SensorKind.BEAM: ("broken", "clear"),
}

COLOURS = ("red", "yellow", "green", "blue", "white", "black")
"""What a colour sensor can be asked to tell apart."""

UNSURE = "unsure"
"""What a camera or colour sensor answers when none of its values fits."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """The lowest and highest number a reading can give, both included."""

    low: Amount
    high: Amount


@dataclass(frozen=True, slots=True)
class Plug:
    """Where a device is plugged in. `hub` is empty for what is on no hub (a camera)."""

    hub: str
    port_kind: str
    port: int
    address: int | None = None


@dataclass(frozen=True, slots=True)
class Sensor:
    """A sensor as the robot file declares it."""

    name: str
    kind: SensorKind
    plug: Plug
    place: Place = field(compare=False)
    unit: Unit | None = None
    """The unit its number is given in; None for a sensor that answers in words."""
    bounds: Bounds | None = None
    values: tuple[str, ...] = ()
    """What a colour sensor or camera can see, `UNSURE` last; or the two states of a switch."""
    active_high: bool = False
    reversed: bool = False
    mirrors: bool = False
    """Whether a plan that is turned round sees its number with the other sign."""

    @property
    def wraps(self) -> bool:
        """Whether its number starts again after a full turn."""
        return self.kind is SensorKind.HEADING

    @property
    def spoken(self) -> str:
        """How a plan names it."""
        return self.name


@dataclass(frozen=True, slots=True)
class Output:
    """A motor, servo or lamp as the robot file declares it."""

    name: str
    kind: OutputKind
    plug: Plug
    place: Place = field(compare=False)
    reversed: bool = False
    brakes: bool = False


@dataclass(frozen=True, slots=True)
class Parameter:
    """A number that a command is given; it arrives in `unit`.

    One that `mirrors` changes its sign where a choice turns the plan round.
    """

    name: str
    unit: Unit
    mirrors: bool = False


@dataclass(frozen=True, slots=True)
class ParameterUse:
    """A command's own parameter used as a number, perhaps with the other sign."""

    parameter: Parameter
    negated: bool


Setpoint: TypeAlias = Amount | ParameterUse


@dataclass(frozen=True, slots=True)
class SetPower:
    """Drives a motor or continuous servo at a power in %, or puts a servo at a place in %."""

    output: Output
    value: Setpoint
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class SetPosition:
    """Runs a motor to a place in ticks with a power in %."""

    output: Output
    target: Setpoint
    power: Setpoint
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class SetLamp:
    """Switches a lamp."""

    output: Output
    on: bool
    place: Place = field(compare=False)


Action: TypeAlias = SetPower | SetPosition | SetLamp


@dataclass(frozen=True, slots=True)
class Command:
    """What a mechanism can be told. `runs` ends with its step, otherwise it holds."""

    name: str
    parameters: tuple[Parameter, ...]
    runs: bool
    reports_done: bool
    actions: tuple[Action, ...]
    """What it sets, in the order written; empty where only the team can write it."""
    place: Place | None = field(compare=False)
    """None for `stop`, which every mechanism has without a line of its own."""
    salvaged: bool = False
    """True where its line could not be read whole, so that only its name can be trusted."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A number that a mechanism reports; the team writes how."""

    mechanism: str
    name: str
    unit: Unit
    bounds: Bounds | None
    wraps: bool
    from_step_start: bool
    place: Place = field(compare=False)
    mirrors: bool = False
    """Whether a plan that is turned round sees its number with the other sign."""

    @property
    def spoken(self) -> str:
        """How a plan names it."""
        return f"{self.mechanism} {self.name}"


@dataclass(frozen=True, slots=True)
class Mechanism:
    """A part of the robot with devices of its own, commands and readings."""

    name: str
    title: str
    outputs: tuple[Output, ...]
    sensors: tuple[Sensor, ...]
    commands: Mapping[str, Command]
    """By name, as written; `stop` is there even where no line declares it."""
    readings: Mapping[str, Reading]
    place: Place = field(compare=False)

    @property
    def reports_done(self) -> bool:
        """Whether any of its commands can be waited for."""
        return any(command.reports_done for command in self.commands.values())

    @property
    def moves(self) -> bool:
        """Whether it drives anything that turns."""
        return any(output.kind is not OutputKind.LAMP for output in self.outputs)


@dataclass(frozen=True, slots=True)
class Hub:
    """A hub the devices are plugged into."""

    name: str
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Robot:
    """A whole robot file with its names resolved."""

    name: str
    title: str
    pass_us: tuple[int, int] | None
    """Shortest and longest time between two passes; None where the file leaves it to the tool."""
    hubs: tuple[Hub, ...]
    sensors: Mapping[str, Sensor]
    outputs: Mapping[str, Output]
    mechanisms: Mapping[str, Mechanism]
    place: Place = field(compare=False)
    broken_words: frozenset[str] = frozenset()
    """Every word of the lines that could not be read: names they may have declared."""
    missing: bool = False
    """True for the stand-in of a robot file that was not found: no name can be looked up."""
    nameless: bool = False
    """True where a mechanism's line has lost the mechanism's name."""

    def loose_sensors(self) -> tuple[Sensor, ...]:
        """The sensors that no mechanism uses."""
        used = {s.name for mechanism in self.mechanisms.values() for s in mechanism.sensors}
        return tuple(s for s in self.sensors.values() if s.name not in used)


# Ranges that hold where the robot file gives none: a full turn, a share, the hub's analog input.
# The analog range is common practice, no source.
_DEFAULT_BOUNDS = {
    SensorKind.HEADING: ("-180", "180"),
    SensorKind.LIGHT: ("0", "100"),
    SensorKind.ANALOG: ("0", "3.3"),
}


def default_bounds(kind: SensorKind, unit: Unit) -> Bounds | None:
    """The bounds of a sensor whose line names none; None where nothing is known."""
    if kind not in _DEFAULT_BOUNDS:
        return None
    low, high = _DEFAULT_BOUNDS[kind]
    return Bounds(Amount(Fraction(low), unit), Amount(Fraction(high), unit))
