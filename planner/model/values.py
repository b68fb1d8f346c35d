"""Numbers as written to amounts, with their units checked."""

from __future__ import annotations

from fractions import Fraction

from planner.findings import nearest
from planner.model.ledger import Ledger
from planner.model.memory import Number
from planner.model.robot import Bounds
from planner.model.units import UNITS, Amount, Dimension, Unit, units_of
from planner.text import Place
from planner.tree import nodes as n

LONGEST_US = 3_600_000_000
"""The longest time that a plan can speak of, an hour; no match lasts so long."""


def unit_named(ledger: Ledger, name: n.Name) -> Unit | None:
    """The unit of that name, or None and a slip."""
    if name.text in UNITS:
        return UNITS[name.text]
    ledger.add("unknown-unit", name.place, name.text, known=UNITS)
    return None


def plain_amount(
    ledger: Ledger, quantity: n.Quantity, dimension: Dimension | None, whose: str
) -> Amount | None:
    """The amount of a number with its unit; None and a slip where they do not fit `dimension`.

    `whose` says in words what the number is for, such as "`drive travelled`".
    """
    if quantity.unit is None:
        units = units_of(dimension) if dimension else tuple(UNITS)
        ledger.add("number-without-unit", quantity.place, quantity.number, known=units, whose=whose)
        return None
    unit = UNITS.get(quantity.unit)
    if unit is None:
        near = nearest(quantity.unit, UNITS)
        ledger.add("unknown-unit", quantity.place, quantity.unit, known=near or UNITS)
        return None
    amount = Amount(Fraction(quantity.number), unit)
    return amount if fits(ledger, amount, dimension, whose, quantity.place) else None


def fits(
    ledger: Ledger, amount: Number, dimension: Dimension | None, whose: str, place: Place
) -> bool:
    """Whether an amount measures what is asked for; if not, a slip."""
    if dimension is None or amount.dimension is dimension:
        return True
    ledger.add(
        "wrong-unit",
        place,
        amount.written,
        known=units_of(dimension),
        whose=whose,
        wanted=dimension.value,
        got=amount.dimension.value,
        unit=amount.unit.name,
    )
    return False


def time_us(ledger: Ledger, amount: Amount | None, place: Place, least: int = 0) -> int | None:
    """A time in whole microseconds, at least `least`; None and a slip where it is none."""
    if amount is None:
        return None
    if amount.base.denominator != 1:
        ledger.add("wrong-time", place, amount.written, why="finer than a microsecond")
        return None
    if amount.base < least:
        why = "before the start" if amount.base < 0 else "no time at all"
        ledger.add("wrong-time", place, amount.written, why=why)
        return None
    if amount.base > LONGEST_US:
        ledger.add("wrong-time", place, amount.written, why="longer than an hour")
        return None
    return int(amount.base)


def bounds_of(
    ledger: Ledger, span: n.Span, dimension: Dimension | None, whose: str
) -> Bounds | None:
    """The bounds of a span; None and a slip where its numbers do not fit or run backwards."""
    low = plain_amount(ledger, span.low, dimension, whose)
    high = plain_amount(ledger, span.high, dimension, whose)
    if low is None or high is None:
        return None
    place = span.low.place.through(span.high.place)
    if not fits(ledger, high, low.dimension, whose, span.high.place):
        return None
    if low.base > high.base:
        ledger.add("span-backwards", place, place.words, low=str(low), high=str(high))
        return None
    return Bounds(low, high)
