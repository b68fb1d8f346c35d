"""A run: what happened in a match, as a list of events that every room can replay."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from planner.graph.unfold import Exit
from planner.model.routine import Rule
from planner.model.units import Amount


@dataclass(frozen=True, slots=True)
class Entered:
    """A step became active."""

    at_us: int
    step: str


@dataclass(frozen=True, slots=True)
class Left:
    """A step was left by one of its exits."""

    at_us: int
    step: str
    exit: Exit


@dataclass(frozen=True, slots=True)
class Commanded:
    """A mechanism was sent a command."""

    at_us: int
    mechanism: str
    command: str
    arguments: tuple[Amount, ...] = ()
    rule: Rule | None = None
    """The side rule that gave it (M12); None for the command of a step."""


@dataclass(frozen=True, slots=True)
class SwitchedOff:
    """A mechanism that ran was switched off."""

    at_us: int
    mechanism: str


@dataclass(frozen=True, slots=True)
class Remembered:
    """A memory was told a value: a number in its own unit, or one of its words (M13).

    `at_us` is 0 for what was seen before the start.
    """

    at_us: int
    memory: str
    value: Amount | str


@dataclass(frozen=True, slots=True)
class Counted:
    """A counter was counted, and stands at `number` now (M14)."""

    at_us: int
    counter: str
    number: int


@dataclass(frozen=True, slots=True)
class Finished:
    """A finish was entered (M10)."""

    at_us: int
    step: str


@dataclass(frozen=True, slots=True)
class LimitReached:
    """The routine's limit switched everything off (M11); `cut_off` outside of a finish."""

    at_us: int
    step: str
    cut_off: bool


@dataclass(frozen=True, slots=True)
class Stopped:
    """The operator's stop switched everything off (M11)."""

    at_us: int
    step: str


Event: TypeAlias = (
    Entered | Left | Commanded | SwitchedOff | Remembered | Counted
    | Finished | LimitReached | Stopped
)  # fmt: skip
"""Times are whole microseconds on the match clock."""
