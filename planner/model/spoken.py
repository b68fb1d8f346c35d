"""Conditions and commands in the words of the language, for reports, pictures and Java."""

from __future__ import annotations

from planner.model.condition import (
    All,
    Answers,
    Any,
    ChoiceIs,
    Compare,
    Condition,
    CounterCompare,
    Done,
    Fixed,
    Held,
    LaneIn,
    LanesDone,
    Looks,
    MatchClock,
    MemoryCompare,
    MemoryIs,
    Not,
    Once,
    Reckoned,
    Steady,
    Unreadable,
    Unresolved,
    Within,
)
from planner.model.memory import Counting, Remember
from planner.model.robot import STATES, Sensor
from planner.model.routine import Given
from planner.model.units import seconds_text

# What needs parentheses in front of `for`, with a time or a number of looks.
_LOOSER = (Held, Looks, Not, Once, All, Any)


def spoken_condition(condition: Condition) -> str:
    """A condition as a plan would write it."""
    match condition:
        case Compare(source, operator, threshold):
            return f"{source.spoken} {operator} {threshold.written}"
        case Within(source, tolerance, centre):
            reach = f"{tolerance.written} of {centre.written}"
            return f"{source.spoken} within {reach}"
        case Answers(sensor, value):
            sees = "" if sensor.kind in STATES else "sees "
            return f"{sensor.name} {sees}{value}"
        case Done(mechanism):
            return f"{mechanism.name} done"
        case Steady(source, tolerance, duration_us):
            reach = f"{tolerance.written} for {seconds_text(duration_us)}"
            return f"{source.spoken} stays within {reach}"
        case Unreadable(source):
            return f"{source.spoken} unreadable"
        case MatchClock(operator, at_us):
            return f"match {operator} {seconds_text(at_us)}"
        case ChoiceIs(choice, value):
            return f"choice {choice} is {value}"
        case Fixed(asked):
            return spoken_condition(asked)
        case LanesDone() | LaneIn():
            return condition.spoken
        case Reckoned(source, operator, number, None):
            return f"{source.spoken} {operator} {number.written}"
        case Reckoned(source, operator, number, tolerance):
            assert tolerance is not None, "without one it is a comparison"
            return f"{source.spoken} {operator} {tolerance.written} of {number.written}"
        case MemoryIs(memory, value):
            return f"memory {memory.name} is {value}"
        case MemoryCompare(memory, operator, number):
            return f"memory {memory.name} {operator} {number.written}"
        case CounterCompare(counter, operator, times):
            return f"counter {counter.name} {operator} {times}"
        case Not(part):
            return f"not {_wrapped(part, Not, All, Any)}"
        case Once(part):
            return f"once {_wrapped(part, Not, Once, All, Any)}"
        case Held(part, duration_us):
            return f"{_wrapped(part, *_LOOSER)} for {seconds_text(duration_us)}"
        case Looks(part, least, looks):
            return f"{_wrapped(part, *_LOOSER)} for {least} of {looks} looks"
        case All(parts):
            return " and ".join(_wrapped(part, All, Any) for part in parts)
        case Any(parts):
            return " or ".join(_wrapped(part, Any) for part in parts)
        case Unresolved(place):
            return place.words


def spoken_command(given: Given) -> str:
    """A given command as a plan would write it."""
    arguments = ", ".join(amount.written for amount in given.arguments)
    keep = "keep " if given.keep else ""
    return f"{keep}{given.mechanism.name} {given.command.name} {arguments}".rstrip()


def spoken_remember(remember: Remember) -> str:
    """What is remembered as a plan would write it."""
    value = remember.value
    said = value.name if isinstance(value, Sensor) else value
    return f"remember {said if isinstance(said, str) else said.written} as {remember.memory.name}"


def spoken_counting(counting: Counting) -> str:
    """How a counter changes as a plan would write it."""
    way = {-1: "down", 1: "up"}.get(counting.by, f"from {counting.to}")
    return f"count {counting.counter.name} {way}"


def _wrapped(part: Condition, *kinds: type) -> str:
    text = spoken_condition(part)
    return f"({text})" if isinstance(part, kinds) else text
