"""The small things of a line that is offered: units that were left out, names misspelt."""

from __future__ import annotations

import re
from functools import lru_cache

from planner.checks.plan_names import every_name, outcomes
from planner.checks.sides import opposite
from planner.findings import nearest
from planner.model import Robot
from planner.model.robot import COLOURS, STATES
from planner.model.units import UNITS
from planner.text import Place
from planner.tree.language import ROUTINE
from planner.tree.shapes import HEAD_OF

_TIME = re.compile(r"^((?:in \w+, )?(?:after|at|pass) )(\d+(?:\.\d+)?)(?=,|$)")
_SAID = re.compile(r"(?<=, )(\w+) is (pressed|released|closed|open|broken|clear|done|unreadable)$")
_GIVEN = re.compile(r"^(?:keep )?(\w+) (\w+) (.+)$")
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_WORD = re.compile(r"(?<![\w\"])[A-Za-z_]\w+(?![\w\"])", re.ASCII)


def with_units(line: str, robot: Robot) -> str:
    """A line with the units that its numbers most probably have, where the plan can tell."""
    line = _SAID.sub(r"\1 \2", line)
    line = _TIME.sub(lambda time: f"{time.group(1)}{_time(time.group(2), line)}", line)
    given = _GIVEN.match(line)
    mechanism = robot.mechanisms.get(given.group(1)) if given else None
    command = mechanism.commands.get(given.group(2)) if mechanism and given else None
    if given is None or command is None:
        return line
    numbers = [number.strip() for number in given.group(3).split(",")]
    if len(numbers) != len(command.parameters):
        return line
    wanted = [parameter.unit.name for parameter in command.parameters]
    whole = [
        f"{number} {unit}" if _NUMBER.fullmatch(number) else number
        for number, unit in zip(numbers, wanted, strict=True)
    ]
    return line[: given.start(3)] + ", ".join(whole)


def _time(number: str, line: str) -> str:
    """A number of seconds; of milliseconds where it is large, or where a pass is meant."""
    small = float(number) < 100 and not line.startswith("pass")
    return f"{number} {'s' if small else 'ms'}"


def with_names(line: str, place: Place, robot: Robot) -> str:
    """A line with its misspelt names as they are declared; titles and comments stay."""
    names = every_name(place, robot)
    of_robot = (
        word
        for mechanism in robot.mechanisms.values()
        for word in (*mechanism.commands, *mechanism.readings)
    )
    known = {*names, *of_robot, *outcomes(place), *UNITS, *COLOURS, *language_words()}
    known.update(*STATES.values(), *(sensor.values for sensor in robot.sensors.values()))

    def right(word: re.Match[str]) -> str:
        if word.group() in known:
            return word.group()
        near = [n for n in nearest(word.group(), names) if not opposite(word.group(), n)]
        return near[0] if near else word.group()

    code, quote, rest = (
        re.split('(["#])', line, maxsplit=1)
        if re.search('["#]', line)
        else (
            line,
            "",
            "",
        )
    )
    # What follows the word of a heading is a name, and the team's own.
    if code.split()[:1] and code.split()[0] in HEAD_OF.values():
        return line
    return _WORD.sub(right, code) + quote + rest


@lru_cache
def language_words() -> frozenset[str]:
    """The fixed words of the language of plans."""
    words: set[str] = set()
    for terminal in ROUTINE.lark.terminals:
        words.update(re.findall(r"^[a-z]+$", terminal.pattern.value))
    return frozenset(words)
