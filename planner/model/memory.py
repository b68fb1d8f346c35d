"""What a routine remembers while it runs, and numbers that are worked out from it (M13, M14).

For whoever builds on this: a word memory is discrete state with as many values as it has words, a
counter one with `high - low + 1` values. A number memory holds whatever a sensor said, so that
nothing is known of it but its unit. All three start with the routine and belong to it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TypeAlias

from planner.model.robot import Reading, Sensor
from planner.model.units import Amount, Dimension, Unit
from planner.text import Place


@dataclass(frozen=True, slots=True)
class NumberMemory:
    """A number that is remembered, in the unit of `first`, which it is at the start."""

    name: str
    first: Amount
    place: Place = field(compare=False)

    @property
    def unit(self) -> Unit:
        """The unit it is held in."""
        return self.first.unit

    @property
    def spoken(self) -> str:
        """How a plan names it."""
        return self.name


@dataclass(frozen=True, slots=True)
class WordMemory:
    """One of some words; the first is what it is at the start.

    `seen_by` is the camera or colour sensor whose answers it takes in until the start; None where
    there is none.
    """

    name: str
    words: tuple[str, ...]
    seen_by: Sensor | None
    place: Place = field(compare=False)

    @property
    def first(self) -> str:
        """What it is at the start."""
        return self.words[0]


@dataclass(frozen=True, slots=True)
class Counter:
    """A whole number that stays within `low` and `high`; `normal` is what it is at the start."""

    name: str
    low: int
    high: int
    normal: int
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Table:
    """A setting that goes by a word memory: a number, all of one dimension, for each word."""

    name: str
    memory: WordMemory
    rows: Mapping[str, Amount] = field(hash=False)
    place: Place = field(compare=False)
    used: bool = True

    @property
    def unit(self) -> Unit:
        """The unit of its first row."""
        return self.rows[self.memory.first].unit


Memory: TypeAlias = NumberMemory | WordMemory | Counter
Looked: TypeAlias = NumberMemory | Table | Sensor | Reading
"""What a number is worked out from: what is remembered, or, in `remember` alone, a reading."""


@dataclass(frozen=True, slots=True)
class Part:
    """`factor` times what something holds in a pass."""

    factor: Fraction
    of: Looked


@dataclass(frozen=True, slots=True)
class Computed:
    """A number that is worked out in the pass that needs it: `fixed` and all `parts` added up.

    It is in the unit of `fixed`; the parts are of the same dimension, each in a unit of its own.
    """

    fixed: Amount
    parts: tuple[Part, ...]
    words: str = field(compare=False)
    """As the plan wrote it."""
    turned: bool = field(default=False, compare=False)
    """Whether it stands with the other sign than the plan wrote, since a choice turns it round."""

    @property
    def unit(self) -> Unit:
        """The unit it is worked out in."""
        return self.fixed.unit

    @property
    def dimension(self) -> Dimension:
        """What it measures."""
        return self.fixed.dimension

    @property
    def written(self) -> str:
        """As the plan would write it."""
        words = f"({self.words})" if " " in self.words else self.words
        return f"-{words}" if self.turned else self.words

    def negated(self) -> Computed:
        """The same number with the other sign."""
        parts = tuple(Part(-part.factor, part.of) for part in self.parts)
        return replace(self, fixed=self.fixed.negated(), parts=parts, turned=not self.turned)


Number: TypeAlias = Amount | Computed
"""A number of a step: known before the start, or worked out when it is needed."""


@dataclass(frozen=True, slots=True)
class Stand:
    """A task's number that was given as something worked out: the name stands for it."""

    name: str
    number: Computed
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Remember:
    """What is remembered in the pass that leaves a step (M13).

    `value` is a number, the sensor whose answer is remembered, or a word.
    """

    memory: NumberMemory | WordMemory
    value: Number | Sensor | str
    place: Place = field(compare=False)

    @property
    def readings(self) -> tuple[Sensor | Reading, ...]:
        """What it looks at when the step is left."""
        if isinstance(self.value, Sensor):
            return (self.value,)
        if not isinstance(self.value, Computed):
            return ()
        return tuple(part.of for part in self.value.parts if isinstance(part.of, Sensor | Reading))


@dataclass(frozen=True, slots=True)
class Counting:
    """How a counter changes on entry to a step (M14): by `by`, or to `to` where that is given."""

    counter: Counter
    by: int
    to: int | None
    place: Place = field(compare=False)

    def after(self, number: int) -> int:
        """What a counter that stands at `number` stands at then; it stays within its range."""
        new = number + self.by if self.to is None else self.to
        return min(max(new, self.counter.low), self.counter.high)
