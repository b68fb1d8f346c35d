"""Units, and numbers that carry one. Times are whole microseconds; everything else is exact too."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from typing import TypeAlias


class Dimension(Enum):
    """What is measured; units of one dimension convert into each other."""

    TIME = "time"
    LENGTH = "length"
    ANGLE = "angle"
    SHARE = "share"
    VOLTAGE = "voltage"
    TICKS = "encoder ticks"
    TURNING = "turning speed"
    SPEED = "speed"
    TICK_RATE = "tick rate"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: how it is written, what it measures, and its size in the dimension's first unit."""

    name: str
    dimension: Dimension
    size: Fraction


def _unit(name: str, dimension: Dimension, size: str) -> Unit:
    return Unit(name, dimension, Fraction(size))


# The inch is 25.4 mm exactly (international yard and pound agreement of 1959, from memory).
# Time counts in microseconds, so that a clock never holds a rounded number.
_ALL = (
    _unit("us", Dimension.TIME, "1"),
    _unit("ms", Dimension.TIME, "1000"),
    _unit("s", Dimension.TIME, "1000000"),
    _unit("mm", Dimension.LENGTH, "1"),
    _unit("cm", Dimension.LENGTH, "10"),
    _unit("m", Dimension.LENGTH, "1000"),
    _unit("in", Dimension.LENGTH, "25.4"),
    _unit("ft", Dimension.LENGTH, "304.8"),
    _unit("deg", Dimension.ANGLE, "1"),
    _unit("turns", Dimension.ANGLE, "360"),
    _unit("%", Dimension.SHARE, "1"),
    _unit("V", Dimension.VOLTAGE, "1"),
    _unit("mV", Dimension.VOLTAGE, "0.001"),
    _unit("ticks", Dimension.TICKS, "1"),
    _unit("deg/s", Dimension.TURNING, "1"),
    _unit("rpm", Dimension.TURNING, "6"),
    _unit("mm/s", Dimension.SPEED, "1"),
    _unit("cm/s", Dimension.SPEED, "10"),
    _unit("m/s", Dimension.SPEED, "1000"),
    _unit("in/s", Dimension.SPEED, "25.4"),
    _unit("ft/s", Dimension.SPEED, "304.8"),
    _unit("ticks/s", Dimension.TICK_RATE, "1"),
)
UNITS: Mapping[str, Unit] = {unit.name: unit for unit in _ALL}


def units_of(dimension: Dimension) -> tuple[str, ...]:
    """The names of the units that measure `dimension`, in the order of the table above."""
    return tuple(unit.name for unit in _ALL if unit.dimension is dimension)


Shares: TypeAlias = tuple[tuple[str, Fraction], ...]
"""Settings whose value goes by a choice, and ranges, by name, each times a factor: what they come
to in a variant is a part of a number, and the rest of it is the same in all variants."""


def scaled(shares: Shares, factor: Fraction) -> Shares:
    """The same of a number that is so many times as large."""
    return tuple((name, share * factor) for name, share in shares if factor)


def added(one: Shares, other: Shares) -> Shares:
    """The same of a sum."""
    total: dict[str, Fraction] = {}
    for name, share in (*one, *other):
        total[name] = total.get(name, Fraction(0)) + share
    return tuple((name, share) for name, share in total.items() if share)


@dataclass(frozen=True, slots=True)
class Amount:
    """An exact number with its unit, and the setting it came from if it had a name."""

    number: Fraction
    unit: Unit
    setting: str = field(default="", compare=False)
    setting_negated: bool = field(default=False, compare=False)
    """Whether the plan wrote a minus sign before the setting's name."""
    chosen: Shares = field(default=(), compare=False)
    """How much of it goes by what is chosen before the start; empty where nothing does."""

    @property
    def base(self) -> Fraction:
        """The number in the first unit of its dimension."""
        return self.number * self.unit.size

    @property
    def dimension(self) -> Dimension:
        """What it measures."""
        return self.unit.dimension

    def in_unit(self, unit: Unit) -> Fraction:
        """The number in another unit of the same dimension."""
        assert unit.dimension is self.dimension, f"{self} has no {unit.name}"
        return self.base / unit.size

    @classmethod
    def zero(cls, unit: Unit) -> Amount:
        """Nothing, in a unit."""
        return cls(Fraction(0), unit)

    def negated(self) -> Amount:
        """The same amount with the other sign."""
        chosen = scaled(self.chosen, Fraction(-1))
        return Amount(-self.number, self.unit, self.setting, not self.setting_negated, chosen)

    @property
    def written(self) -> str:
        """As the plan wrote it: the setting's name, or the number and its unit."""
        if not self.setting:
            return str(self)
        return f"-{self.setting}" if self.setting_negated else self.setting

    def __str__(self) -> str:
        return f"{decimal_text(self.number)} {self.unit.name}"


def decimal_text(number: Fraction) -> str:
    """The shortest decimal that is the number, or six digits of it where no decimal is."""
    scaled, places = number, 0
    while scaled.denominator % 2 == 0 or scaled.denominator % 5 == 0:
        scaled, places = scaled * 10, places + 1
    if scaled.denominator != 1:
        return f"{Decimal(number.numerator) / Decimal(number.denominator):.6g}"
    # Not by way of a float: that would round 30.000001 s, and overflow at 400 digits.
    sign, digits = "-" * (number < 0), str(abs(scaled.numerator)).rjust(places + 1, "0")
    whole = len(digits) - places
    return f"{sign}{digits[:whole]}.{digits[whole:]}" if places else f"{sign}{digits}"


def seconds_text(microseconds: int) -> str:
    """A time for reading: ``2.5 s``."""
    return f"{decimal_text(Fraction(microseconds, 1_000_000))} s"
