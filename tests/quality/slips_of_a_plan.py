"""Ten kinds of slip, made in the text of a routine as people make them.

The kinds are those of the ten most common mistakes in fifty real routines, and what comes after
them: common practice, no source.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from planner.graph import Plan
from planner.model.robot import SensorKind

Lines = list[str]

_TARGET = re.compile(r"\bgo to (\w+)")
_TIME = re.compile(r"\bafter (\d+(?:\.\d+)?) s\b")
_NUMBER = re.compile(r"([<>]=?) (-?\d+(?:\.\d+)?) (\S+?)(?=[,)\s])")
_TURNED = re.compile(r"<=|>=|<|>|\b(?:pressed|released|broken|clear|closed|open)\b")
_OPPOSITES = {
    "<": ">", "<=": ">=", ">": "<", ">=": "<=", "pressed": "released", "released": "pressed",
    "broken": "clear", "clear": "broken", "closed": "open", "open": "closed",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Slip:
    """A routine's text with one slip in it."""

    kind: str
    text: str
    line: int
    """The line it was made in, from 1."""


def slips(text: str, plan: Plan, draw: random.Random, most: int) -> Iterator[Slip]:
    """Up to `most` slips of each kind, the same for the same draw."""
    whole = text.split("\n")
    # Scenarios rehearse the sound plan; they are no part of it.
    end = next((n for n, line in enumerate(whole) if line.startswith("scenario")), len(whole))
    for kind, make in KINDS.items():
        found = list(make(whole[:end], plan))
        for number, lines in draw.sample(found, min(most, len(found))):
            yield Slip(kind, "\n".join(lines) + "\n", number + 1)


Made = Iterator[tuple[int, Lines]]
"""The number of the line, from 0, and all lines."""


def _changed(lines: Lines, number: int, line: str | None) -> tuple[int, Lines]:
    new = [] if line is None else [line]
    return number, [*lines[:number], *new, *lines[number + 1 :]]


def _code(line: str) -> str:
    return line.partition("#")[0]


def _exits(lines: Lines) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(lines):
        if _code(line).split()[:1] in (["when"], ["after"]) and _TARGET.search(line):
            yield number, line


def drop_a_limit(lines: Lines, _plan: Plan) -> Made:
    """A time limit left out."""
    for number, line in _exits(lines):
        if line.split()[0] == "after":
            yield _changed(lines, number, None)


def redirect_an_exit(lines: Lines, plan: Plan) -> Made:
    """An exit that leads to another step."""
    steps = [name for name in plan.routine.steps if "." not in name]
    for number, line in _exits(lines):
        target = _TARGET.search(line)
        if target and target[1] in steps:
            for step in steps:
                if step != target[1]:
                    yield _changed(lines, number, _TARGET.sub(f"go to {step}", line, count=1))


def swap_two_targets(lines: Lines, _plan: Plan) -> Made:
    """Two exits of one step, each with the other's target."""
    for (number, line), (other, next_line) in zip(
        exits := list(_exits(lines)), exits[1:], strict=False
    ):
        one, two = _TARGET.search(line), _TARGET.search(next_line)
        if other == number + 1 and one and two and one[1] != two[1]:
            changed = list(lines)
            changed[number] = _TARGET.sub(f"go to {two[1]}", line, count=1)
            changed[other] = _TARGET.sub(f"go to {one[1]}", next_line, count=1)
            yield number, changed


def negate_a_condition(lines: Lines, _plan: Plan) -> Made:
    """A comparison, or the state of a sensor, the wrong way round."""
    for number, line in _exits(lines):
        code = _code(line)
        for word in re.findall(
            r"<=|>=|<|>|\b(?:pressed|released|broken|clear|closed|open)\b", code
        ):
            turned = re.sub(rf"(?<=\s){word}(?=[\s,)])", _OPPOSITES[word], line, count=1)
            if turned != line:
                yield _changed(lines, number, turned)


def widen_a_threshold(lines: Lines, _plan: Plan) -> Made:
    """A number a hundred times what was meant, most of them beyond what the sensor gives."""
    for number, line in _exits(lines):
        found = _NUMBER.search(_code(line))
        if found and found[3] != "s":
            sign, value, unit = found.groups()
            wide = f"{sign} {float(value) * 100:g} {unit}"
            yield _changed(lines, number, _NUMBER.sub(wide, line, count=1))


def drop_a_keep_off(lines: Lines, plan: Plan) -> Made:
    """What ends a command left out: `stop`, or the end of its step, by a `keep` too many."""
    runs = {
        f"{mechanism.name} {command.name}"
        for mechanism in plan.routine.robot.mechanisms.values()
        for command in mechanism.commands.values()
        if command.runs
    }
    for number, line in enumerate(lines):
        words = _code(line).split()
        if words[1:] == ["stop"]:
            yield _changed(lines, number, None)
        elif " ".join(words[:2]) in runs:
            indent = line[: len(line) - len(line.lstrip())]
            yield _changed(lines, number, f"{indent}keep {line.lstrip()}")


def lengthen_a_limit(lines: Lines, _plan: Plan) -> Made:
    """A time limit ten times as long."""
    for number, line in _exits(lines):
        found = _TIME.search(_code(line))
        if found and line.split()[0] == "after":
            longer = f"after {float(found[1]) * 10:g} s"
            yield _changed(lines, number, _TIME.sub(longer, line, count=1))


def remove_the_cap(lines: Lines, _plan: Plan) -> Made:
    """A counted exit without its count."""
    for number, line in _exits(lines):
        capless = re.sub(r", at most .*", "", _code(line)).rstrip()
        if capless != _code(line).rstrip():
            yield _changed(lines, number, capless)


def swap_sensors(lines: Lines, plan: Plan) -> Made:
    """Another sensor of the same kind asked."""
    words = (SensorKind.TOUCH, SensorKind.SWITCH, SensorKind.BEAM, SensorKind.DISTANCE)
    sensors = [
        s for s in plan.routine.robot.sensors.values() if s.kind in (*words, SensorKind.LIGHT)
    ]
    for number, line in _exits(lines):
        for sensor in sensors:
            for other in sensors:
                if other is not sensor and other.kind is sensor.kind:
                    swapped = re.sub(rf"\b{sensor.name}\b", other.name, line)
                    if swapped != line:
                        yield _changed(lines, number, swapped)


_SWAPPED = (
    *(SensorKind.TOUCH, SensorKind.SWITCH, SensorKind.BEAM),
    *(SensorKind.DISTANCE, SensorKind.LIGHT),
)


def drop_an_arm(lines: Lines, _plan: Plan) -> Made:
    """One of several cases left out."""
    exits = [number for number, line in _exits(lines) if line.split()[0] == "when"]
    for number in exits:
        if {number - 1, number + 1} & set(exits):
            yield _changed(lines, number, None)


KINDS: dict[str, Callable[[Lines, Plan], Made]] = {
    "drop a limit": drop_a_limit,
    "redirect an exit": redirect_an_exit,
    "swap two targets": swap_two_targets,
    "negate a condition": negate_a_condition,
    "widen a threshold": widen_a_threshold,
    "drop a keep-off": drop_a_keep_off,
    "lengthen a limit": lengthen_a_limit,
    "remove the cap": remove_the_cap,
    "swap sensors": swap_sensors,
    "drop an arm": drop_an_arm,
}
