"""Lines of a robot file as they are written elsewhere."""

from __future__ import annotations

import re

from planner.checks.habits.habit import NAME, QUANTITY, UNIT, VALUE, Habit

_HUB = ("hub_line",)
_MECHANISM = ("mechanism_line",)
_PORTS = r"(?:motor|servo|digital|analog|encoder|i2c)"
_DIGITAL = r"(?:touch|switch|beam|lamp)"
_I2C = r"(?:distance|heading|colour)"


def _command(head: re.Match[str]) -> str:
    """``command forward power %`` with its parentheses."""
    return f"command {head.group(1)}({head.group(2)}) {head.group(3)}"


ROBOT_LINES: tuple[Habit, ...] = (
    Habit(
        r"\bcolor\b",
        "colour",
        "`color` is written `colour` here",
        "The language is written in British English.",
        rules=_HUB,
    ),
    Habit(
        r"\b(?:imu|gyroscope|gyro|compass)$",
        "heading",
        "a sensor that gives the direction is of the kind `heading`",
        "The kind says what is measured; the name is yours.",
        rules=_HUB,
    ),
    Habit(
        r"\b(?:range|range_sensor|ultrasonic|laser|proximity)$",
        "distance",
        "a sensor that gives how far something is away is of the kind `distance`",
        "The kind says what is measured; the name is yours.",
        rules=_HUB,
    ),
    Habit(
        r"\b(?:button|bumper_switch|touch_sensor|touchsensor)$",
        "touch",
        "a button is of the kind `touch`",
        "The kind says what is measured; the name is yours.",
        rules=_HUB,
    ),
    Habit(
        r"\b(?:magnet|magnetic|limit|limit_switch|hall)$",
        "switch",
        "a limit switch is of the kind `switch`",
        "It answers `closed` or `open`. The kind says what is measured; the name is yours.",
        rules=_HUB,
    ),
    Habit(
        r"\b(?:led|light|LED)$",
        "lamp",
        "a light that the robot switches is a `lamp`",
        "The word `light` is for a sensor that measures brightness.",
        rules=_HUB,
    ),
    Habit(
        r"\b(?:reverse|inverted|backwards|backward|flipped)\b",
        "reversed",
        "a motor that turns the other way round is `reversed`",
        "Write `reversed` behind its name.",
        rules=_HUB,
    ),
    Habit(
        r"\bbrake\b",
        "brakes",
        "a motor that stops hard `brakes`",
        "Write `brakes` behind its name.",
        rules=_HUB,
    ),
    Habit(
        rf"^({_PORTS})\s+(?:port|channel|bus|number|no)?\s*(\d+)\s*[:=,-]?\s+(?={NAME})",
        r"\1 \2 ",
        "between the kind of port, its number and the name stand just spaces",
        "Such as `motor 0 left_wheels`: the port as it is printed on the hub, then your name.",
        rules=_HUB,
    ),
    Habit(
        rf"^({_PORTS})\s+({NAME})\s*(?:on|in|at|port|:|=|,|\s)*\s*(\d+)\b",
        r"\1 \3 \2",
        "the port's number comes before the name",
        "Such as `motor 0 left_wheels`: the port as it is printed on the hub, then your name.",
        rules=_HUB,
    ),
    Habit(
        rf"^({_DIGITAL})\s+(\d+)\s+({NAME})$",
        r"digital \2 \3 \1",
        "the line starts with the kind of port, here `digital`",
        "First where it is plugged in, then its name, then what it is.",
        rules=_HUB,
    ),
    Habit(
        rf"^({_I2C})\s+(\d+)\s+({NAME})\b",
        r"i2c \2 \3 \1",
        "the line starts with the kind of port, here `i2c`",
        "First where it is plugged in, then its name, then what it is.",
        rules=_HUB,
    ),
    Habit(
        rf"^digital\s+(\d+)\s+({NAME})$",
        r"digital \1 \2 touch",
        "the line does not say what is plugged in",
        "A digital port takes `touch`, `switch`, `beam` or `lamp`.",
        rules=_HUB,
    ),
    Habit(
        rf"^i2c\s+(\d+)\s+({NAME})$",
        r"i2c \1 \2 distance",
        "the line does not say what is plugged in",
        "An i2c port takes `distance`, `heading`, `colour` and the colours it tells apart, or "
        "`light`.",
        rules=_HUB,
    ),
    Habit(
        rf"^(i2c\s+\d+\s+{NAME}\s+colour)$",
        r"\1 red, blue",
        "the line does not say which colours the sensor tells apart",
        "List them behind `colour`.",
        rules=_HUB,
    ),
    Habit(
        rf"({QUANTITY})\s*(?:-|\u2013|\.\.+|\band\b|\buntil\b|,)\s*(?={QUANTITY})",
        r"\1 to ",
        "a range is written with `to`",
        "Such as `2 cm to 200 cm`: the smallest, `to`, the largest.",
        rules=("hub_line", "mechanism_line"),
    ),
    Habit(
        rf"^pass\s+({QUANTITY})$",
        r"pass 5 ms to \1",
        "`pass` gives two times: the shortest and the longest",
        "It says how often the controller looks. Leave the line out if you have not measured it.",
        rules=("file_line",),
    ),
    Habit(
        rf"^(camera\s+{NAME})\s*[:,]?\s+(?!sees\b)(?={NAME})",
        r"\1 sees ",
        "the camera's line says `sees` before what it can tell apart",
        "Such as `camera post_mark sees left, middle, right`.",
        rules=("file_line",),
    ),
    Habit(
        r"(?<=\w)\s+(?:and|&)\s+(?=\w)",
        ", ",
        "names in a list are parted by commas",
        "No `and` before the last one.",
        rules=("file_line", "hub_line", "mechanism_line"),
    ),
    Habit(
        rf"^(command\s+{NAME})\s*\(\s*\)",
        r"\1",
        "a command without numbers has no parentheses",
        "Leave the empty parentheses out.",
        rules=_MECHANISM,
    ),
    Habit(
        rf"^command\s+({NAME})\s+((?!runs\b|holds\b){NAME}\s+{UNIT}"
        rf"(?:\s*,\s*{NAME}\s+{UNIT})*)\s+(runs\b.*|holds\b.*)$",
        _command,
        "the numbers a command takes stand in parentheses",
        "Each with its name and unit, such as `forward(power %)`.",
        rules=_MECHANISM,
    ),
    Habit(
        rf"^(command\s+{NAME}\s*\(\s*power)\s*\)",
        r"\1 %)",
        "a number that a command takes needs a unit",
        "Its name, then its unit: `power %`, `height ticks`, `angle deg`.",
        rules=_MECHANISM,
    ),
    Habit(
        rf"^(command\s+{NAME}\s*\(\s*{NAME})\s*:\s*(?={UNIT})",
        r"\1 ",
        "between a number's name and its unit stands just a space",
        "Such as `power %`, `height ticks` or `angle deg`.",
        rules=_MECHANISM,
    ),
    Habit(
        r"\b(runs|holds)\s+(?:and\s+)?(reports\s+done)",
        r"\1, \2",
        "before `reports done` stands a comma",
        "Such as `command turn(angle deg) runs, reports done`.",
        rules=_MECHANISM,
    ),
    Habit(
        rf"^(command\s+{NAME}(?:\s*\([^()]*\))?)\s*(?:,?\s*(reports\s+done))?$",
        lambda head: f"{head.group(1)} runs" + (", reports done" if head.group(2) else ""),
        "the command does not say whether it `runs` or `holds`",
        "A command that `runs` is switched off when its step is left; one that `holds` stays until "
        "another command replaces it.",
        rules=_MECHANISM,
    ),
    Habit(
        rf"^(reading\s+{NAME})\s*(?:\(\s*({UNIT})\s*\)|\bin\s+({UNIT}))",
        lambda line: f"{line.group(1)} {line.group(2) or line.group(3)}",
        "behind a reading's name stands its unit and nothing else",
        "Such as `reading travelled cm from step start`.",
        rules=_MECHANISM,
    ),
    Habit(
        rf"^({NAME})\s*(?:=|:|\bpower\b|\bwith\b)\s*(?={VALUE}$)",
        r"\1 at ",
        "what a motor does is written with `at`",
        "Such as `left_wheels at power`, `claw_servo at 80 %` or `arm_motor to height at 60 %`.",
        rules=("command_line",),
    ),
    Habit(
        rf"^({NAME}\s+to\s+{VALUE})$",
        r"\1 at 60 %",
        "the line does not say with how much power the motor turns",
        "A motor that goes to a place needs both: `arm_motor to height at 60 %`.",
        rules=("command_line",),
    ),
    Habit(
        rf"^({NAME}\s+at\s+-?{NAME})\s*{UNIT}$",
        r"\1",
        "a number that has a name brings its unit along",
        "The unit stands in the parentheses of the command only.",
        rules=("command_line",),
    ),
)
