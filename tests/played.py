"""Plays a routine on the reference machine, for tests: a trace goes in, short lines come out."""

from __future__ import annotations

from collections.abc import Iterable

from demo import moth_robot

from planner.graph.run import (
    Commanded,
    Counted,
    Entered,
    Event,
    Finished,
    Left,
    LimitReached,
    Remembered,
    Stopped,
    SwitchedOff,
)
from planner.pipeline import check_routine
from planner.rehearsal import Machine, Readings
from planner.text import Source

HEAD = "routine example\nrobot moth\nlimit 30 s\nstart A\n"


def machine(text: str) -> Machine:
    """A machine for a routine on the Moth; the first lines are put in front where they are not.

    A `; ` stands for a line end and an indentation, so that a step fits on one line of a test.
    """
    whole = text if text.startswith("routine") else HEAD + text.replace("; ", "\n  ")
    checked = check_routine(Source("example.routine", whole), lambda _name: moth_robot())
    return Machine(checked.plan)


def played(text: str, trace: Iterable[tuple[int, Readings]]) -> list[str]:
    """What a routine does on a trace of passes, each at a time in ms and with readings."""
    running = machine(text)
    return [spoken(e) for at_ms, readings in trace for e in running.pass_(at_ms * 1000, readings)]


def spoken(event: Event) -> str:
    """An event in a few words, its time in ms."""
    at = f"{event.at_us // 1000}"
    match event:
        case Entered(_, step):
            return f"{at} enter {step}"
        case Left(_, step, exit_):
            return f"{at} leave {step} by {exit_.kind.value}"
        case Commanded(_, mechanism, command, arguments):
            numbers = "".join(f" {amount}" for amount in arguments)
            return f"{at} {mechanism} {command}{numbers}"
        case SwitchedOff(_, mechanism):
            return f"{at} {mechanism} off"
        case Remembered(_, memory, value):
            return f"{at} memory {memory} is {value}"
        case Counted(_, counter, number):
            return f"{at} counter {counter} is {number}"
        case Finished(_, step):
            return f"{at} finish {step}"
        case LimitReached(_, step, cut_off):
            return f"{at} limit in {step}{' cut off' if cut_off else ''}"
        case Stopped(_, step):
            return f"{at} stop in {step}"
