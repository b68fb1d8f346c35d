"""From a robot file to the robot: names, kinds, bounds, and what is wrong with them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from demo import robot_of, said

from planner.model import Robot
from planner.model.robot import OutputKind, ParameterUse, SensorKind, SetPosition, SetPower

HUB = """\
robot example
hub main
  motor 0 left
  motor 1 right
  servo 0 claw
  digital 6 mast lamp
"""


def hub_with(line: str) -> str:
    """A robot file with one more device."""
    return HUB + f"  {line}\n"


def mechanism_with(*lines: str) -> str:
    """A robot file whose mechanism has these lines."""
    return HUB + "mechanism drive\n  uses left, right, claw, mast\n" + "\n".join(lines) + "\n"


@pytest.mark.parametrize(
    ("line", "kind", "unit", "low", "high"),
    [
        ("digital 1 it touch", SensorKind.TOUCH, None, None, None),
        ("digital 1 it switch", SensorKind.SWITCH, None, None, None),
        ("digital 1 it beam", SensorKind.BEAM, None, None, None),
        ("analog 0 it", SensorKind.ANALOG, "V", "0", "3.3"),
        ("analog 0 it 200 mV to 3.1 V", SensorKind.ANALOG, "V", "0.2", "3.1"),
        ("analog 0 it light", SensorKind.LIGHT, "%", "0", "100"),
        ("encoder 3 it", SensorKind.ENCODER, "ticks", None, None),
        ("i2c 0 it heading", SensorKind.HEADING, "deg", "-180", "180"),
        ("i2c 0 it light", SensorKind.LIGHT, "%", "0", "100"),
        ("i2c 0 it distance", SensorKind.DISTANCE, "cm", None, None),
        ("i2c 0 it distance 2 cm to 200 cm", SensorKind.DISTANCE, "cm", "20", "2000"),
        ("i2c 0 it distance 1 in to 10 in", SensorKind.DISTANCE, "in", "25.4", "254"),
    ],
)
def test_sensors(line: str, kind: SensorKind, unit: str, low: str, high: str) -> None:
    """A sensor has its kind, its unit, and the bounds written or those of its kind."""
    sensor = robot_of(hub_with(line)).robot.sensors["it"]
    assert (kind, unit) == (sensor.kind, sensor.unit.name if sensor.unit else None)
    expected = None if low is None else (Fraction(low), Fraction(high))
    bounds = sensor.bounds
    assert expected == (bounds and (bounds.low.base, bounds.high.base))


@pytest.mark.parametrize(
    ("line", "values"),
    [
        ("digital 1 it touch", ("pressed", "released")),
        ("digital 1 it switch", ("closed", "open")),
        ("digital 1 it beam", ("broken", "clear")),
        ("i2c 0 it colour red, blue", ("red", "blue", "unsure")),
        ("i2c 0 it colour red, unsure, red", ("red", "unsure")),
    ],
)
def test_answers(line: str, values: tuple[str, ...]) -> None:
    """A sensor that answers in words knows them, `unsure` last where it can be unsure."""
    assert values == robot_of(hub_with(line)).robot.sensors["it"].values


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("motor 2 it", OutputKind.MOTOR),
        ("servo 1 it", OutputKind.SERVO),
        ("servo 1 it continuous", OutputKind.CONTINUOUS_SERVO),
        ("digital 7 it lamp", OutputKind.LAMP),
    ],
)
def test_outputs(line: str, kind: OutputKind) -> None:
    """An output has its kind."""
    assert kind == robot_of(hub_with(line)).robot.outputs["it"].kind


def test_words_behind_a_device() -> None:
    """`reversed`, `brakes`, `active high` and an address are kept."""
    read = robot_of(
        hub_with("motor 2 a reversed brakes")
        + "  digital 1 b touch active high\n  encoder 3 c reversed\n"
        + "  i2c 1 d distance address 0x2A\n"
    ).robot
    assert (True, True) == (read.outputs["a"].reversed, read.outputs["a"].brakes)
    assert (True, True) == (read.sensors["b"].active_high, read.sensors["c"].reversed)
    assert 42 == read.sensors["d"].plug.address


@pytest.mark.parametrize(
    ("text", "slips"),
    [
        (HUB, []),
        (hub_with("motor 2 left"), [("name-used-twice", "left")]),
        (hub_with("servo 1 step"), [("reserved-word", "step")]),
        (hub_with("motor -1 it"), [("no-such-port", "-1")]),
        (hub_with("motor 1.5 it"), [("no-such-port", "1.5")]),
        (hub_with("i2c 0 it colour red, mauve"), [("unknown-colour", "mauve")]),
        (hub_with("i2c 0 it distance 200 cm to 2 cm"), [("span-backwards", "200 cm to 2 cm")]),
        (hub_with("i2c 0 it distance 2 V to 3 V"),
         [("wrong-unit", "2 V"), ("wrong-unit", "3 V")]),
        (hub_with("analog 0 it 1 V to 3"), [("number-without-unit", "3")]),
        (HUB + "camera eye sees a, a", [("name-used-twice", "a")]),
        (HUB + "hub main", [("name-used-twice", "main")]),
        (HUB + "robot other", [("line-twice", "robot other")]),
        (HUB + "pass 8 ms to 40 ms\npass 1 ms to 2 ms", [("line-twice", "pass 1 ms to 2 ms")]),
        (HUB + "pass 0 ms to 40 ms", [("wrong-time", "0 ms")]),
        (HUB + "pass 8 cm to 40 ms", [("wrong-unit", "8 cm")]),
        (HUB + "pass 40 ms to 8 ms", [("span-backwards", "40 ms to 8 ms")]),
        ("hub main", [("missing-line", "h")]),
        (mechanism_with("  uses wheel"), [("unknown-device", "wheel")]),
        (mechanism_with("  uses left"), [("name-used-twice", "left")]),
        (mechanism_with("  command go runs", "  command go holds"), [("name-used-twice", "go")]),
        (mechanism_with("  reading way furlongs"), [("unknown-unit", "furlongs")]),
        (mechanism_with("  reading way cm 0 V to 1 V"),
         [("wrong-unit", "0 V"), ("wrong-unit", "1 V")]),
        (mechanism_with("  command go(p %, p %) runs"), [("name-used-twice", "p")]),
        (mechanism_with("  command go(p watts) runs"), [("unknown-unit", "watts")]),
        (mechanism_with("  command go runs", "    left at speed"),
         [("unknown-parameter", "speed")]),
        (mechanism_with("  command go runs", "    left at 40 cm"), [("wrong-unit", "40 cm")]),
        (mechanism_with("  command go(p cm) runs", "    left at p"), [("wrong-unit", "p")]),
        (mechanism_with("  command go runs", "    middle at 40 %"), [("unknown-device", "middle")]),
    ],
)  # fmt: skip
def test_slips(text: str, slips: list[tuple[str, str]]) -> None:
    """Each fault of a robot file is one slip at its own words."""
    assert slips == said(robot_of(text).slips)


@pytest.mark.parametrize("line", ["mast at 40 %", "left on", "claw to 10 ticks at 40 %"])
def test_what_an_output_cannot_do(line: str) -> None:
    """A lamp has no power, a motor no light, and a servo no ticks to go to."""
    read = robot_of(mechanism_with("  command go runs", f"    {line}"))
    assert 1 == len(read.slips)
    assert () == read.robot.mechanisms["drive"].commands["go"].actions


def drive(robot: Robot, command: str) -> object:
    """The one action of a command of `drive`."""
    (action,) = robot.mechanisms["drive"].commands[command].actions
    return action


def test_actions() -> None:
    """A command's lines set its outputs, by number or by the command's own numbers."""
    robot = robot_of(
        mechanism_with(
            "  command go(p %) runs",
            "    left at -p",
            "  command up(h ticks) holds, reports done",
            "    right to h at 60 %",
        )
    ).robot
    go, up = drive(robot, "go"), drive(robot, "up")
    assert isinstance(go, SetPower)
    assert isinstance(go.value, ParameterUse)
    assert ("p", True) == (go.value.parameter.name, go.value.negated)
    assert isinstance(up, SetPosition)
    assert ("right", "60 %") == (up.output.name, str(up.power))
    commands = robot.mechanisms["drive"].commands
    assert [(True, False), (False, True)] == [
        (commands[name].runs, commands[name].reports_done) for name in ("go", "up")
    ]


def test_stop_is_built_in() -> None:
    """Every mechanism can be told to stop, and a line of its own takes the place of that."""
    plain = robot_of(mechanism_with()).robot.mechanisms["drive"].commands["stop"]
    assert ((), None) == (plain.parameters, plain.place)
    own = robot_of(mechanism_with("  command stop runs", "    left at 0 %")).robot
    assert 1 == len(own.mechanisms["drive"].commands["stop"].actions)


def test_a_mechanism_may_stand_above_its_hub() -> None:
    """The order of hubs and mechanisms does not matter."""
    text = "robot x\nmechanism m\n  uses a\nhub main\n  motor 0 a\n"
    assert ((), ["a"]) == (
        robot_of(text).slips,
        [output.name for output in robot_of(text).robot.mechanisms["m"].outputs],
    )


def test_readings(moth: Robot) -> None:
    """A reading from the step's start is told from one that is not, and wraps if it says so."""
    travelled = moth.mechanisms["drive"].readings["travelled"]
    assert (True, False, None) == (travelled.from_step_start, travelled.wraps, travelled.bounds)
    robot = robot_of(mechanism_with("  reading way deg -180 deg to 180 deg wraps")).robot
    way = robot.mechanisms["drive"].readings["way"]
    assert (False, True, Fraction(-180)) == (
        way.from_step_start, way.wraps, way.bounds and way.bounds.low.base
    )  # fmt: skip


def test_names_of_broken_lines_are_no_second_slip() -> None:
    """A device on a line that could not be read is not unknown where it is used."""
    text = "robot x\nhub main\n  motor zero left\nmechanism m\n  uses left\n"
    assert [("unreadable-line", "zero")] == said(robot_of(text).slips)


def test_loose_sensors(moth: Robot) -> None:
    """The sensors that no mechanism uses are known."""
    assert ("post_mark",) == tuple(sensor.name for sensor in moth.loose_sensors())


def test_pass_time(moth: Robot) -> None:
    """The pass time is held in microseconds."""
    assert (8_000, 40_000) == moth.pass_us
