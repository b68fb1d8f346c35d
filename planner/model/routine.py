"""What a routine is: steps, what each does and where its exits lead."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from planner.model.condition import Condition
from planner.model.robot import Command, Mechanism, Robot
from planner.model.scenario import Scenario
from planner.model.units import Amount
from planner.text import Place


@dataclass(frozen=True, slots=True)
class Given:
    """A command given on entry to a step (M7)."""

    mechanism: Mechanism
    command: Command
    arguments: tuple[Amount, ...]
    keep: bool
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Count:
    """At most `most` times the exit's target, then `then` (M9)."""

    most: int
    then: str


@dataclass(frozen=True, slots=True)
class WhenExit:
    """Left when a condition is true."""

    condition: Condition
    target: str
    count: Count | None
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class AfterExit:
    """Left when the step's clock is at or past `limit_us` (M2)."""

    limit_us: int
    target: str
    count: Count | None
    place: Place = field(compare=False)
    setting: str = ""


StepExit: TypeAlias = WhenExit | AfterExit


@dataclass(frozen=True, slots=True)
class MatchExit:
    """Leads to `target` once the match clock is at or past `at_us`, from any other step (M4)."""

    at_us: int
    target: str
    place: Place = field(compare=False)
    setting: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """A step or a finish. Targets are names of steps of the same routine, or the exit is left out.

    `incomplete` is true where a line of the step could not be made sense of, so that nothing may
    be concluded from what the step lacks. `perhaps` are the steps such lines name, and those of
    exits that had to be left out.
    """

    name: str
    title: str
    is_finish: bool
    commands: tuple[Given, ...]
    whens: tuple[WhenExit, ...]
    afters: tuple[AfterExit, ...]
    place: Place = field(compare=False)
    incomplete: bool = False
    perhaps: frozenset[str] = frozenset()

    @property
    def exits(self) -> tuple[StepExit, ...]:
        """The step's own exits in the order they are asked (M4)."""
        return (*self.whens, *sorted(self.afters, key=lambda after: after.limit_us))

    @property
    def label(self) -> str:
        """The title, or the name where there is none."""
        return self.title or self.name


@dataclass(frozen=True, slots=True)
class SettingValue:
    """A named number of the routine."""

    name: str
    amount: Amount
    place: Place = field(compare=False)
    used: bool = True


@dataclass(frozen=True, slots=True)
class Routine:
    """A whole routine with its names resolved."""

    name: str
    title: str
    robot: Robot
    limit_us: int
    settings: Mapping[str, SettingValue]
    match_exits: tuple[MatchExit, ...]
    """Earliest first."""
    start: str
    """The name of a step; empty where the text names none that exists."""
    steps: Mapping[str, Step]
    """Steps and finishes by name, as written."""
    place: Place = field(compare=False)
    incomplete: bool = False
    """True where a line outside of the steps could not be made sense of."""
    perhaps: frozenset[str] = frozenset()
    """The steps that such lines name, which something may lead to all the same; all steps where
    an exit that could not be read names none."""
    scenarios: tuple[Scenario, ...] = ()

    @property
    def finishes(self) -> tuple[Step, ...]:
        """The steps that end the routine."""
        return tuple(step for step in self.steps.values() if step.is_finish)
