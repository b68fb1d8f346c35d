"""What is chosen before the start: declared once, so that one file is every variant."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product
from typing import TypeAlias

from planner.model.units import Amount
from planner.text import Place

MOST_VARIANTS = 64
"""How many combinations of choices a routine may have; every one of them is checked."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of several words; the first is chosen where nobody chooses."""

    name: str
    values: tuple[str, ...]
    mirroring: frozenset[str]
    """The values that turn the plan round: what is declared to mirror changes its sign."""
    place: Place = field(compare=False)

    @property
    def ends(self) -> tuple[str, ...]:
        """The values that a check goes through."""
        return self.values


@dataclass(frozen=True, slots=True)
class RangeChoice:
    """A number between two; `normal` is chosen where nobody chooses."""

    name: str
    low: Amount
    high: Amount
    normal: Amount
    place: Place = field(compare=False)

    @property
    def ends(self) -> tuple[Amount, ...]:
        """The values that a check goes through: the lowest and the highest."""
        return (self.low, self.high) if self.low != self.high else (self.low,)


AnyChoice: TypeAlias = Choice | RangeChoice
Variant: TypeAlias = Mapping[str, str | Amount]
"""A value for each choice, by its name."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """The choices of a routine and what was chosen; `variant` is None for every choice at once."""

    choices: Mapping[str, AnyChoice] = field(default_factory=dict)
    variant: Variant | None = None

    @property
    def mirrored(self) -> bool:
        """Whether the plan is turned round: an odd number of the chosen values mirror."""
        chosen = self.variant or {}
        turned = [
            chosen.get(name) in choice.mirroring
            for name, choice in self.choices.items()
            if isinstance(choice, Choice)
        ]
        return sum(turned) % 2 == 1

    def value(self, name: str) -> str | Amount:
        """What was chosen, or what holds where nobody chooses."""
        chosen = (self.variant or {}).get(name)
        return normal_variant(self.choices)[name] if chosen is None else chosen


def normal_variant(choices: Mapping[str, AnyChoice]) -> dict[str, str | Amount]:
    """What holds where nobody chooses."""
    return {
        name: choice.values[0] if isinstance(choice, Choice) else choice.normal
        for name, choice in choices.items()
    }


def as_words(variant: Variant) -> tuple[tuple[str, str], ...]:
    """Each choice with its word or number, as a scenario writes them."""
    return tuple((name, str(value)) for name, value in variant.items())


def variants(choices: Mapping[str, AnyChoice]) -> Iterator[dict[str, str | Amount]]:
    """Every combination of values, ranges by their ends; the first `MOST_VARIANTS` of them."""
    ends: list[tuple[str | Amount, ...]] = [choice.ends for choice in choices.values()]
    for _, values in zip(range(MOST_VARIANTS), product(*ends), strict=False):
        yield dict(zip(choices, values, strict=True))
