"""The names that the text around a line offers, so that what is pasted speaks of the same plan."""

from __future__ import annotations

import re
from bisect import bisect
from collections import Counter
from functools import lru_cache
from itertools import takewhile

from planner.model import Robot
from planner.model.robot import STATES, Mechanism, SensorKind
from planner.text import Place, Source
from planner.tree.announced import names_led_to
from planner.tree.rows import indent_of, split_comment
from planner.tree.shapes import HEAD_OF

NEXT, HOME = "NextStep", "GiveUp"
"""What patterns write for the step that comes next, and for the one to give up in."""
MOST_NAMES = 200
"""A plan with more names than these was written by a program, and no finger slipped."""
NAMELESS = "Name"
"""What patterns write where a heading has a title and no name."""

_HEADS = "|".join(word for word in HEAD_OF.values() if word not in ("scenario", "command"))
_HEAD = re.compile(rf"(\s*)({_HEADS})\s+([A-Za-z_]\w*)", re.ASCII)
_KEPT = re.compile(r"\s*(memory|counter|choose|lane)\s+([A-Za-z_]\w*)", re.ASCII)
_USES = re.compile(r"\s*uses\s+([\w, \t]+)", re.ASCII)
_ENDS = re.compile(r"\bends\s+([\w, \t]+)", re.ASCII)
_LIMIT = re.compile(r"\s*after\b.*\bgo\s+to\s+([A-Za-z_]\w*)", re.ASCII)


@lru_cache(maxsize=16)
def _heads(source: Source) -> tuple[tuple[int, str, str], ...]:
    """Line, first word and name of every heading."""
    heads = []
    for number, line in enumerate(source.lines, start=1):
        head = _HEAD.match(line)
        if head:
            word = head.group(2)
            # A step that stands deeper than its task is the task's own.
            heads.append((number, f"inner {word}" if head.group(1) else word, head.group(3)))
    return tuple(heads)


@lru_cache(maxsize=16)
def _limits(source: Source) -> Counter[str]:
    return Counter(found.group(1) for line in source.lines if (found := _LIMIT.match(line)))


def declared(place: Place, *words: str) -> list[str]:
    """The names that headings with one of these first words declare, as the text has them."""
    heads = _heads(place.source)
    return [name for _, word, name in heads if word.removeprefix("inner ") in words]


def kept(place: Place, word: str) -> tuple[str, ...]:
    """The names behind one of the words `memory`, `counter`, `choose` or `lane`, as the text has
    them; none of a text with more than a person gives."""
    names = _kept(place.source).get(word, ())
    return names if len(names) <= MOST_NAMES else ()


@lru_cache(maxsize=16)
def _kept(source: Source) -> dict[str, tuple[str, ...]]:
    found: dict[str, dict[str, None]] = {}
    for line in source.lines:
        if head := _KEPT.match(line):
            found.setdefault(head.group(1), {})[head.group(2)] = None
    return {word: tuple(names) for word, names in found.items()}


def steps_around(place: Place) -> tuple[tuple[int, str, str], ...]:
    """The steps that the line of a place can lead to: line, word, name. A task has its own, and so
    has a lane, which can also come to its end."""
    heads = _heads(place.source)
    number = bisect(heads, place.line, key=lambda head: head[0]) - 1
    while number >= 0 and heads[number][1].startswith("inner"):
        number -= 1
    inside = number >= 0 and heads[number][1] == "task"
    steps = _steps_in_task(place.source, number) if inside else _steps_outside(place.source)
    lanes = spans(place.source, "lane")
    own = next((lane for lane in lanes if place.line in lane), range(0))
    outside = [step for step in steps if not any(step[0] in lane for lane in lanes)]
    in_own = [step for step in steps if step[0] in own]
    return (*in_own, *([(own[-1] + 1, "step", "done")] if own else ()), *outside)


@lru_cache(maxsize=16)
def spans(source: Source, word: str) -> tuple[range, ...]:
    """The lines of each heading of that word with what stands under it, as numbers."""
    found = []
    for number, line in enumerate(source.lines, start=1):
        if line.split()[:1] == [word]:
            end = number + 1
            while end <= len(source.lines) and _stands_under(source.line(end), line):
                end += 1
            found.append(range(number, end))
    return tuple(found)


def _stands_under(line: str, head: str) -> bool:
    return not line.strip() or indent_of(line) > indent_of(head)


@lru_cache(maxsize=64)
def _steps_in_task(source: Source, number: int) -> tuple[tuple[int, str, str], ...]:
    """The steps and outcomes of the task whose heading has that number."""
    heads = _heads(source)
    start = heads[number][0]
    inner = tuple(takewhile(lambda head: head[1].startswith("inner"), heads[number + 1 :]))
    ends = _ENDS.search(split_comment(source.line(start))[0])
    ways = re.findall(r"\w+", ends.group(1)) if ends else []
    end = inner[-1][0] + 1 if inner else start
    return (*inner, *((end, "finish", outcome) for outcome in ways))


@lru_cache(maxsize=16)
def _steps_outside(source: Source) -> tuple[tuple[int, str, str], ...]:
    """The steps and finishes that are in no task."""
    found = []
    in_task = False
    for head in _heads(source):
        in_task = head[1] == "task" or (in_task and head[1].startswith("inner"))
        if not in_task and head[1].endswith(("step", "finish")):
            found.append(head)
    return tuple(found)


def home(place: Place) -> str:
    """The finish that most time limits lead to; a made-up one where the plan has none."""
    limits = _limits(place.source)
    finishes = [name for _, word, name in reversed(steps_around(place)) if word == "finish"]
    if HOME in finishes:
        return HOME
    return max(finishes, key=lambda name: limits[name], default=HOME)


def next_step(place: Place) -> str:
    """The step that follows a line in the text; a made-up one where the plan has no other."""
    steps = steps_around(place)
    below = [name for line, _, name in steps if line > place.line]
    return below[0] if below else home(place) if steps else NEXT


def undeclared(place: Place) -> list[str]:
    """The names that are led to, and no heading declares."""
    known = {*declared(place, "step", "finish", "group"), *outcomes(place)}
    return sorted(names_led_to(place.source) - known)


def outcomes(place: Place) -> tuple[str, ...]:
    """The outcomes of all tasks."""
    return _outcomes(place.source)


@lru_cache(maxsize=16)
def _outcomes(source: Source) -> tuple[str, ...]:
    found = (_ENDS.search(line) for line in source.lines if line.startswith("task"))
    return tuple(word for ends in found if ends for word in re.findall(r"\w+", ends.group(1)))


def every_name(place: Place, robot: Robot) -> tuple[str, ...]:
    """Every name that a line may speak of: of the robot, of steps and of settings.

    Of a plan with more names than a person gives, those of the robot alone.
    """
    of_robot = (*robot.sensors, *robot.outputs, *robot.mechanisms)
    own = _names_in(place.source)
    return tuple(dict.fromkeys((*of_robot, *(own if len(own) <= MOST_NAMES else ()))))


@lru_cache(maxsize=16)
def _names_in(source: Source) -> tuple[str, ...]:
    uses = (_USES.match(line) for line in source.lines)
    used = [name for line in uses if line for name in re.findall(r"\w+", line.group(1))]
    heads = ("step", "finish", "group", "task", "setting")
    own = [head[2] for head in _heads(source) if head[1].removeprefix("inner ") in heads]
    return tuple(dict.fromkeys((*used, *own, *sorted(names_led_to(source)))))


def reporting_above(place: Place, robot: Robot) -> list[str]:
    """The mechanisms told above a line in its step that report done, the last told first."""
    found = []
    for line in reversed(place.source.lines[: place.line - 1]):
        words = [word for word in split_comment(line)[0].split() if word != "keep"]
        if words[:1] == ["step"]:
            break
        mechanism = robot.mechanisms.get(words[0]) if len(words) > 1 else None
        command = mechanism.commands.get(words[1]) if mechanism else None
        if mechanism and command and command.reports_done:
            found.append(mechanism.name)
    return found


@lru_cache(maxsize=16)
def _words_in(source: Source) -> frozenset[str]:
    return frozenset(word for line in source.lines for word in line.split())


def some_condition(place: Place, robot: Robot) -> str:
    """A condition on a sensor, one that the plan asks if possible; empty where there is none."""
    spoken = _words_in(place.source)
    for sensor in sorted(robot.sensors.values(), key=lambda sensor: sensor.name not in spoken):
        if sensor.kind in STATES:
            return f"{sensor.name} {STATES[sensor.kind][0]}"
    for sensor in robot.sensors.values():
        if sensor.kind in (SensorKind.COLOUR, SensorKind.CAMERA):
            return f"{sensor.name} sees {sensor.values[0]}"
    return next(
        (
            f"{mechanism.name} done"
            for mechanism in robot.mechanisms.values()
            if mechanism.reports_done
        ),
        "",
    )


def some_command(robot: Robot, of: Mechanism | None = None) -> str:
    """A command that the robot, or one mechanism, has; with numbers only if there is no other."""
    owners = (of,) if of else tuple(robot.mechanisms.values())
    known = [(m.name, c) for m in owners for c in m.commands.values()]
    known.sort(key=lambda pair: (pair[1].name == "stop", len(pair[1].parameters)))
    for owner, command in known:
        numbers = [SAMPLES.get(p.unit.name, f"20 {p.unit.name}") for p in command.parameters]
        return f"{owner} {command.name} {', '.join(numbers)}".strip()
    return ""


SAMPLES = {"%": "40 %", "s": "2 s", "deg": "90 deg", "cm": "20 cm", "ticks": "1200 ticks"}
"""A number in each of the commonest units, to show."""


def lines_above(place: Place) -> range:
    """The numbers of the lines above a place that stand in its step."""
    lines = place.source.lines
    for number in range(place.line - 1, 0, -1):
        if lines[number - 1].split()[:1] in (["step"], ["finish"], ["group"]):
            return range(number + 1, place.line)
    return range(1, place.line)
