"""Lines of a robot file as they are written elsewhere."""

from __future__ import annotations

import re

from planner.checks.habits.habit import HIDDEN, NAME, QUANTITY, UNIT, VALUE, Habit

_HUB = ("hub_line",)
_MECHANISM = ("mechanism_line",)
_PORTS = r"(?:motor|servo|digital|analog|encoder|i2c)"
_DIGITAL = r"(?:touch|switch|beam|lamp)"
_I2C = r"(?:distance|heading|colour)"


_UNITS = {"angle": "deg", "height": "ticks", "distance": "cm", "time": "s"}
_MEASURED = {"imu": "heading", "gyro": "heading", "colour": "colour red, blue"}


def _commas(line: re.Match[str]) -> str:
    """A list whose names are parted by spaces alone."""
    return line.group(1) + ", ".join(line.group(2).replace(",", " ").split())


def _with_unit(head: re.Match[str]) -> str:
    """``command turn(angle)`` with the unit that such a number most often has."""
    return f"{head.group(1)}{head.group(2)} {_UNITS.get(head.group(2), '%')})"


def _measuring(line: re.Match[str]) -> str:
    """``i2c 0 gyro`` with what such a device most often measures."""
    kinds = [kind for word, kind in _MEASURED.items() if word in line.group(2)]
    return f"{line.group(1)}{line.group(2)} {kinds[0] if kinds else 'distance'}"


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
        rf"^(i2c\s+\d+\s+)({NAME})$",
        _measuring,
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
        r"\s+(?:@|at|on|addr|address_|adr)?\s*(?P<here>0x[0-9A-Fa-f]{1,2})$",
        r" address \1",
        "before `{seen}` stands the word `address`",
        "Such as `i2c 1 range_front distance address 0x29`.",
        rules=_HUB,
    ),
    Habit(
        rf"({QUANTITY})\s*(?:-|\u2013|\.\.+|\band\b|\buntil\b|,)\s*(?={QUANTITY})",
        r"\1 to ",
        "a range is written with `to`",
        "Such as `2 cm to 200 cm`: the smallest, `to`, the largest.",
        rules=("hub_line", "mechanism_line", "file_line"),
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
        r"(?<=\w)\s+(?:and|&)\s+(?!reports)(?=\w)",
        ", ",
        "names in a list are parted by commas",
        "No `and` before the last one.",
        rules=("file_line", "hub_line", "mechanism_line"),
    ),
    Habit(
        rf"^(uses\s+)({NAME}(?:[\s,]+{NAME})+)$",
        _commas,
        "names in a list are parted by commas",
        "Such as `uses left_wheels, right_wheels`.",
        rules=_MECHANISM,
    ),
    Habit(
        rf"^(camera\s+{NAME}\s+sees\s+)({NAME}(?:[\s,]+{NAME})+)$",
        _commas,
        "names in a list are parted by commas",
        "Such as `camera post_mark sees left, middle, right`.",
        rules=("file_line",),
    ),
    Habit(
        rf"^(i2c\s+\d+\s+{NAME}\s+colour\s+)({NAME}(?:[\s,]+(?!address\b){NAME})+)$",
        _commas,
        "names in a list are parted by commas",
        "Such as `i2c 2 floor_eye colour red, blue`.",
        rules=_HUB,
    ),
    Habit(
        rf'"({HIDDEN}+)"',
        r"\1",
        "a device's name stands without quotes",
        "It is the name in the hub's configuration, letter for letter.",
        rules=_HUB,
    ),
    Habit(
        r"\bbrakes\s+reversed\b",
        "reversed brakes",
        "first comes `reversed`, then `brakes`",
        "Such as `motor 0 left_wheels reversed brakes`.",
        rules=_HUB,
    ),
    Habit(
        rf"^((?:motor|servo|encoder)\s+\d+\s+{NAME})\s+"
        rf"(?!reversed|brakes|contin)(?=(?P<here>{NAME})(?:\s+(?:reversed|brakes|continuous))*$)",
        r"\1_",
        "a name is one word: `{seen}` is one too many",
        "Join the words of a name with `_`.",
        rules=_HUB,
    ),
    Habit(
        rf"^(command\s+{NAME}\s*\([^()]*?)\s+(?=(?P<here>runs|holds)\b)",
        r"\1) ",
        "a parenthesis is not closed",
        "The numbers that a command takes stand in `(` and `)`.",
        rules=_MECHANISM,
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
        rf"^(command\s+{NAME}\s*\(\s*)({NAME})\s*\)",
        _with_unit,
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
        rf"^(reading\s+{NAME})$",
        r"\1 cm",
        "a reading needs a unit",
        "Its name, then its unit, such as `reading travelled cm from step start`.",
        rules=_MECHANISM,
    ),
    Habit(
        r"\b(?:from|since)\s+(?:the\s+)?(?:step\s+)?(?:start|begin|beginning)(?:\s+of\s+step)?$",
        "from step start",
        "a reading that starts anew in each step is written `from step start`",
        "It is 0 when the step is entered.",
        rules=_MECHANISM,
    ),
    Habit(
        rf"^({NAME})\.setPower\s*\((.*)\)$",
        r"\1 at \2",
        "`{seen}` is a line of Java",
        "Such as `left_wheels at power`, `claw_servo at 80 %` or `arm_motor to height at 60 %`.",
        rules=("command_line",),
    ),
    Habit(
        rf"^({NAME})\s+at\s+({VALUE})\s+(?:at|with)\s+(?={VALUE}$)",
        r"\1 to \2 at ",
        "a place that a motor goes to is written with `to`",
        "Such as `arm_motor to height at 60 %`.",
        rules=("command_line",),
    ),
    Habit(
        rf"^({NAME}\s+to\s+{VALUE})\s+(?:with|by|using)\s+(?:power\s+)?(?={VALUE}$)",
        r"\1 at ",
        "the power is written with `at`",
        "Such as `arm_motor to height at 60 %`.",
        rules=("command_line",),
    ),
    Habit(
        rf"^({NAME})(?:\s*(?:=|:|\bpower\b|\bwith\b)\s*|\s+)(?={VALUE}$)",
        r"\1 at ",
        "what a motor does is written with `at`",
        "Such as `left_wheels at power`, `claw_servo at 80 %` or `arm_motor to height at 60 %`.",
        rules=("command_line",),
    ),
    Habit(
        rf"^({NAME})\s+to\s+(?=-?\d[\d.]*\s*%$)",
        r"\1 at ",
        "a share in percent is written with `at`",
        "A servo stands at a share of its way: `claw_servo at 80 %`. Only a motor goes `to` a "
        "number of ticks.",
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
