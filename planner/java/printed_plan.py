"""What the template of a plan prints, all decided."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.java.condition_code import MemoryCode
from planner.java.plan_parts import Asked, Parts
from planner.java.settings_code import Constant


@dataclass(frozen=True, slots=True)
class AskedField:
    """A reading, and the fields that hold what it was."""

    asked: Asked
    value: str
    asked_in: str
    at_entry: str


@dataclass(frozen=True, slots=True)
class ExitCode:
    """An exit: the plan's line, the test that opens it, and where it leads."""

    comment: str
    test: str
    enter: str
    why: str
    counter: str = ""
    most: str = ""
    then_enter: str = ""
    then_why: str = ""


@dataclass(frozen=True, slots=True)
class MatchCode:
    """A match-clock exit, which is taken once or counts as taken in its own target."""

    comment: str
    taken: str
    at: str
    target: str
    enter: str
    why: str


@dataclass(frozen=True, slots=True)
class SendCode:
    """A line of the plan that gives a command; `call` is empty where it is not sent (M7, M10)."""

    comment: str
    """The plan's line; empty where the call says all of it."""
    call: str
    not_sent: str = ""
    flags: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StepCode:
    """A step: what entering it does and what it asks."""

    comment: str
    constant: str
    label: str
    is_finish: bool
    enter: str
    ask: str
    memories: tuple[MemoryCode, ...]
    remembered: tuple[AskedField, ...]
    """The readings whose value at entry is kept."""
    ends: tuple[str, ...]
    """The mechanisms that are switched off if the left step ran them only for itself (M7)."""
    sends: tuple[SendCode, ...]
    offs: tuple[str, ...]
    """The statements with which a finish switches off all that still runs (M10)."""
    exits: tuple[ExitCode, ...]


@dataclass(frozen=True, slots=True)
class RunCode:
    """What the plan remembers of a mechanism that runs, for steps and finishes to end it."""

    runs: str
    kept: str
    """Empty where the plan keeps none of its commands."""
    end: str
    """The method that ends what a step ran only for itself; empty where no step needs it."""
    off: str
    """The method that ends it in a finish, however it was started; empty where none needs it."""
    stop: str


@dataclass(frozen=True, slots=True)
class PlanCode:
    """All that the template prints of a plan."""

    type_name: str
    title: str
    limit: str
    limit_comment: str
    parts: Parts
    asked: tuple[AskedField, ...]
    constants: tuple[Constant, ...]
    steps: tuple[StepCode, ...]
    start: str
    matches: tuple[MatchCode, ...]
    runs: tuple[RunCode, ...]
    stops: tuple[str, ...]

    @property
    def uses_parts(self) -> bool:
        """Whether the plan looks at anything or tells anything."""
        return bool(self.parts.asked or self.parts.stops)

    @property
    def memories(self) -> Iterator[MemoryCode]:
        """What all conditions on several passes remember."""
        return (memory for step in self.steps for memory in step.memories)

    @property
    def counters(self) -> Iterator[str]:
        """All counters of counted exits."""
        return (exit_.counter for step in self.steps for exit_ in step.exits if exit_.counter)
