"""Requirements: what every run of a plan must keep to (M15).

The four kinds follow Dwyer, Avrunin and Corbett, "Patterns in property specifications for
finite-state verification", ICSE 1999: existence, bounded by a time; absence; precedence; response.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

from planner.model.memory import Computed, Number
from planner.model.units import Amount, Shares
from planner.text import Place


@dataclass(frozen=True, slots=True)
class Told:
    """A mechanism is sent a command, and follows it until it is sent another or switched off."""

    mechanism: str
    command: str
    arguments: tuple[Amount, ...] | None
    """The numbers it is given; None where any will do."""
    place: Place = field(compare=False)

    @property
    def spoken(self) -> str:
        """As the plan wrote it."""
        return " ".join(self.place.words.split())

    def fits(self, command: str, arguments: tuple[Number, ...]) -> bool:
        """Whether a command to its mechanism is, or may be, the one that it speaks of.

        What is sent is known; a number that is worked out on the way may be any.
        """
        if command != self.command or self.arguments is None:
            return command == self.command
        return all(
            isinstance(other, Computed) or one.base == other.base
            for one, other in zip(self.arguments, arguments, strict=True)
        )


@dataclass(frozen=True, slots=True)
class Inside:
    """A step, a group or a task is entered, and is active until it is left."""

    name: str
    """As the plan wrote it."""
    steps: frozenset[str]
    """The whole names of all the steps that are meant."""
    groups: frozenset[str]
    """The groups that are meant, with `steps` standing in them; empty for a plain step."""
    place: Place = field(compare=False)

    @property
    def spoken(self) -> str:
        """As the plan wrote it."""
        return f"in {self.name}"


Happening: TypeAlias = Told | Inside


@dataclass(frozen=True, slots=True)
class FinishedBy:
    """A finish is entered at `by_us` on the match clock or before."""

    by_us: int
    place: Place = field(compare=False)
    chosen: Shares = field(default=(), compare=False)
    """How much of the time goes by what is chosen, as for an `Amount`."""


@dataclass(frozen=True, slots=True)
class NeverWhile:
    """There is no pass in which both are on."""

    one: Happening
    other: Happening
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class OnlyAfter:
    """Whenever `later` begins, `earlier` was on in an earlier pass."""

    later: Happening
    earlier: Happening
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class LeadsTo:
    """Whenever `cause` begins, `effect` is on in that pass or one at most `within_us` later."""

    cause: Happening
    effect: Happening
    within_us: int
    place: Place = field(compare=False)
    chosen: Shares = field(default=(), compare=False)
    """As for `FinishedBy`."""


Requirement: TypeAlias = FinishedBy | NeverWhile | OnlyAfter | LeadsTo


def happenings(requirement: Requirement) -> tuple[Happening, ...]:
    """What a requirement speaks of, as written."""
    match requirement:
        case FinishedBy():
            return ()
        case NeverWhile(one, other) | OnlyAfter(one, other) | LeadsTo(one, other):
            return (one, other)
