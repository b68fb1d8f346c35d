"""A scenario: what the sensors do in a run, and what must be seen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from planner.model.units import Amount
from planner.text import Place

DEFAULT_PASS_US = 20_000
"""How long a pass of a scenario lasts where it does not say."""


@dataclass(frozen=True, slots=True)
class Cue:
    """From a moment on, a reading gives a value.

    The moment is `at_us` on the match clock or, with a step, `at_us` after each entry to it. The
    value is a word, a number in the reading's own unit, True or False for `done`, or None for a
    reading that cannot be had.
    """

    step: str
    at_us: int
    reading: str
    value: Amount | str | bool | None
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Ramp:
    """Between two moments, told as for a cue, a reading goes evenly from one number to another."""

    step: str
    start_us: int
    end_us: int
    reading: str
    low: Amount
    high: Amount
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MustVisit:
    """The steps are entered in this order, others perhaps in between."""

    steps: tuple[str, ...]
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MustFinish:
    """The finish is reached, by `by_us` on the match clock if that is given."""

    finish: str | None
    """None where any will do."""
    by_us: int | None
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MustBeCutOff:
    """The routine's limit cuts the run off outside of a finish."""

    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MustGive:
    """A command is sent, or never sent, to a mechanism."""

    mechanism: str
    command: str
    negated: bool
    place: Place = field(compare=False)
    arguments: tuple[Amount, ...] | None = None
    """The numbers it is sent with, exact; None where any will do."""


Demand: TypeAlias = MustVisit | MustFinish | MustBeCutOff | MustGive


@dataclass(frozen=True, slots=True)
class Scenario:
    """One rehearsed run of a routine."""

    name: str
    title: str
    pass_us: int
    cues: tuple[Cue, ...]
    ramps: tuple[Ramp, ...]
    demands: tuple[Demand, ...]
    place: Place = field(compare=False)
    incomplete: bool = False
    """True where a line of it could not be made sense of, so that it cannot be played."""
    choices: Mapping[str, str | Amount] = field(default_factory=dict)
    """What is chosen; what is left out is as normal."""
