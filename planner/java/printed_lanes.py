"""What the template of a plan prints of lanes that run side by side, all decided (M8)."""

from __future__ import annotations

from dataclasses import dataclass

from planner.java.printed_exit import MatchCode


@dataclass(frozen=True, slots=True)
class LaneCode:
    """A lane of a block: where it is, and how its step is asked (M8)."""

    comment: str
    field: str
    name: str
    """Its own name, a literal."""
    ask: str
    asks: tuple[tuple[str, str], ...]
    """The constants of its steps and the methods that ask them."""
    matches: tuple[MatchCode, ...]
    """Match-clock exits that count as taken when their time comes in their own target."""
    is_asked_about: bool
    """Whether a condition looks at where it is."""


@dataclass(frozen=True, slots=True)
class BlockCode:
    """What the step that stands for a block does with its lanes, in the order of the plan."""

    lanes_field: str
    lanes: tuple[LaneCode, ...]
    firsts: tuple[str, ...]
    """The methods that enter the first step of each."""
    why: str


@dataclass(frozen=True, slots=True)
class ToldCode:
    """Something that a mechanism is told at the end of the pass, in a plan with lanes."""

    method: str
    parameters: str
    order: str
    """The field that holds the last that its mechanism was told."""
    constant: str
    numbers: tuple[tuple[str, str], ...]
    """The fields that hold its numbers, and the parameters that they come from."""

    @property
    def arguments(self) -> str:
        """What it is sent with."""
        return ", ".join(field for field, _ in self.numbers)
